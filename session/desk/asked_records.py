"""What the records are asked for at the desk: each thing once, and no earlier than it is needed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.advice.gullet_advice import NO_RECORDS
from session.advice.own_files import OwnFile, own_files
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.desk.read_aside import there
from session.trade.saw import Saw
from session.walk.added_work import fault_to_mend
from session.walk.front_question import Ask
from session.walk.known_bites import KnownBites
from session.walk.place import looks_at_flats
from session.walk.stages import PLAN_STEP, Kind, Stage
from session.walk.state import State


class AskedRecords:
    """Asks ``next_visit``, ``bites``, ``saw`` and ``account`` for what the records say, and keeps it."""

    def __init__(
        self,
        next_visit: Callable[[], tuple[str, ...]],
        bites: Callable[[], KnownBites],
        saw: Callable[[], SawRecords],
        account: Callable[[], tuple[str, ...]],
    ) -> None:
        self._next_visit: Final = next_visit
        self._ask_bites: Final = bites
        self._ask_saw: Final = saw
        self._ask_account: Final = account
        self._account: tuple[str, ...] | None = None
        self._next_time: tuple[str, ...] | None = None
        self._bites: KnownBites | None = None
        self._saw: SawRecords | None = None

    def next_words(self, state: State) -> tuple[str, ...]:
        """What the closed record says to the next sharpening; nothing before it is closed."""
        if state.front.ask is not Ask.FINISHED:
            return ()
        if self._next_time is None:
            if not there(self._next_visit):
                return ()
            words = self._next_visit()
            self._next_time = ("Next time:", *words) if words else ()
        return self._next_time

    def account(self, state: State) -> tuple[str, ...]:
        """What this sharpening came to, from its closed record; nothing before it is closed."""
        if state.front.ask is not Ask.FINISHED:
            return ()
        if self._account is None:
            words = self._ask_account()
            self._account = ("This time:", *words) if words else ()
        return self._account

    def bites(self, state: State) -> KnownBites:
        """The bites that the records taught, from the first gullet on; the remedies of a cut cost by them as well."""
        gullet = state.place is not None and state.place.kind is Kind.GULLET
        if self._bites is None and (gullet or fault_to_mend(state)):
            self._bites = self._ask_bites()
        return self._bites or NO_RECORDS

    def of_saw(self, state: State) -> SawRecords:
        """What the records add to what is seen at the look over; nothing while they are still being read.

        The plan is not settled without them: there they are waited for.
        """
        place = state.place
        if place is not None and place.stage is Stage.LOOK_OVER and (place.step == PLAN_STEP or there(self._ask_saw)):
            return self.of_saw_now()
        if looks_at_flats(place) and there(self._ask_saw):
            # A line may be scanned while the bench stands open.
            return self.of_saw_now().with_newest_scan()
        return self._saw or NO_HISTORY

    def own_files(self, saw: Saw) -> tuple[OwnFile, ...]:
        """The files of the drawer for ``saw``, the best first."""
        records = self.of_saw_now()
        return own_files(records.owned, saw, records.corner_teeth)

    def of_saw_now(self) -> SawRecords:
        """The same wherever the walk is."""
        if self._saw is None:
            self._saw = self._ask_saw()
        return self._saw
