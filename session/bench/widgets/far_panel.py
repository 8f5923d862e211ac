"""The far view on the bench: shown in place of number and panel while work goes on tooth by tooth or pass by pass."""

from __future__ import annotations

from functools import partial
from typing import Final

from textual import events
from textual.message import Message

from session.bench.widgets.drawing import Drawing
from session.pictures.far_view import far_rows
from session.sentences.glance import Glance, glance
from session.sentences.moment import Moment
from session.sentences.offers import Act, Offer

#: Rows of a window from which on the far view leaves room to the touch bar and the whole strip.
ROOMY: Final = 30


class FarPanel(Drawing):
    """Remembers for one sitting whether the far view is wanted; gives way to whatever is asked, and comes back."""

    class Touched(Message):
        """It was touched or clicked."""

    def __init__(self, *, ascii_only: bool = False) -> None:
        super().__init__(id="far")
        self._ascii = ascii_only
        self.wanted = False
        self._told: Glance | None = None
        self._handle = "right"

    def turn(self) -> str:
        """Want it, or no longer; what there is to say of that."""
        self.wanted = not self.wanted
        if not self.wanted:
            return "Near view."
        return "Far view while work goes on; the same key leads back."

    def offers(self, offered: tuple[Offer, ...]) -> tuple[Offer, ...]:
        """What is offered, with the word that leads back while the far view is wanted."""
        return tuple(Offer(Act.FAR, "near view") if one.act is Act.FAR and self.wanted else one for one in offered)

    def tell(self, moment: Moment, fault: str, left_s: int | None) -> bool:
        """Draw this moment where there is something to read from afar; whether it is shown."""
        self._told = glance(moment) if self.wanted and not fault else None
        self._handle = moment.said.handle
        self.count(left_s)
        return self._told is not None

    def count(self, left_s: int | None) -> None:
        """Draw it with the seconds left of a countdown, None while none runs."""
        if self._told is not None:
            self.draw(partial(far_rows, self._told, self._handle, ascii=self._ascii, left_s=left_s))

    def on_click(self, event: events.Click) -> None:
        """Say that it was touched."""
        event.stop()
        self.post_message(self.Touched())
