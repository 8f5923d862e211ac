"""The acts offered now, as boxes for a finger, a mouse, or to read the key from."""

from __future__ import annotations

from collections.abc import Mapping

from textual.reactive import reactive

from session.bench.widgets.touch_row import TouchRow, box_width
from session.desk.key_names import shown
from session.pictures.ascii_signs import drawn
from session.sentences.offers import Act, Offer


class TouchBar(TouchRow):
    """A box for each offer that fits; one that is touched says the act's name."""

    offers: reactive[tuple[Offer, ...]] = reactive((), layout=False)

    def __init__(self, keymap: Mapping[Act, tuple[str, ...]]) -> None:
        super().__init__()
        self._keymap = keymap

    def fitting(self) -> tuple[tuple[str, str, str], ...]:
        """Each offer that fits, with the key shown on it.

        Help is always kept; words are shortened before a box is left away, and what does not fit is still a key, and
        help lists it.
        """
        found: list[tuple[str, str, str]] = []
        room = self.size.width
        for offer, word in zip(self.offers, self._words(room), strict=True):
            key = self._shown(offer)
            width = box_width(key, word)
            reserve = 0 if offer.act is Act.HELP else box_width(self._key(Act.HELP), "help")
            if width <= room - reserve:
                found.append((f"{offer.act}#{offer.digit}" if offer.digit else str(offer.act), key, word))
                room -= width
        return tuple(found)

    def _words(self, room: int) -> list[str]:
        """The word of each offer: shorter ones, the first offered first, until all but the far view have room."""
        words = [offer.word for offer in self.offers]
        wanted = [place for place, offer in enumerate(self.offers) if offer.act is not Act.FAR]
        for place, offer in enumerate(self.offers):
            if sum(box_width(self._shown(self.offers[one]), words[one]) for one in wanted) <= room:
                break
            words[place] = offer.word if offer.short is None else offer.short
        return words

    def _shown(self, offer: Offer) -> str:
        return self._digits(offer) if offer.act is Act.STROKES else self._key(offer.act)

    def _digits(self, offer: Offer) -> str:
        if offer.digit > 0:
            return str(offer.digit)
        dash = "-" if self.in_ascii else "–"
        return f"0{dash}5" if offer.word == "grade" else f"1{dash}{offer.most}"

    def _key(self, act: Act) -> str:
        keys = self._keymap.get(act, ())
        return drawn(shown(keys[0]), ascii_only=self.in_ascii) if keys else "-"
