"""The plan as it is answered at the look over: stages taken in or out, the advice taken, the plan settled."""

from __future__ import annotations

from typing import Final

from session.advice.look_over import Counsel, named, neighbors, side_to_stone, stages_of
from session.advice.stops import Advised
from session.advice.untouched_plan import asked_by_recipe, own_plan, shown_plan, waits_for_yes
from session.advice.work import BY_HAND, FREE, WITHOUT_A_SCREEN, Piece, What
from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.walk import acts
from session.walk.measurables import NOTHING_NEEDED, Measurable
from session.walk.stages import Stage, facts_of
from session.walk.state import State


class PlanAnswers:
    """Answers the plan through one `MarkWriter`.

    The marks of one answer name the first of them, so that one take-back takes all of them back.
    """

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making

    def decide(self, stage: Stage, take_in: bool, reason: str, *, first: int = 0) -> Reply:
        """Take a stage into the plan or out of it; leveling and reshaping bring the filing of their flats.

        first: the seq of the first mark of the answer that this belongs to; 0 where it is an answer of its own.
        """
        making = self._making
        marks = [acts.decide(making.state, making.at(), stage, take_in, reason)]
        brings = take_in and stage in (Stage.LEVEL, Stage.RESHAPE) and may_file(making.state)
        if brings:
            marks.append(acts.decide(making.state, making.at(), Stage.FILE, True, f"the flats of: {stage}"))
        filed = f", and {Stage.FILE} for its flats" if brings else ""
        told = f"{stage}: {'in' if take_in else 'out'}{filed}."
        marks = [*acts.numbered(marks, making.state.next_seq)]
        return making.make_all((acts.of_answer(mark, first or marks[0].seq) for mark in marks), told)

    def choose(self, digit: int, advised: Advised, against: tuple[Counsel, ...]) -> Reply:
        """Row ``digit`` of the plan, one of those that are there: a stage, then less and more than ``advised``, then
        all that the recipe asks.

        A stage is moved against what its row shows: as long as nobody decided otherwise that is the advice, which is
        taken for all other stages by the same answer.
        """
        state = self._making.state
        stages = [stage for stage in state.plan.order if facts_of(stage).optional]
        if digit > len(stages):
            beside = neighbors(advised)
            if digit > len(stages) + len(beside):
                wanted = asked_by_recipe(state, against)
                return self._hold(frozenset(wanted), "by the recipe, chosen at the look over", ", ".join(wanted))
            name, work = beside[digit - len(stages) - 1]
            return self._take(work, f"{name}, chosen at the look over")
        stage = stages[digit - 1]
        take_in, first = stage not in shown_plan(state, against), state.next_seq
        if not own_plan(state):
            rest = tuple(one for one in against if one.stage is not stage)
            # Whoever moves the dressing of both sides says what becomes of either.
            reply = self._follow(() if stage is Stage.DRESS else advised.work, rest)
            if reply is not None and reply.refused:
                return reply
        return self.decide(stage, take_in, "at the look over", first=first)

    def as_advised(self, advised: Advised, against: tuple[Counsel, ...]) -> Reply:
        """Take the advice: one decision for each stage on which the plan differs."""
        reply = self._follow(advised.work, against)
        if reply is None or reply.refused:
            return reply or Reply(_ALREADY)
        changed = ", ".join(f"{one.stage} {'in' if one.take_in else 'out'}" for one in against)
        return Reply(f"As advised: {changed or named(advised.work)}.")

    def _follow(self, work: tuple[Piece, ...], against: tuple[Counsel, ...]) -> Reply | None:
        """Decide as ``against`` advises, with the stone of ``work``: one answer; None when there is nothing to do."""
        first = self._making.state.next_seq
        # First of all: what is added names no mark but one that added something too.
        reply = self._stone_one_side(work)
        if reply is not None and reply.refused:
            return reply
        for one in against:
            if (one.stage in self._making.state.taken_in) == one.take_in:
                continue
            reply = self.decide(one.stage, one.take_in, one.why, first=first)
            if reply.refused:
                return reply
        return reply

    def _take(self, work: tuple[Piece, ...], reason: str) -> Reply:
        """Take ``work`` and nothing else into the plan."""
        first, stoned = self._making.state.next_seq, self._stone_one_side(work)
        if stoned is not None and stoned.refused:
            return stoned
        return self._hold(stages_of(work), reason, named(work), first=first)

    def _hold(self, wanted: frozenset[Stage], reason: str, told: str, *, first: int = 0) -> Reply:
        """Let the plan hold the ``wanted`` stages and no others, ``told`` in words; first as in `decide`."""
        making = self._making
        first = first or making.state.next_seq
        for stage in making.state.plan.order:
            if facts_of(stage).optional and (stage in wanted) != (stage in making.state.taken_in):
                reply = self.decide(stage, stage in wanted, reason, first=first)
                if reply.refused:
                    return reply
        if not own_plan(making.state):
            # It stood so already: that it is chosen is a decision all the same, or going on would take the advice.
            stays = next(stage for stage in making.state.plan.order if facts_of(stage).optional)
            reply = self.decide(stays, stays in wanted, reason, first=first)
            if reply.refused:
                return reply
        return Reply(f"Chosen: {told}.")

    def _stone_one_side(self, work: tuple[Piece, ...]) -> Reply | None:
        """Add the pass of the stone that ``work`` has for one side alone; None when it has none, or it is added."""
        making, side = self._making, side_to_stone(work, self._making.state)
        if not side:
            return None
        marks = acts.add_work(making.state, making.at(), Stage.DRESS, side=side, reason=named(work))
        return making.make_all(marks, f"Added: {Stage.DRESS}, side {side}.")

    def settle(self, advised: Advised, against: tuple[Counsel, ...]) -> Reply:
        """The plan is as it shall be: record what was advised and what is taken up, then the step as done.

        As long as nobody decided otherwise the advice is taken first, so that no more steel is taken than is advised;
        where no steel is to be taken at all and the plan takes some, that waits for a yes.
        """
        making, state = self._making, self._making.state
        if waits_for_yes(state, advised, against):
            word = "Stop" if advised.stop else "Advised"
            return Reply(f"{word}: {named(advised.work)}. Yes takes that; else change a stage first.", refused=True)
        first, note = state.next_seq, "The plan"
        if not own_plan(state) and (against or side_to_stone(advised.work, state)):
            reply = self.as_advised(advised, against)
            if reply.refused:
                return reply
            note = "Taken as advised"
        taken = [str(stage) for stage in making.state.plan.order if _of_work(making.state, stage)]
        by_hand = [str(one.what) for one in advised.work if one.what in BY_HAND]
        beside = f"; {WITHOUT_A_SCREEN}{', '.join(by_hand)}" if by_hand else ""
        chosen = ", ".join(taken) + beside if taken else _nothing(advised)
        for what, text in ((Measurable.ADVISED, named(advised.work)), (Measurable.CHOSEN, chosen)):
            told = acts.measure(making.state, making.at(), what, text, entered=text)
            reply = making.make(acts.of_answer(told, first))
            if reply.refused:
                return reply
        done = acts.done(making.state, making.at())
        return making.make(acts.of_answer(done, first), note=f"{note}: {chosen}.")


def may_file(state: State) -> bool:
    """Whether filing is out of the plan and may still be taken in."""
    order = state.plan.order
    return Stage.FILE in order and Stage.FILE not in state.taken_in and not state.tally.begun(Stage.FILE)


_ALREADY: Final = "The plan is as advised already."


def _of_work(state: State, stage: Stage) -> bool:
    """Whether ``stage`` works on the saw today."""
    added = any(one.stage is stage for one in state.added)
    return facts_of(stage).optional and stage is not Stage.PROVE and (stage in state.taken_in or added)


def _nothing(advised: Advised) -> str:
    """What is recorded of a look over after which no stage works on the saw."""
    others = [str(one.what) for one in advised.work if one.what in FREE and one.what is not What.NOTHING]
    if advised.stop:
        others = [named(advised.work)]
    return f"looked over: {', '.join(others)}" if others else NOTHING_NEEDED
