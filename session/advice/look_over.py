"""The advice of the look over: what was seen, from the marks, and what follows from it stage by stage."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from session.advice.decision import decide
from session.advice.plausibility import doubts
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.stops import Advised
from session.advice.work import Piece, What
from session.texts.wording import fine
from session.trade.observation import Look
from session.trade.rounding import whole_number
from session.trade.saw import Saw
from session.value_class import dataclass, replace
from session.walk.seen_marks import ASKED_AS, SeenAnswer, seen_in
from session.walk.stages import Stage, facts_of
from session.walk.state import State

#: The stage in which each kind of work is done; what is missing here is done beside the vise, before or after.
STAGE_OF: Final[Mapping[What, Stage]] = {
    What.LEVEL: Stage.LEVEL,
    What.RESHAPE: Stage.RESHAPE,
    What.LEVEL_AGAIN: Stage.RESHAPE,
    What.SET: Stage.SET,
    What.TOUCH_UP: Stage.FILE,
    What.FILE: Stage.FILE,
    What.STONE_BOTH: Stage.DRESS,
    What.DRESS: Stage.DRESS,
}

#: The side that is stoned alone: with the handle on the right (side 1) the face that is on the right when sawing is up.
STONED: Final[Mapping[What, int]] = {What.STONE_RIGHT: 1, What.STONE_LEFT: 2}


def side_to_stone(work: Iterable[Piece], state: State) -> int:
    """The side, 1 or 2, whose one pass of the stone ``work`` has and nobody has added yet; 0 for none."""
    side = next((STONED[one.what] for one in work if one.what in STONED), 0)
    return 0 if any(one.stage is Stage.DRESS and one.side == side for one in state.added) else side


@dataclass(frozen=True, slots=True)
class Counsel:
    """Advice on one stage.

    take_in: whether it belongs in today's plan. why: one or two short sentences. source: in the short names of
    session.texts.sources.
    """

    stage: Stage
    take_in: bool
    why: str
    source: str


def judged(state: State, saw: Saw, records: SawRecords = NO_HISTORY) -> Advised:
    """What the saw needs by the looks taken so far. ``saw`` may have the points counted since."""
    recipe = saw if saw.points == state.first.points else replace(saw, points=state.first.points)
    return decide(recipe, seen_in(state.measured), records)


def advice(state: State, saw: Saw, records: SawRecords = NO_HISTORY) -> tuple[Counsel, ...]:
    """The advice on each stage that can be left out, in working order."""
    advised = judged(state, saw, records)
    return tuple(_counsel(stage, advised, saw) for stage in state.plan.order if facts_of(stage).optional)


def stages_of(work: tuple[Piece, ...]) -> frozenset[Stage]:
    """The stages that ``work`` is done in, the proof among them when there is anything to prove."""
    stages = {STAGE_OF[one.what] for one in work if one.what in STAGE_OF}
    proved = stages or any(one.what not in _UNPROVED for one in work)
    return frozenset(stages | {Stage.PROVE} if proved else stages)


def neighbors(advised: Advised) -> tuple[tuple[str, tuple[Piece, ...]], ...]:
    """The choices beside the advised one by their names, less first; no work at all is none of them."""
    beside = (("less", advised.less), ("more", advised.more))
    return tuple((name, work) for name, work in beside if any(one.what is not What.NOTHING for one in work))


def doubt_of(answers: Iterable[SeenAnswer], saw: Saw) -> str | None:
    """Why one of ``answers`` cannot be, with what is expected in its place; None when all can."""
    told: dict[str, SeenAnswer] = {answer.what: answer for answer in answers}
    for doubt in doubts(saw, seen_in(told)):
        if ASKED_AS.get(doubt.look) not in told:
            # What these answers say of another look shows only beside all that was seen.
            continue
        beside = f"; expected: {doubt.expected}" if doubt.expected else ""
        return f"{doubt.seen}: {doubt.why}{beside}"
    return None


def told(one: Piece, unit: str) -> str:
    """A piece of work in one line: what, why, who says so and what it costs."""
    cost = [] if one.steel_mm is None else [f"{fine(one.steel_mm, unit)} of steel"]
    cost += [f"about {whole_number(one.minutes)} min"] if one.minutes is not None and one.minutes >= 1 else []
    return f"{one.what}: {one.reason} ({one.source.replace(';', ',')}){' – ' + ', '.join(cost) if cost else ''}"


def named(work: tuple[Piece, ...]) -> str:
    """The kinds of work in a row: "level, file, dress"."""
    return ", ".join(str(one.what) for one in work)


#: Work after which nothing is there to prove.
_UNPROVED: Final = frozenset({What.NOTHING, What.OUT_OF_USE, What.RETOOTH, What.MEND_RECIPE})


def _counsel(stage: Stage, advised: Advised, saw: Saw) -> Counsel:
    take_in = stage in stages_of(advised.work)
    if stage is Stage.PROVE and not advised.stop and Look.LAST_CUT in advised.looks and not advised.doubts:
        # Where nobody has cut with it, a trial cut settles it.
        take_in = True
    pieces = [one for one in advised.work if STAGE_OF.get(one.what) is stage]
    if pieces:
        return Counsel(stage, take_in, pieces[0].reason, pieces[0].source)
    if advised.stop:
        first = advised.work[0]
        return Counsel(stage, False, first.reason, first.source)
    if stage is Stage.PROVE:
        why = (
            "A trial cut proves the work and is next time's measure." if take_in else "There is nothing to prove today."
        )
        return Counsel(stage, take_in, why, "FSMAN")
    if stage is Stage.DRESS and What.TOUCH_UP in advised.whats:
        return Counsel(stage, False, "A touch up leaves little burr; dress for a finer cut.", "judgment; ROSS; KING")
    why, source = _OUT[stage]
    return Counsel(stage, False, why, source)


#: Why a stage is out when nothing that was seen asks for it.
_OUT: Final[Mapping[Stage, tuple[str, str]]] = {
    Stage.LEVEL: ("Nothing seen asks for it; no more is taken off the points than is needed.", "GOR p. 150"),
    Stage.RESHAPE: ("The flats tell after leveling. It costs the most steel.", "FIT; GOR p. 150"),
    Stage.SET: ("Nothing seen says that it is due; no more set than frees the blade.", "GRIF; FSMAN; RECIPE"),
    Stage.FILE: ("Nothing seen asks for a file.", "FIT; GOR p. 150"),
    Stage.DRESS: ("Nothing was filed, so there is no burr.", "ROSS; KING"),
}
