"""The walk as a machine: random hands on random small saws, and what holds whatever they do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import settings
from hypothesis.stateful import (
    invariant,
    run_state_machine_as_test,
)

from law_budget import examples
from random_hands import Hands
from random_walks import effect, one_of_each, onward
from session.walk.mark import Did
from session.walk.place import Place, place_of
from session.walk.rules import allowed, why_not
from session.walk.state import State


class Walking(Hands):
    """A person at the bench who may do anything, and what always holds."""

    @invariant()
    def the_fold_step_by_step_is_the_fold_at_once(self) -> None:
        again = State.replay(self.plan, self.state.marks)
        assert effect(again) == effect(self.state)
        assert (again.marks, again.taken) == (self.state.marks, self.state.taken)

    @invariant()
    def what_was_taken_back_might_as_well_never_have_been(self) -> None:
        kept = [m for m in self.state.marks if m.did is not Did.TOOK_BACK and m.seq not in self.state.taken]
        assert effect(State.replay(self.plan, kept)) == effect(self.state)

    @invariant()
    def no_place_is_done_twice_without_being_taken_back_between(self) -> None:
        open_now: dict[Place, int] = {}
        of_seq: dict[int, Place] = {}
        took: dict[int, int] = {}
        for mark in self.state.marks:
            if mark.did in (Did.DONE, Did.LEFT_OUT):
                place = place_of(mark)
                assert place is not None
                assert place not in open_now
                open_now[place] = mark.seq
                of_seq[mark.seq] = place
            elif mark.did is Did.TOOK_BACK and mark.of in of_seq:
                del open_now[of_seq[mark.of]]
                took[mark.seq] = mark.of
            elif mark.did is Did.PUT_BACK and mark.of in took:
                assert of_seq[took[mark.of]] not in open_now
                open_now[of_seq[took[mark.of]]] = took[mark.of]
        assert {place: mark.seq for place, mark in self.state.outcomes.items()} == open_now

    @invariant()
    def allowed_is_what_some_mark_can_do(self) -> None:
        possible = {mark.did for mark in one_of_each(self.state) if why_not(self.state, mark) is None}
        assert possible == allowed(self.state)

    @invariant()
    def something_is_allowed_until_it_is_finished(self) -> None:
        assert bool(allowed(self.state)) is not self.state.finished

    @invariant()
    def the_place_in_hand_is_the_first_one_open(self) -> None:
        open_ones = (p for p in self.state.route.places if p not in self.state.outcomes)
        assert self.state.place == next((p for p in open_ones if not self.leaves_itself_out(p)), None)

    def leaves_itself_out(self, place: Place) -> bool:
        """Whether nothing is asked there, for a reason that these hands can give: a stump, a flat that was passed."""
        why = self.state.alone(place)
        graded = self.state.outcomes.get(replace(place, step=""))
        assert not why or place.tooth in self.state.broken or (place.on_strip and graded is not None), why
        return bool(why)

    @invariant()
    def no_tooth_worked_is_off_the_line(self) -> None:
        assert all(place.tooth <= self.state.plan.points for place in self.state.outcomes)
        assert self.state.plan == self.plan or self.state.plan == self.plan.counted(self.state.plan.points)

    def teardown(self) -> None:
        """From wherever the run came to, the walk can be driven on to its end."""
        if not hasattr(self, "state"):
            return
        for _ in range(3000):
            if self.state.finished:
                break
            for mark in onward(self.state, self.now()):
                assert why_not(self.state, mark) is None
                self.state = self.state.after(mark)
        assert self.state.finished
        assert allowed(self.state) == frozenset()
        if any(mark.did is Did.GAVE_UP for mark in self.state.marks):
            return  # it was ended as it stood
        for place in self.state.route.places:
            outcome = self.state.outcomes.get(place)
            if outcome is None:
                assert self.leaves_itself_out(place)
            else:
                assert outcome.did is Did.DONE or (outcome.did is Did.LEFT_OUT and (outcome.reason or "").strip())
        self.the_fold_step_by_step_is_the_fold_at_once()
        self.no_place_is_done_twice_without_being_taken_back_between()


def test_the_walk_as_a_machine() -> None:
    run_state_machine_as_test(Walking, settings=examples(9, stateful_step_count=40))


@pytest.mark.soak("a walk of any acts")
def test_the_walk_as_a_machine_for_long() -> None:
    run_state_machine_as_test(Walking, settings=settings(max_examples=400, stateful_step_count=80, deadline=None))
