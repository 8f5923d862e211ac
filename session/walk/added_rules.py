"""Whether a pass or a stage may be added now, and why not."""

from __future__ import annotations

from typing import Final

from session.walk.added_stages import FIRST_LATER, REST_NOT_SEEN, STRIP_ASIDE
from session.walk.leveling_rounds import leveling_round
from session.walk.mark import Mark
from session.walk.stages import FACTS, Stage, facts_of
from session.walk.state import State

#: The stages that can be added once more, in words.
_AGAIN: Final = " and ".join(", ".join(stage for stage, facts in FACTS.items() if facts.again).rsplit(", ", 1))

#: The most passes that are added at once.
_MOST_PASSES: Final = 20


def why_not_add(state: State, mark: Mark) -> str | None:
    """Why ``mark`` may not add what it says, in one sentence, or None when it may."""
    if mark.stage is None or not facts_of(mark.stage).again:
        return f"passes and stages can be added to {_AGAIN}"
    of_stage = _why_not_level(state, mark) if mark.stage is Stage.LEVEL else _why_not_other(mark, mark.stage)
    return _why_not_grade(state, mark) or of_stage or _why_not_here(state, mark, mark.stage) or _why_not_passes(mark)


def _why_not_grade(state: State, mark: Mark) -> str | None:
    """Of a grading that becomes another from a tooth on."""
    if mark.what == STRIP_ASIDE and not (state.place and state.place.on_strip and mark.tooth == state.place.tooth):
        return "no flat is told against the strip here"
    if mark.what == REST_NOT_SEEN and not _graded_by_eye(state, mark):
        return "no flat is graded by the eye here"
    return None


def _graded_by_eye(state: State, mark: Mark) -> bool:
    """Whether the flat of the mark's tooth is to be graded now, in a line of which no scan tells."""
    here = state.place
    if here is None or here.stage is not Stage.LEVEL or not here.tooth or here.on_strip or here.tooth != mark.tooth:
        return False
    return not state.route.leg_at(state.here)[0].scan


def _why_not_level(state: State, mark: Mark) -> str | None:
    due = leveling_round(state)
    if due < FIRST_LATER and Stage.LEVEL not in state.taken_in:
        return "the stage level is not in the plan; take it in first, then add passes"
    if (mark.round or 1) != due:
        return f"one more pass belongs to leveling {due}, not to leveling {mark.round or 1}"
    return None


def _why_not_other(mark: Mark, stage: Stage) -> str | None:
    return f"there is no round {mark.round} of {stage} to add to" if mark.round not in (None, 1) else None


def _why_not_here(state: State, mark: Mark, stage: Stage) -> str | None:
    """Of what goes with the place in hand, with a side, with a trial cut, or with what was added last."""
    here = state.place
    if mark.step is not None and (here is None or (here.stage, here.step) != (stage, mark.step)):
        return f"the set is not measured after {stage} now, so nothing is added at once"
    if mark.side is not None and (stage is not Stage.DRESS or mark.side not in (1, 2)):
        return f"side {mark.side} cannot be added; allowed: 1 or 2, for dressing one side only"
    if stage is Stage.PROVE and not (state.tally.begun(Stage.PROVE) and Stage.PROVE in state.taken_in):
        return "no trial cut was made yet, so none is made again"
    if mark.of is not None and (not state.added or mark.of != state.added[-1].seq):
        return f"mark {mark.of} is not the last that added something, so nothing goes with it"
    return None


def _why_not_passes(mark: Mark) -> str | None:
    passes, least = mark.value, 0 if mark.stage is Stage.LEVEL else 1
    if passes is None or (isinstance(passes, int) and not isinstance(passes, bool) and least <= passes <= _MOST_PASSES):
        return None
    return f"{passes} passes; allowed: {least} to {_MOST_PASSES}"
