"""The bench card: one page with a saw's numbers, the order of work and a box to tick for each part of it.

The paper twin of the bench: its words are those that the screen has, its boxes the places that the plan has.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from session.advice.sourced_figure import Figure
from session.advice.stage_list import PlannedStage
from session.prints.drawn_shapes import Ink, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.sheet_draft import SheetDraft
from session.sentences.instruction import GulletWork, anvil_words, bend_words, gullet_words, pass_words
from session.texts.cautions import caution
from session.texts.guidance import words
from session.texts.page_words import page_words
from session.texts.steps import step
from session.trade.lengths import Length
from session.trade.saw import Saw
from session.value_class import dataclass
from session.walk.place import Place
from session.walk.route import Leg, route
from session.walk.stages import FACTS, Kind, Stage, StageFacts
from session.walk.work_plan import Plan

#: The numbers on the card, by their keys; of a progressive line some are told zone by zone below them.
NUMBERS: Final = (
    "pitch_mm",
    "points",
    "rake_block_deg",
    "rake_plate_deg",
    "fleam_deg",
    "slope_deg",
    "depth_mm",
    "file_face_outer_minimum_mm",
    "file_face_advised_mm",
    "plate_mm",
    "set_per_side_mm",
    "kerf_mm",
    "strokes_per_gullet",
    "teeth_held",
)

#: Sizes of letters that are tried, in mm, the largest first, until all stands on one page.
_SIZES: Final = (3.3, 3.15, 3.0, 2.85, 2.7, 2.55, 2.4, 2.1, 1.8)

#: Boxes for passes beyond the planned ones: more are often wanted.
_SPARE_PASSES: Final = 2

#: What is ticked where the saw is turned, and where guides are turned with it.
_TURNED: Final = {False: "turn the saw", True: "turn the saw and the guides"}

#: What is written down by hand, row by row.
_BLANKS: Final = (
    ("Date", "File and corner", "Strokes a gullet"),
    ("Over the points, before", "after", "Trial cut"),
    ("Left out, and why",),
)

#: Teeth that are named of a row that goes on.
_NAMED: Final = 3


@dataclass(frozen=True, slots=True)
class CardMatter:
    """What a card tells beside the saw. figures: of which NUMBERS are taken; staged: the plan's stages in their order;
    plan: with their places."""

    figures: tuple[Figure, ...]
    staged: tuple[PlannedStage, ...]
    plan: Plan


def bench_card(saw: Saw, matter: CardMatter, stock: PaperStock) -> list[PageSheet]:
    """The page."""
    known = {figure.key: figure for figure in matter.figures}
    for size in _SIZES:
        draft = _card(saw, known, matter.plan, matter.staged, stock, size)
        if draft.y <= draft.foot - 4.0:
            break
    return [draft.done()]


def _card(
    saw: Saw,
    known: Mapping[str, Figure],
    plan: Plan,
    staged: Sequence[PlannedStage],
    stock: PaperStock,
    size: float,
) -> SheetDraft:
    said = page_words("bench card")
    line = dict.fromkeys((saw.kind, str(saw.cut), saw.count_as, str(saw.toothed_length)))
    draft = SheetDraft(stock, f"{said.title}: {saw.name}", ", ".join(line))
    _numbers(draft, saw, known, size)
    legs = route(plan, plan.taken_in, ()).legs
    told = known["strokes_per_gullet"].value
    strokes = None if told is None else int(told)
    taken = [one for one in staged if one.taken_in]
    names = dict.fromkeys(name for one in taken for name in FACTS[one.stage].cautions)
    draft.y += 1.0
    draft.words(f"In effect: {' · '.join(caution(name).in_effect for name in names)}.", size=size, bold=True)
    for one in taken:
        _stage(draft, saw, plan, one.stage, [leg for leg in legs if leg.stage is one.stage], strokes, size)
    out = [one for one in staged if not one.taken_in]
    if out:
        draft.y += 0.6 * size
        draft.words(" ".join(f"Not in: {one.stage}. {one.why}" for one in out), size=size)
    draft.y += 0.5 * size
    for row in _BLANKS:
        draft.blanks(row, size)
    return draft


def _numbers(draft: SheetDraft, saw: Saw, known: Mapping[str, Figure], size: float) -> None:
    """Two columns, and below them the zones of a progressive line."""
    shown = [known[key] for key in NUMBERS if key in known and known[key].value is not None]
    half, top = -(-len(shown) // 2), draft.y
    lowest = top
    for column, group in enumerate((shown[:half], shown[half:])):
        draft.y = top
        left = column * (draft.wide / 2 + 3.0)
        for figure in group:
            draft.row(figure.words, figure.shown(saw.unit), size, left, left + draft.wide / 2 - 3.0)
        lowest = max(lowest, draft.y)
    draft.y = lowest
    if saw.zones:
        told = [
            f"teeth {first}–{last}: pitch {Length.of(zone.pitch_mm, saw.unit)}, rake {zone.rake:g}°"
            for first, last, zone in saw.line.stretches()
        ]
        draft.words(f"Zones: {'; '.join(told)}.", size=size)


def _stage(
    draft: SheetDraft, saw: Saw, plan: Plan, stage: Stage, legs: Sequence[Leg], strokes: int | None, size: float
) -> None:
    """A stage: its name, how it is worked and what goes wrong, then its boxes."""
    said, facts = words(stage), FACTS[stage]
    draft.y += 0.7 * size
    draft.add(trace((0.0, draft.y), (draft.wide, draft.y), ink=Ink.FINE))
    draft.words(said.title, size=size * 1.15, bold=True)
    draft.words(f"{said.how} {said.wrong}", size=size, left=5.0)
    if facts.kind is Kind.STEP:
        draft.ticks(_steps(stage, legs), size, left=5.0)
        return
    before, said_last = 0, ""
    for leg in legs:
        if any(place.kind is not Kind.STEP for place in leg.places):
            told = _instruction(saw, stage, leg, strokes, last=leg is _last(legs))
            if told != said_last:
                draft.words(told, size=size, left=5.0)
            said_last = told
            draft.ticks(_worked(plan, facts, leg, turned=before not in (0, leg.side)), size, left=5.0)
            before = leg.side
    draft.ticks(_steps(stage, legs), size, left=5.0)


def _last(legs: Sequence[Leg]) -> Leg:
    return next(leg for leg in reversed(legs) if any(place.kind is not Kind.STEP for place in leg.places))


def _steps(stage: Stage, legs: Sequence[Leg]) -> list[str]:
    return [step(stage, place.step).title for leg in legs for place in leg.places if place.kind is Kind.STEP]


def _instruction(saw: Saw, stage: Stage, leg: Leg, strokes: int | None, *, last: bool) -> str:
    """What the bench says at each place of a leg, before anything was graded."""
    match FACTS[stage].kind:
        case Kind.GULLET:
            return gullet_words(stage, GulletWork(strokes=strokes, half=not last), saw)
        case Kind.TOOTH:
            return f"{bend_words()} {anvil_words(saw)}"
        case _:
            # Which pass of how many stands beside its box.
            return pass_words(stage, 1, 1, saw)


def _worked(plan: Plan, facts: StageFacts, leg: Leg, *, turned: bool) -> list[str]:
    """The boxes of one side: a pass each, or the teeth of each reach."""
    places = [place for place in leg.places if place.kind is not Kind.STEP]
    side = f"side {leg.side}, handle {'right' if leg.side == 1 else 'left'}: " if leg.side else ""
    boxes = [_TURNED[facts.kind is Kind.GULLET]] if turned else []
    if facts.kind is Kind.PASS:
        number = len(places) + (0 if side else _SPARE_PASSES)
        return [*boxes, *(f"{side}pass {n}" for n in range(1, number + 1))]
    what = "gullets" if facts.kind is Kind.GULLET else "teeth"
    if not facts.in_vise:
        return [*boxes, f"{side}{what} {_row(places)}"]
    found: list[str] = []
    for first, last in plan.reaches:
        here = [place for place in places if first <= place.tooth <= last]
        if here:
            found.append(f"{here[0].tooth}–{here[-1].tooth}" if found else f"{side}{what} {_row(here)}")
    return [*boxes, *found]


def _row(places: Sequence[Place]) -> str:
    """The teeth of places that follow one another by the same step: the first few, and the last."""
    teeth = sorted(place.tooth for place in places)
    if len(teeth) <= _NAMED + 1:
        return ", ".join(map(str, teeth))
    return f"{', '.join(map(str, teeth[:_NAMED]))} … {teeth[-1]}"
