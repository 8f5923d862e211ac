"""A set that was measured after setting or dressing: what its width says, and what can be done about a wrong one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.advice.set_advice import SetTold, WrongSet, set_told
from session.advice.stone_passes import over_now_mm, passes_down, passes_words, stoned_since
from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.desk.plan_answers import PlanAnswers
from session.texts.steps import step
from session.texts.wording import times
from session.walk import acts
from session.walk.measurables import length_mm
from session.walk.stages import MEASURE_STEP, Stage

#: What can be done about a set that was measured as too much or too little.
MEASURE_AGAIN: Final = "Measure again, at another place."
SET_AGAIN: Final = "Set once more, each tooth as it leans, and measure it."
STONE_LATER: Final = "Stone it down in dressing; it is measured again there."
LEAVE_SET: Final = "Leave the set as it is."


def stone_again(passes: int) -> str:
    """That both sides are stoned by so many more passes, 1 or more."""
    return f"Stone both sides {'once' if passes == 1 else times(passes, 'pass')} more, lightly, and measure it."


class SetAnswers:
    """Answers a measured set through one `MarkWriter`, and through the answers to the plan."""

    def __init__(self, making: MarkWriter, plan: PlanAnswers) -> None:
        self._making: Final = making
        self._plan: Final = plan

    def measured(self) -> SetTold | None:
        """What the width says that was measured at the step in hand, after setting or dressing; None elsewhere."""
        wide = self._width_mm()
        return None if wide is None else set_told(self._making.sitting.saw, wide)

    def _width_mm(self) -> float | None:
        state = self._making.state
        place = state.place
        if place is None or place.step != MEASURE_STEP or (asks := step(place.stage, place.step).asks) is None:
            return None
        over = state.measured.get(asks.what)
        return None if over is None else length_mm(over.value, over.unit)

    def to_stone(self) -> tuple[int, str]:
        """How many more passes a side an over-full set is to be given here, and what that rests on, in words; 0 and
        empty where it is not, or is stoned only later."""
        making, told, wide = self._making, self.measured(), self._width_mm()
        place = making.state.place
        if told is None or told.wrong is not WrongSet.OVER or wide is None or place is None:
            return 0, ""
        if place.stage is not Stage.DRESS and Stage.DRESS in making.state.plan.order:
            return 0, ""
        saw = making.sitting.saw
        over, stoned = over_now_mm(saw, wide), stoned_since(making.state, saw)
        return passes_down(over, stoned), passes_words(saw, over, stoned)

    def ways(self) -> dict[str, Callable[[], Reply]]:
        """What can be done about a set that was measured as too much or too little, each in words; () where none is."""
        place, told = self._making.state.place, self.measured()
        if place is None or told is None or told.wrong is None:
            return {}
        found: dict[str, Callable[[], Reply]] = {MEASURE_AGAIN: lambda: Reply("Measure again; the step waits.")}
        if told.wrong is WrongSet.UNDER:
            found[SET_AGAIN] = lambda: self._mended(Stage.SET, SET_AGAIN)
        elif passes := self.to_stone()[0]:
            again = stone_again(passes)
            found[again] = lambda: self._mended(Stage.DRESS, again, passes)
        else:
            found[STONE_LATER] = self._stone_later
        found[LEAVE_SET] = self._leave_set
        return found

    def _mended(self, stage: Stage, reason: str, passes: int = 1) -> Reply:
        """Add ``stage`` once more, of so many passes: right after the step in hand where it is that stage's own."""
        making = self._making
        place = making.state.place
        at_once = place is not None and place.stage is stage
        reply = making.make(acts.add(making.state, making.at(), stage, passes=passes, at_once=at_once, reason=reason))
        return reply if reply.refused else making.make(acts.done(making.state, making.at()), note=reason)

    def _stone_later(self) -> Reply:
        """The stone belongs to the dressing that comes, which is taken in where it was left out."""
        making = self._making
        if (
            Stage.DRESS not in making.state.taken_in
            and (reply := self._plan.decide(Stage.DRESS, True, STONE_LATER)).refused
        ):
            return reply
        return making.make(acts.done(making.state, making.at()), note=STONE_LATER)

    def _leave_set(self) -> Reply:
        return self._making.make(acts.done(self._making.state, self._making.at(), reason=LEAVE_SET), note=LEAVE_SET)
