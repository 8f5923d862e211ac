"""A protractor to read rake and fleam off a saw: two fans of rays that meet the tooth line at a cross."""

from __future__ import annotations

from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Spot, Trace, arc, from_plumb, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.sheet_draft import SMALL, WORDS, SheetDraft
from session.texts.page_words import page_words
from session.trade.rounding import half_up
from session.trade.saw import Saw
from session.trade.tooth import LIMITS, teeth_of

#: Radius of the fans, where their rays begin, and how far they stand apart, in mm.
_RADIUS: Final = 78.0
_INNER: Final = 12.0
_APART: Final = 9.0

#: How far right of the cross a fan reaches with its numbers, in mm.
_BESIDE: Final = 64.0

#: Degrees from one ray to the next, and from one number to the next.
_RAY: Final = 5


def protractor_sheets(saw: Saw, stock: PaperStock) -> list[PageSheet]:
    """The page. What this saw's recipe asks for is marked on each fan."""
    said = page_words("protractor")
    draft = SheetDraft(stock, f"{said.title}: {saw.name}")
    cross = (draft.wide - _BESIDE, draft.y + _RADIUS + 7.0)
    fronts = dict.fromkeys(half_up(tooth.front_deg, 1) for tooth in teeth_of(saw))
    _fan(draft, cross, "rake", range(int(LIMITS["rake"][0]), int(LIMITS["rake"][1]) + 1), 0.0, fronts)
    _column(draft, "protractor rake", draft.y + 2.0, cross[0] - 26.0, _plate_and_block(saw))
    edge = cross[1] + _APART
    draft.letter((0.0, edge - 1.5), "cut here for fleam: this edge along the plate", SMALL)
    limit = int(LIMITS["fleam"][1])
    _fan(draft, (cross[0], edge), "fleam", range(-limit, limit + 1), 180.0, dict.fromkeys((saw.fleam, -saw.fleam)))
    _column(draft, "protractor fleam", edge + 2.0, cross[0] - 62.0, f"This saw's recipe: {saw.fleam:g}°, marked.")
    return [draft.done()]


def _plate_and_block(saw: Saw) -> str:
    """What the marks on the fan are: the rake on the plate, which with fleam is another than the block's."""
    told = [
        f"{half_up(tooth.front_deg, 1):g}° on the plate by {tooth.rake:g}° on the guide block"
        for tooth in teeth_of(saw)
    ]
    return f"This saw's recipe, marked: {', '.join(dict.fromkeys(told))}. What is read here is the rake on the plate."


def _column(draft: SheetDraft, name: str, y: float, right: float, own: str) -> None:
    said = page_words(name)
    draft.y = y
    draft.heading(said.title)
    draft.y += 1.0
    draft.numbered(said.how, right=right)
    draft.y += 1.5
    draft.words(own, right=right)


def _fan(draft: SheetDraft, cross: Spot, name: str, degrees: range, around: float, own: dict[float, None]) -> None:
    """Rays and a scale about ``cross``; around: 0 for a fan that opens upward, 180 for one that opens downward."""
    draft.add(trace((0.0, cross[1]), (draft.wide, cross[1]), ink=Ink.FINE, name=f"{name}-line"))
    draft.add(trace((cross[0], cross[1] - 2), (cross[0], cross[1] + 2), ink=Ink.FINE))
    draft.add(arc(cross, _RADIUS, around + degrees[0], around + degrees[-1], Ink.FINE, name=f"{name}-arc"))
    for one in degrees:
        ray = one % _RAY == 0
        begin = _INNER if ray else _RADIUS - (2.0 if one % 10 else 3.5)
        label = f"{name}-{one}" if ray else ""
        ends = from_plumb(cross, around + one, begin), from_plumb(cross, around + one, _RADIUS)
        draft.add(trace(*ends, ink=Ink.LINE if one == 0 else Ink.FINE, name=label))
        if ray:
            at = from_plumb(cross, around + one, _RADIUS + (1.5 if not around else 4.5))
            told = f"−{-one}" if one < 0 and not around else f"{abs(one)}"
            size = WORDS if one >= 0 or around else SMALL
            draft.letter(at, told, size, anchor=Anchor.MIDDLE, turned=one)
    for mark in own:
        tip = from_plumb(cross, around + mark, _RADIUS - 4.0)
        wings = (
            from_plumb(cross, around + mark - 1.2, _RADIUS - 9.0),
            from_plumb(cross, around + mark + 1.2, _RADIUS - 9.0),
        )
        draft.add(Trace((tip, *wings), Ink.SOLID, closed=True))
