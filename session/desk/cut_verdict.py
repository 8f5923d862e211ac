"""How the trial cut went, as the person judges it; what contradicts the cut's own figures is asked once."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import QuestionKind, Reply
from session.desk.mark_writer import MarkWriter
from session.desk.question import Question
from session.texts.wording import off_line
from session.trade.seen_words import Cutting
from session.trade.trial_cut import WANDERS_FROM_MM, leaves_line_mm
from session.walk import acts
from session.walk.mark import Mark
from session.walk.measurables import GOOD, Measurable, length_mm
from session.walk.state import State

#: The two answers, least trouble to the record first: what the figures say, and what the person said.
IT_WANDERS: Final = "It wanders: name what may be the cause."
ALL_THE_SAME: Final = "It is good all the same: the saw was led off the line."


class CutVerdict:
    """Takes the verdict on a cut through one `MarkWriter`."""

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making

    def told(self, chosen: str) -> Reply:
        """How the cut went, by the word that was chosen; a good one that went far off its line is asked about first."""
        if chosen == GOOD and far_off(self._making.state) is not None:
            return Reply("Good, and far off its line: which holds?", opens=QuestionKind.CUT_DOUBT)
        return self.record(chosen)

    def doubt(self) -> Question:
        """The contradiction, with both answers."""
        off = far_off(self._making.state)
        if off is None:
            return Question("Nothing contradicts the cut")
        (entered, per_100), unit = off, self._making.sitting.saw.unit
        return Question(
            "Good, or does it wander?",
            (f"Told: {entered}, {off_line(per_100, unit)}; from {off_line(WANDERS_FROM_MM, unit)} on it wanders.",),
            choices=(IT_WANDERS, ALL_THE_SAME),
            then=lambda text: self.record(GOOD if text == ALL_THE_SAME else str(Cutting.WANDERS)),
        )

    def record(self, chosen: str) -> Reply:
        """Record the verdict: good ends the step, a fault leads to its causes and their remedies."""
        making, first = self._making, self._making.state.next_seq
        mark = acts.measure(making.state, making.at(), Measurable.TRIAL_CUT, chosen, entered=chosen)
        reply = making.make(mark)
        if reply.refused:
            return reply
        good = chosen == GOOD
        note = "Proved: the cut is good." if good else f"Not good yet ({chosen}): choose what to do about it."
        # The cut was made, whatever is done about it: a remedy comes after it, with a cut of its own.
        reply = making.make(acts.of_answer(acts.done(making.state, making.at()), first), note=note)
        if reply.refused:
            return reply
        if not good:
            return Reply(note, opens=QuestionKind.REMEDY)
        needless = acts.spare(making.state, making.at())
        stages = ", ".join(str(one.stage) for one in making.state.added if one.seq in {mark.of for mark in needless})
        return making.make_all(needless, f"{note} Not needed any more: {stages}." if needless else note)


def far_off(state: State) -> tuple[str, float] | None:
    """How far the cut in hand was told to leave its line, as entered and in mm over 100 mm, where that is wandering.

    None where it is less, or was not told of this cut: figures of an earlier one do not count.
    """
    here = state.place
    long, off = (_of_cut(state, what) for what in (Measurable.CUT_LENGTH, Measurable.CUT_WANDER))
    if here is None or long is None or off is None or any((one.round or 1) != here.round for one in (long, off)):
        return None
    length, wander = length_mm(long.value, long.unit), length_mm(off.value, off.unit)
    if not length or wander is None:
        return None
    per_100 = leaves_line_mm(length, wander)
    to = _of_cut(state, Measurable.CUT_WANDER_TO)
    told = f"{off.entered or off.value} in {long.entered or long.value}"
    return (f"{told} to the {to.value}" if to is not None else told, per_100) if per_100 >= WANDERS_FROM_MM else None


def _of_cut(state: State, what: Measurable) -> Mark | None:
    return state.measured.get(what)
