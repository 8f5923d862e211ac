"""The state of a walk: a fold over its marks, and nothing else.

Undo, resume, replay, history and the simulated filer all come from this one fact: whatever the screen
shows can be had again by folding the log's marks in order. The fold accepts any marks; whether a mark
may be *made* now is asked of `session.walk.rules`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

from session.walk.front import Ask, Front, turn_items
from session.walk.mark import Did, Mark
from session.walk.measurables import counts_line, voids
from session.walk.place import Place, Standing, place_of
from session.walk.route import Added, Route, route
from session.walk.stages import FACTS, Stage
from session.walk.work_plan import Plan

#: Marks that change what has been done, and so can be taken back. Pausing, resuming, confirming and
#: acknowledging are not among them: they claim nothing about the saw.
ACTS: Final = frozenset(
    {
        Did.DONE,
        Did.LEFT_OUT,
        Did.FLAGGED,
        Did.SHIFTED,
        Did.TURNED,
        Did.CHECKED,
        Did.MEASURED,
        Did.DECIDED,
        Did.ADDED,
    }
)


@dataclass(frozen=True)
class State:
    """Everything that is true after the marks so far.

    first: the plan of the log's header. plan: the same, with the points counted since.
    marks: all marks in order. taken: seqs of those taken back.
    outcomes: for each place done or left out, the mark that says so.
    flags: flagged places, with the last mark that flagged each. measured: the last measured mark by what was measured,
        as long as it holds (`session.walk.measurables.voids`).
    side: 1 with the handle on the right, 2 on the left. reach: (first, last) tooth now in the vise, or None.
    acknowledged: cautions in effect since the program was opened or work was resumed.
    turn_items: items of the turning hold point acknowledged since the last turn.
    here: index in the route of the first place neither done nor left out; len(route.places) when there is none.
    """

    first: Plan
    plan: Plan
    route: Route
    taken_in: frozenset[Stage]
    marks: tuple[Mark, ...] = ()
    taken: frozenset[int] = frozenset()
    outcomes: Mapping[Place, Mark] = field(default_factory=dict)
    flags: Mapping[Place, Mark] = field(default_factory=dict)
    measured: Mapping[str, Mark] = field(default_factory=dict)
    added: tuple[Added, ...] = ()
    side: int = 1
    reach: tuple[int, int] | None = None
    acknowledged: frozenset[str] = frozenset()
    turn_items: frozenset[str] = frozenset()
    checked: frozenset[Place] = frozenset()
    paused: bool = False
    unconfirmed: bool = False
    finished: bool = False
    here: int = 0

    @classmethod
    def start(cls, plan: Plan) -> State:
        """The state before the first mark."""
        return cls(plan, plan, route(plan, plan.taken_in, ()), plan.taken_in)

    @classmethod
    def replay(cls, plan: Plan, marks: Iterable[Mark]) -> State:
        """The fold over ``marks`` in order."""
        draft = _Draft(cls.start(plan))
        draft.add_all(marks)
        return draft.freeze()

    def after(self, mark: Mark) -> State:
        """The state once ``mark`` has been made as well."""
        draft = _Draft(self)
        draft.add(mark)
        return draft.freeze()

    @property
    def place(self) -> Place | None:
        """The place in hand, or None when every place is done or left out."""
        return self.route.places[self.here] if self.here < len(self.route.places) else None

    @cached_property
    def front(self) -> Front:
        """What is asked now; like all that is cached here it is worked out once, on first demand."""
        place = self.place
        if self.finished:
            return Front(Ask.FINISHED)
        if self.paused:
            return Front(Ask.PAUSED, place)
        if self.unconfirmed:
            return Front(Ask.CONFIRM, place)
        check = self.route.check_before(self.here)
        if check is not None and check not in self.checked:
            return Front(Ask.CHECK, check)
        if place is None:
            return Front(Ask.END)
        facts = FACTS[place.stage]
        for caution in facts.cautions:
            if caution not in self.acknowledged:
                return Front(Ask.CAUTION, place, caution)
        reach = self.plan.reach_of(place.tooth) if facts.in_vise and place.tooth else None
        if place.side and place.side != self.side:
            items = turn_items(self.plan, place.stage)
            item = next((item for item in items if item not in self.turn_items), "")
            return Front(Ask.TURN, place, item, place.side, reach)
        if reach is not None and reach != self.reach:
            return Front(Ask.SHIFT, place, side=place.side, reach=reach)
        return Front(Ask.WORK, place)

    @property
    def next_seq(self) -> int:
        """The seq of the mark to be made next."""
        return self.marks[-1].seq + 1 if self.marks else 1

    @property
    def last_act(self) -> Mark | None:
        """The last mark that can be taken back, or None."""
        for mark in reversed(self.marks):
            if mark.did in ACTS and mark.seq not in self.taken:
                return mark
        return None

    @cached_property
    def grades(self) -> dict[int, int]:
        """The grade of each flat, by tooth, from the last leveling whose flats were graded; empty when none were."""
        rounds: dict[int, dict[int, int]] = {}
        for place, mark in self.outcomes.items():
            if place.stage is Stage.LEVEL and place.tooth and isinstance(mark.value, int):
                rounds.setdefault(place.round, {})[place.tooth] = mark.value
        return rounds[max(rounds)] if rounds else {}

    def standing(self, place: Place) -> Standing:
        """Which of the four states a place is in."""
        mark = self.outcomes.get(place)
        if mark is not None:
            return Standing.DONE if mark.did is Did.DONE else Standing.LEFT_OUT
        return Standing.IN_HAND if place == self.place else Standing.AHEAD

    def left_out(self) -> tuple[tuple[Place, Mark], ...]:
        """The places of the route that were left out, in route order, each with the mark and its reason."""
        found = ((place, self.outcomes.get(place)) for place in self.route.places)
        return tuple((place, mark) for place, mark in found if mark is not None and mark.did is Did.LEFT_OUT)


class _Draft:
    """A state being built: the one place where a mark's effect is written down."""

    def __init__(self, state: State) -> None:
        self.first = state.first
        self.marks = list(state.marks)
        self.taken = set(state.taken)
        self._load(state)

    def _load(self, state: State) -> None:
        self.plan = state.plan
        self.route = state.route
        self.taken_in = state.taken_in
        self.outcomes = dict(state.outcomes)
        self.flags = dict(state.flags)
        self.measured = dict(state.measured)
        self.added = state.added
        self.side = state.side
        self.reach = state.reach
        self.acknowledged = set(state.acknowledged)
        self.turn_items = set(state.turn_items)
        self.checked = set(state.checked)
        self.paused = state.paused
        self.unconfirmed = state.unconfirmed
        self.finished = state.finished
        self.here = state.here

    def add(self, mark: Mark) -> None:
        self.marks.append(mark)
        if mark.did is Did.TOOK_BACK:
            if mark.of is not None and mark.of not in self.taken:
                self.taken.add(mark.of)
                self._refold()
        else:
            self._apply(mark)

    def add_all(self, marks: Iterable[Mark]) -> None:
        """Add marks in one pass: whatever any of them takes back is left out from the start, which comes to
        the same as taking it back in its turn, without folding anew for each."""
        self.marks.extend(marks)
        self.taken.update(m.of for m in self.marks if m.did is Did.TOOK_BACK and m.of is not None)
        self._refold()

    def _refold(self) -> None:
        """Fold again without the marks taken back: the exact inverse, with no second set of rules to keep."""
        self._load(State.start(self.first))
        for mark in self.marks:
            if mark.did is not Did.TOOK_BACK and mark.seq not in self.taken:
                self._apply(mark)

    def _apply(self, mark: Mark) -> None:
        place = place_of(mark)
        for what in voids(mark):
            self.measured.pop(what, None)
        match mark.did:
            case Did.DONE | Did.LEFT_OUT if place is not None:
                self.outcomes[place] = mark
                # A place gone through again is checked again: the old check was of the old count.
                self.checked.discard(place)
                self._advance()
            case Did.FLAGGED if place is not None:
                self.flags[place] = mark
            case Did.CHECKED if place is not None:
                self.checked.add(place)
            case Did.MEASURED if mark.what is not None:
                self.measured[mark.what] = mark
                self._count(mark)
            case Did.SHIFTED:
                self.reach = self._reach(mark)
            case Did.TURNED if mark.side in (1, 2):
                self.side = mark.side
                self.turn_items.clear()
                # Turned, the saw stands in the vise anew, at the reach of the first place of this side.
                self.reach = self._reach(mark)
            case Did.DECIDED if mark.stage is not None:
                change = self.taken_in.union if mark.value is True else self.taken_in.difference
                self.taken_in = change({mark.stage})
                self._new_route()
            case Did.ADDED if mark.stage is not None:
                passes = mark.value if isinstance(mark.value, int) and not isinstance(mark.value, bool) else 1
                least = 0 if mark.stage is Stage.LEVEL else 1
                self.added = (*self.added, Added(mark.stage, mark.side or 0, max(least, passes), mark.round or 1))
                self._new_route()
            case Did.ACKNOWLEDGED if mark.what is not None:
                target = self.turn_items if mark.what in self.plan.turn_items and mark.side else self.acknowledged
                target.add(mark.what)
            case Did.PAUSED:
                self.paused = True
            case Did.RESUMED:
                self.paused = False
                self.unconfirmed = True
                if mark.what != "no key":
                    # Asked again after a pause or a restart (bench rule 3); after a mere silence only the place is.
                    self.acknowledged.clear()
            case Did.CONFIRMED:
                self.unconfirmed = False
            case Did.FINISHED:
                self.finished = True
            case _:
                pass

    def _count(self, mark: Mark) -> None:
        """Points counted along the whole line override the computed ones, as long as no tooth was worked."""
        points = mark.value
        if not counts_line(mark) or not isinstance(points, int) or points < 2:
            return
        if points != self.plan.points and not any(place.tooth for place in self.outcomes):
            self.plan = self.plan.counted(points)
            self._new_route()

    def _reach(self, mark: Mark) -> tuple[int, int] | None:
        on_line = mark.tooth is not None and 1 <= mark.tooth <= self.plan.points
        return self.plan.reach_of(mark.tooth) if mark.tooth is not None and on_line else None

    def _advance(self) -> None:
        places, outcomes = self.route.places, self.outcomes
        while self.here < len(places) and places[self.here] in outcomes:
            self.here += 1

    def _new_route(self) -> None:
        self.route = route(self.plan, frozenset(self.taken_in), self.added)
        self.here = 0
        self._advance()

    def freeze(self) -> State:
        return State(
            first=self.first,
            plan=self.plan,
            route=self.route,
            taken_in=frozenset(self.taken_in),
            marks=tuple(self.marks),
            taken=frozenset(self.taken),
            outcomes=self.outcomes,
            flags=self.flags,
            measured=self.measured,
            added=self.added,
            side=self.side,
            reach=self.reach,
            acknowledged=frozenset(self.acknowledged),
            turn_items=frozenset(self.turn_items),
            checked=frozenset(self.checked),
            paused=self.paused,
            unconfirmed=self.unconfirmed,
            finished=self.finished,
            here=self.here,
        )
