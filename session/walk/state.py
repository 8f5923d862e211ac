"""The state of a walk: a fold over its marks, and nothing else.

Undo, resume, replay, history and the simulated filer all come from this one fact: whatever the screen
shows can be had again by folding the log's marks in order. The fold accepts any marks; whether a mark
may be *made* now is asked of `session.walk.rules`.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from typing import Any

from session.value_class import dataclass, field
from session.walk.account import Account, AccountDraft, told_broken
from session.walk.added_stages import Added, added_of
from session.walk.first_fitting import CLAMPED, FOUND_ITEM, OnceMore, once_more, still_to_fit
from session.walk.front_question import Ask, Front
from session.walk.left_alone import WIDENED, why_alone
from session.walk.looks import wanted_looks
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.place import Place, Standing
from session.walk.route import Route, route
from session.walk.saw_stand import AT_FIRST, Stand, hold_due
from session.walk.seen_plan import as_seen
from session.walk.stages import SawHold, Stage, facts_of
from session.walk.tally import Tally
from session.walk.work_plan import Plan, Stumps


@dataclass(frozen=True, kw_only=True)
class State(Account):
    """Everything that is true after the marks so far: what they come to, and where that leaves the walk.

    first: the plan of the log's header. plan: the same, with the points counted since.
    looks: the steps of the look over that are taken, after what was seen so far.
    stand: how the saw stands: which side is up, what is in the vise, what was turned and put on.
    acknowledged: cautions in effect since the program was opened.
    here: index in the route of the first place neither done nor left out; len(route.places) when there is none.
    behind: how many of the places before it have a mark.
    """

    first: Plan
    plan: Plan
    route: Route
    taken_in: frozenset[Stage]
    added: tuple[Added, ...] = ()
    looks: tuple[str, ...] = ()
    stand: Stand = AT_FIRST
    acknowledged: frozenset[str] = frozenset()
    checked: frozenset[Place] = frozenset()
    paused: bool = False
    unconfirmed: bool = False
    finished: bool = False
    here: int = 0
    behind: int = field(default=0, compare=False)

    @classmethod
    def start(cls, plan: Plan) -> State:
        """The state before the first mark."""
        looks = wanted_looks(plan.looks, {})
        start = route(plan, plan.taken_in, (), looks)
        return cls(first=plan, plan=plan, route=start, taken_in=plan.taken_in, looks=looks)

    @classmethod
    def replay(cls, plan: Plan, marks: Iterable[Mark]) -> State:
        """The fold over ``marks`` in order."""
        draft = _StateDraft(cls.start(plan))
        draft.add_all(marks)
        return cls(**draft.fields())

    def after(self, mark: Mark) -> State:
        """The state once ``mark`` has been made as well."""
        draft = _StateDraft(self)
        draft.add(mark)
        return State(**draft.fields())

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
        if check is not None and check not in self.checked and self.last_marked(check) is not None:
            return Front(Ask.CHECK, check)
        if place is None:
            return Front(Ask.END)
        facts = facts_of(place.stage)
        for caution in facts.cautions:
            if caution not in self.acknowledged:
                return Front(Ask.CAUTION, place, caution)
        reach = self.plan.reach_of(place.tooth) if facts.in_vise and place.tooth else None
        hold = hold_due(self.plan, place, self.stand)
        if hold is SawHold.FLAT:  # it is turned over where it lies
            return Front(Ask.SHIFT, place, side=place.side)
        if place.side and (place.side != self.side or self.stand.turn_items):
            # A turn that was begun to the other side, and then a mark taken back, is turned back first.
            item = self.stand.next_item(self.plan, place, self.to_fit)
            return Front(Ask.TURN, place, item, place.side, reach)
        if hold is not None or (reach is not None and reach != self.clamped):
            return Front(Ask.SHIFT, place, side=place.side, reach=reach)
        if self.to_fit:
            return Front(Ask.FIT, place, self.to_fit[0], place.side, reach)
        return Front(Ask.WORK, place)

    @property
    def side(self) -> int:
        """The side that is up: 1 with the handle on the right, 2 on the left."""
        return self.stand.side

    @property
    def reach(self) -> tuple[int, int] | None:
        """First and last tooth that the vise held last; None before it held any, or after a turn outside of it."""
        return self.stand.reach

    @cached_property
    def once_more(self) -> OnceMore:
        """What is held once more before the place in hand, because other work came between."""
        standing = (mark for mark in reversed(self.marks) if mark.seq not in self.taken)
        return once_more(self.plan, self.place, standing, self.outcomes)

    @property
    def clamped(self) -> tuple[int, int] | None:
        """First and last tooth in the vise; None where the saw has to be put there, at first or once more."""
        return None if CLAMPED in self.once_more.due else self.stand.reach

    @cached_property
    def to_fit(self) -> tuple[str, ...]:
        """What is still held before the first bend or stroke of the stage in hand, or once more, in order."""
        again = tuple(item for item in self.once_more.due if item != CLAMPED)
        due = still_to_fit(self.plan, self.place, self.stand.fitted, self.measured)
        return (*again, *(item for item in due if item not in again))

    def standing(self, place: Place) -> Standing:
        """Which of the four states a place is in."""
        mark = self.outcomes.get(place)
        if mark is not None:
            return Standing.DONE if mark.did is Did.DONE else Standing.LEFT_OUT
        if self.alone(place):
            return Standing.LEFT_OUT
        return Standing.IN_HAND if place == self.place else Standing.AHEAD

    @cached_property
    def stumps(self) -> frozenset[int]:
        """The broken teeth whose places leave themselves out."""
        return frozenset(self.broken) if self.plan.stumps is Stumps.LEFT_ALONE else frozenset()

    def left_by_itself(self) -> tuple[tuple[Place, str], ...]:
        """The places of the route that leave themselves out, each with why; no void grading, no flat without strip."""
        found = ((place, self.alone(place)) for place in self.route.places if not place.on_strip)
        return tuple((place, why) for place, why in found if why and why != WIDENED)

    def alone(self, place: Place) -> str:
        """Why ``place`` leaves itself out; empty when it does not, or when a mark stands there."""
        if place in self.outcomes:
            return ""
        return why_alone(place, self.plan, self.route, self.tally, self.stumps, self.outcomes)

    def passed(self, place: Place) -> bool:
        """Whether nothing is left to do at ``place``: it is done, left out, or leaves itself out."""
        return place in self.outcomes or bool(self.alone(place))

    @cached_property
    def some_alone(self) -> bool:
        """Whether any place may leave itself out."""
        spoiled = any(level.spoiled for level in self.tally.rounds.values())
        return bool(self.route.flats or self.route.strip or self.stumps or spoiled)

    def last_marked(self, check: Place) -> Place | None:
        """The last place marked before the one in hand, from the leg of ``check`` and since the check point before it.

        None where nothing was marked up to ``check``: there is nothing to count. A place set by hand may lie beyond it.
        """
        if self.alone(check) == WIDENED:
            return None
        index, places = self.route.index[check], self.route.places
        before, (leg, start) = self.route.check_before(index), self.route.leg_at(index)
        first = self.route.index[before] + 1 if before is not None else start
        last = next((place for place in reversed(places[first : index + 1]) if place in self.outcomes), None)
        beyond = places[index + 1 : min(self.here, start + len(leg.places))] if last is not None else ()
        return next((place for place in reversed(beyond) if place in self.outcomes), last)

    def left_out(self) -> tuple[tuple[Place, Mark], ...]:
        """The places of the route that were left out, in route order, each with the mark and its reason."""
        found = ((place, self.outcomes.get(place)) for place in self.route.places)
        return tuple((place, mark) for place, mark in found if mark is not None and mark.did is Did.LEFT_OUT)


class _StateDraft(AccountDraft):
    """A state being built: an account, and what each mark changes of the walk."""

    def __init__(self, state: State) -> None:
        self.first = state.first
        super().__init__(state)

    def _first(self) -> State:
        return State.start(self.first)

    def _load(self, state: Account) -> None:
        assert isinstance(state, State)
        super()._load(state)
        self.plan = state.plan
        self.route = state.route
        self.taken_in = state.taken_in
        self.added = state.added
        self.looks = state.looks
        self.stand = state.stand
        self.acknowledged = state.acknowledged
        self._checked: frozenset[Place] | set[Place] = state.checked
        self.paused = state.paused
        self.unconfirmed = state.unconfirmed
        self.finished = state.finished
        self.here = state.here
        self.behind = state.behind
        self._route_is_old = False

    def _apply(self, mark: Mark, place: Place | None) -> None:
        super()._apply(mark, place)
        match mark.did:
            case Did.DONE | Did.LEFT_OUT if place is not None:
                if place in self._checked:
                    # A place gone through again is checked again: the old check was of the old count.
                    self._checks().discard(place)
                self._advance()
            case Did.CHECKED if place is not None:
                self._checks().add(place)
            case Did.MEASURED:
                self._replan(mark)
                self._look()
                if mark.what == Measurable.BROKEN_TEETH:
                    # Told anew, a tooth may be whole that left itself out.
                    self.here = self.behind = 0
                    self._advance()
            case Did.SHIFTED:
                self.stand = self.stand.held(mark, self.plan.reach_at(mark.tooth))
            case Did.TURNED if mark.side in (1, 2):
                # Turned, the saw stands in the vise anew, at the reach of the first place of this side.
                self.stand = self.stand.turned(mark, mark.side, self.plan, self.plan.reach_at(mark.tooth))
            case Did.DECIDED if mark.stage is not None:
                stage = frozenset({mark.stage})
                self.taken_in = self.taken_in | stage if mark.value is True else self.taken_in - stage
                self._new_route()
            case Did.ADDED if mark.stage is not None:
                passes = mark.value if isinstance(mark.value, int) and not isinstance(mark.value, bool) else 1
                least = 0 if mark.stage is Stage.LEVEL else 1
                proved = any(done.stage is Stage.PROVE for done in self.outcomes)
                self.added = (*self.added, added_of(mark, mark.stage, max(least, passes), proved=proved))
                self._new_route()
            case Did.ACKNOWLEDGED if mark.what is not None:
                if mark.side and mark.what in (*self.plan.turn_items, *self.plan.fit_items):
                    self.stand = self.stand.agreed(mark, mark.what, mark.side, self.plan)
                elif mark.what != FOUND_ITEM:
                    self.acknowledged |= {mark.what}
            case Did.PAUSED:
                self.paused = True
            case Did.RESUMED:
                self.paused = False
                self.unconfirmed = True
                if mark.what not in ("no key", "pause"):
                    # Asked again in another sitting (bench rule 3); within one they stay on screen.
                    self.acknowledged = frozenset()
            case Did.CONFIRMED:
                self.unconfirmed = False
            case Did.FINISHED | Did.GAVE_UP:
                self.finished = True
            case _:
                pass

    def _replan(self, mark: Mark) -> None:
        """What was seen of the saw overrides its plan."""
        plan = as_seen(self.plan, mark, self.outcomes)
        if plan != self.plan:
            self.plan = plan
            self._new_route()

    def _look(self) -> None:
        """An answer of the look over may save other looks, or ask for one more."""
        looks = wanted_looks(self.plan.looks, self.measured)
        if looks != self.looks:
            self.looks = looks
            self._new_route()

    def _advance(self) -> None:
        tally = self._tally
        # Of many marks at once the last place is looked for in the end, when it is known what they add up to.
        if tally is not None:
            self._advance_by(tally)

    def _advance_by(self, tally: Tally) -> None:
        places, outcomes = self.route.places, self.outcomes
        broken = told_broken(self.measured) | tally.stumps if self.plan.stumps is Stumps.LEFT_ALONE else frozenset()
        while self.here < len(places):
            marked = places[self.here] in outcomes
            if not marked and not why_alone(places[self.here], self.plan, self.route, tally, broken, outcomes):
                break
            self.here += 1
            self.behind += marked

    def _new_route(self) -> None:
        if self._tally is None:
            # Of many marks at once only the last route is ever walked.
            self._route_is_old = True
            return
        self.route = route(self.plan, self.taken_in, self.added, self.looks)
        self.here = self.behind = 0
        self._advance()

    def _checks(self) -> set[Place]:
        """The checked places, to be written into."""
        if not isinstance(self._checked, set):
            self._checked = set(self._checked)
        return self._checked

    def fields(self) -> dict[str, Any]:
        """The fields of the state that was built."""
        account = super().fields()
        if self._tally is None:
            if self._route_is_old:
                self.route = route(self.plan, self.taken_in, self.added, self.looks)
            self.here = self.behind = 0
            self._advance_by(account["tally"])
        return {
            **account,
            "first": self.first,
            "plan": self.plan,
            "route": self.route,
            "taken_in": self.taken_in,
            "added": self.added,
            "looks": self.looks,
            "stand": self.stand,
            "acknowledged": self.acknowledged,
            "checked": frozenset(self._checked),
            "paused": self.paused,
            "unconfirmed": self.unconfirmed,
            "finished": self.finished,
            "here": self.here,
            "behind": self.behind,
        }
