"""Random hands on random small saws: what a person may do at any moment, each act refused or made."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    precondition,
    rule,
)

from random_walks import effect, onward, plans
from session.walk import acts, place_moves
from session.walk.account import ACTS
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.place import Standing, place_of
from session.walk.rules import MOST_STROKES, can_take_back, why_not
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan
from soak_table import tried


class Hands(RuleBasedStateMachine):
    """A person at the bench who may do anything, and a program that lets some of it happen."""

    def __init__(self) -> None:
        super().__init__()
        self.at = datetime(2024, 3, 4, 8, 0, tzinfo=UTC)
        self.undo: list[State] = []  # the state before each act that stands, as taken then: the judge of taking back

    @initialize(plan=plans(), ahead=st.integers(0, 200))
    def begin(self, plan: Plan, ahead: int) -> None:
        """A new sharpening, already gone on with for a while, so that the later stages are met as well."""
        tried()
        self.plan = plan
        self.state = State.start(plan)
        self.go_on(ahead)

    def now(self, seconds: float = 5.0) -> datetime:
        self.at += timedelta(seconds=seconds)
        return self.at

    def put(self, mark: Mark) -> None:
        """Make ``mark`` if the rules let it; else prove that the attempt changed nothing."""
        before, was = self.state, effect(self.state)
        reason = why_not(before, mark)
        assert effect(before) == was, "asking changed something"
        if reason is not None:
            assert reason.strip()
            assert "\n" not in reason
            return
        if mark.did in (Did.DONE, Did.LEFT_OUT):
            place = place_of(mark)
            assert place is not None
            assert before.standing(place) is Standing.IN_HAND, "a place is done once"
        self.state = before.after(mark)
        if mark.did is Did.TOOK_BACK:
            self.judge_taking_back(before, mark)
        elif mark.did is Did.PUT_BACK:
            self.undo.clear()  # an act stands again whose earlier state was used up
        elif mark.did in ACTS:
            self.undo.append(before)

    def judge_taking_back(self, before: State, mark: Mark) -> None:
        """Taking back the last act gives the state before it, moved on by what was made since and is no act.

        Nothing of `State._refold` is used: the earlier state was kept when it was true.
        """
        last = before.last_act
        assert last is not None
        if mark.of != last.seq:
            # A place out of turn: the earlier states are of no use any more; the fold is judged by the invariant.
            self.undo.clear()
            return
        if self.undo:
            judge = self.undo.pop()
            since = [m for m in before.marks if m.seq > last.seq and m.did not in ACTS and m.did is not Did.TOOK_BACK]
            for later in since:
                judge = judge.after(later)
            assert effect(self.state) == effect(judge)

    # -- what the person does ---------------------------------------------------------------------------------

    @rule(steps=st.integers(1, 40))
    def go_on(self, steps: int) -> None:
        """Answer whatever is asked, for a while, so that runs come far."""
        for _ in range(steps):
            if self.state.front.ask is not Ask.END:  # finishing is left to a rule of its own
                for mark in onward(self.state, self.now()):
                    self.put(mark)

    @rule(strokes=st.one_of(st.none(), st.integers(-1, MOST_STROKES + 1)), by=st.sampled_from(["key", "timer"]))
    def done(self, strokes: int | None, by: str) -> None:
        if self.state.place is not None:
            self.put(acts.done(self.state, self.now(), strokes=strokes, by=by))

    @rule(reason=st.sampled_from(["", "  ", "broken", "low tooth"]))
    def leave_out(self, reason: str) -> None:
        if self.state.place is not None:
            self.put(acts.leave_out(self.state, self.now(), reason))

    @rule()
    def flag(self) -> None:
        if self.state.place is not None:
            self.put(acts.flag(self.state, self.now(), "look again"))

    @rule(what=st.sampled_from(["", "flat", "kerf"]), value=st.floats(0, 9))
    def measure(self, what: str, value: float) -> None:
        if self.state.place is not None:
            self.put(acts.measure(self.state, self.now(), what, value, unit="mm"))

    @rule(points=st.integers(0, 45))
    def count_the_line(self, points: int) -> None:
        if self.state.place is not None:
            self.put(acts.measure(self.state, self.now(), Measurable.POINTS, points, unit=IN_THE_LINE))

    @rule(value=st.integers(-1, 5))
    def grade(self, value: int) -> None:
        if self.state.place is not None:
            self.put(acts.grade(self.state, self.now(), value))

    @rule(quarters=st.integers(-5, 5))
    def tell_on_the_strip(self, quarters: int) -> None:
        if self.state.place is not None:
            self.put(acts.place_flat(self.state, self.now(), quarters))

    @rule()
    def lay_the_strip_aside(self) -> None:
        if self.state.place is not None and len(self.state.added) < 6:
            self.put(acts.lay_strip_aside(self.state, self.now()))

    @rule()
    def take_back_last(self) -> None:
        if self.state.last_act is not None:
            self.put(acts.take_back(self.state, self.now()))

    @rule(data=st.data())
    def take_back_some_place(self, data: st.DataObject) -> None:
        may = sorted(can_take_back(self.state))
        if may:
            self.put(acts.take_back(self.state, self.now(), of=data.draw(st.sampled_from(may))))

    @rule(of=st.integers(-1, 60))
    def take_back_anything(self, of: int) -> None:
        if of not in can_take_back(self.state):
            assert why_not(self.state, acts.make(self.state, Did.TOOK_BACK, self.now(), of=of)) is not None

    @rule()
    def pause(self) -> None:
        self.put(acts.pause(self.state, self.now()))

    @rule(after=st.sampled_from(["pause", "restart", "no key"]), seconds=st.floats(-10, 4000))
    def resume(self, after: str, seconds: float) -> None:
        self.put(acts.resume(self.state, self.now(), after=after, seconds=seconds))

    @rule(how=st.sampled_from(["yes", "back", "set"]))
    def confirm(self, how: str) -> None:
        self.put(acts.confirm(self.state, self.now(), how))

    @rule(stage=st.sampled_from(Stage), take_in=st.booleans())
    def decide(self, stage: Stage, take_in: bool) -> None:
        self.put(acts.decide(self.state, self.now(), stage, take_in, "so decided"))

    @precondition(lambda self: len(self.state.added) < 3)
    @rule(stage=st.sampled_from(Stage), side=st.integers(-1, 3), passes=st.integers(-1, 3))
    def add(self, stage: Stage, side: int, passes: int) -> None:
        self.put(acts.add(self.state, self.now(), stage, side=side, passes=passes))

    @precondition(lambda self: len(self.state.added) < 3)
    @rule()
    def grade_on_a_strip(self) -> None:
        self.put(acts.add(self.state, self.now(), Stage.LEVEL, passes=0, strip=True))

    @precondition(lambda self: len(self.state.added) < 3)
    @rule(stage=st.sampled_from(Stage), passes=st.integers(0, 2))
    def add_with_what_it_brings(self, stage: Stage, passes: int) -> None:
        for mark in acts.add_work(self.state, self.now(), stage, passes=passes):
            self.put(mark)

    @rule()
    def spare_what_was_not_begun(self) -> None:
        outcomes, legs = dict(self.state.outcomes), self.state.route.legs
        needless = acts.spare(self.state, self.now())
        if any(why_not(self.state, mark) is not None for mark in needless):
            return
        for mark in needless:
            self.put(mark)
        assert dict(self.state.outcomes) == outcomes, "what was worked stays worked"
        assert bool(needless) is (self.state.route.legs != legs)
        assert not acts.spare(self.state, self.now()), "all that could be spared was"

    @rule()
    def acknowledge(self) -> None:
        self.put(acts.acknowledge(self.state, self.now()))

    @rule(side=st.sampled_from([None, 1, 2, 3]))
    def turn(self, side: int | None) -> None:
        mark = acts.turn(self.state, self.now())
        self.put(mark if side is None else replace(mark, side=side))

    @rule(tooth=st.one_of(st.none(), st.integers(-1, 60)))
    def shift(self, tooth: int | None) -> None:
        if self.state.place is not None:
            mark = acts.shift(self.state, self.now())
            self.put(mark if tooth is None else replace(mark, tooth=tooth))

    @rule(counted=st.integers(1, 40))
    def check(self, counted: int) -> None:
        if self.state.front.place is not None:
            self.put(acts.check(self.state, self.now(), counted))

    @rule(data=st.data())
    def set_place(self, data: st.DataObject) -> None:
        places = self.state.route.places
        near = range(max(0, self.state.here - 6), min(len(places), self.state.here + 7))
        target = places[data.draw(st.sampled_from(near) if near else st.just(0))]
        before = self.state
        done_before = before.standing(target) in (Standing.DONE, Standing.LEFT_OUT)
        ahead = before.route.index[target] > before.here
        try:
            marks = place_moves.moves_to(before, self.now(), target)
        except ValueError:
            return  # all of them or none: nothing was made
        for mark in marks:
            assert why_not(self.state, mark) is None, "all of them, or none"
            self.put(mark)
        if not (ahead and done_before):
            assert self.state.place == target

    @rule()
    def finish(self) -> None:
        self.put(acts.finish(self.state, self.now()))

    @rule(data=st.data(), did=st.sampled_from(Did))
    def attempt_nonsense(self, data: st.DataObject, did: Did) -> None:
        """A mark of random fields: refused, or as harmless as any that is not."""
        if did is Did.ADDED and len(self.state.added) >= 3:
            return
        small = st.one_of(st.none(), st.integers(-1, 45))
        self.put(
            Mark(
                seq=self.state.next_seq + data.draw(st.sampled_from([0, 0, 0, 1, -1])),
                at=self.now(),
                did=did,
                stage=data.draw(st.one_of(st.none(), st.sampled_from(Stage))),
                side=data.draw(small),
                tooth=data.draw(small),
                number=data.draw(small),
                step=data.draw(st.sampled_from([None, "plan", "wipe", "strip"])),
                strokes=data.draw(small),
                reason=data.draw(st.sampled_from([None, "", "so"])),
                value=data.draw(st.sampled_from([None, True, False, 0, 2, 2.5, "two"])),
                what=data.draw(
                    st.sampled_from([None, "", "saw", "eyes", "points", "flat", "on the strip", "strip laid aside"])
                ),
                of=data.draw(small),
                many=data.draw(st.sampled_from([None, "1-2"])),
            )
        )
