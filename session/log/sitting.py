"""A sitting: one sharpening being worked, with its log open and the state that the log says.

Every front end (the bench, the line-by-line mode, the rehearsal) makes its marks through here, so
that nothing shows as done that is not on disk.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

from session.files.recipe import Recipe, recipe_from_values
from session.files.settings import Units
from session.log.journal import Journal, only_to_look_at
from session.log.log_bytes import FORMAT, Oddity
from session.log.summary import closing
from session.machine.clock import Clock
from session.machine.refusal import Refusal
from session.trade.lengths import Length
from session.trade.observation import Seen
from session.trade.saw import Saw
from session.value_class import replace
from session.version import VERSION
from session.walk import acts
from session.walk.graded_flats import bite_here
from session.walk.mark import Did, Mark
from session.walk.rules import why_not
from session.walk.state import State
from session.walk.work_plan import Plan, turn_items_of


class NotNow(Refusal):
    """A mark that may not be made now; the message says why. Nothing was written.

    A kind of its own: the person is told and the walk goes on, which it does not after a disk's fault.
    """


class Sitting:
    """The saw, the plan, the open log and the state, kept in step."""

    def __init__(self, saw: Saw, plan: Plan, journal: Journal, clock: Clock) -> None:
        self._saw: Final = saw
        self.plan: Final = plan
        self.journal: Final = journal
        self.clock: Final = clock
        #: "saw" shows the saw in the unit of its recipe, "in" and "mm" in that one (settings).
        self.units: Units = "saw"
        #: What was seen of the saw before the bench was opened, still to be recorded.
        self.seen: Seen | None = None
        self.state = State.replay(plan, journal.marks)

    @classmethod
    def start(cls, folder: Path, recipe: Recipe, plan: Plan, clock: Clock) -> Sitting:
        """Begin a sharpening: a new log in ``folder`` (the saw's own log folder), locked for us.

        Raises JournalFault when the disk will not take it.
        """
        started = clock.now()
        header: dict[str, Any] = {
            "format": FORMAT,
            "session": {"started": started, "program": f"toothline {VERSION}", "saw": recipe.saw.name},
            "recipe": recipe.values,
            "plan": plan.to_dict(),
        }
        return cls(recipe.saw, plan, Journal.create(folder, header, started=started), clock)

    @classmethod
    def resume(cls, path: Path, clock: Clock) -> Sitting:
        """Go on with the log at ``path``; the first mark made says how long the work rested.

        Raises LockHeld, JournalFault or Refusal as the journal does; Refusal also for a header whose recipe and plan
        make no walk.
        """
        sitting = cls._opened(path, clock)
        try:
            if sitting.state.marks and not sitting.state.finished:
                rested = clock.now() - sitting.state.marks[-1].at
                sitting.make(acts.resume(sitting.state, clock.now(), after="restart", seconds=rested.total_seconds()))
        except BaseException:
            sitting.close()
            raise
        return sitting

    @classmethod
    def give_up(cls, path: Path, clock: Clock, reason: str) -> Mark:
        """Record that the log at ``path`` is not gone on with. Raises as ``resume`` does; NotNow when it has ended."""
        sitting = cls._opened(path, clock)
        try:
            return sitting.make(acts.give_up(sitting.state, clock.now(), reason))
        finally:
            sitting.close()

    @classmethod
    def _opened(cls, path: Path, clock: Clock) -> Sitting:
        journal = Journal.open(path)
        try:
            try:
                saw, plan = told(journal.header)
            except ValueError as wrong:
                raise only_to_look_at(path, Oddity(str(wrong))) from None
            return cls(saw, plan, journal, clock)
        except BaseException:
            journal.close()
            raise

    @property
    def saw(self) -> Saw:
        """The saw, with the points that were counted on it, in the units that the person settled on."""
        saw, points = self._saw, self.state.plan.points
        if points != saw.points:
            saw = replace(saw, points=points, points_counted=True)
        if self.units != "saw" and self.units != saw.unit:
            saw = replace(saw, toothed_length=Length.of(saw.toothed_length.mm, self.units))
        return saw

    def make(self, mark: Mark) -> Mark:
        """Write ``mark`` to disk, and only then let the state have it.

        Raises NotNow when the mark may not be made now, JournalFault when the disk would not take it;
        in both cases the state is as before.
        """
        reason = why_not(self.state, mark)
        if reason is not None:
            raise NotNow(reason)
        if mark.did is Did.FINISHED:
            # The last block tells what the sharpening came to, so that a till is listed without reading every mark.
            mark = closing(self.state, mark, bite_here(self.state, self._saw))
        # The log and the state hold one mark between them, the one that will be read again.
        told = self.journal.append(mark)
        self.state = self.state.after(told)
        return told

    def make_all(self, marks: Iterable[Mark]) -> None:
        """Make several marks in order, each written before the next."""
        for mark in marks:
            self.make(mark)

    def read_again(self) -> None:
        """After a failed write: open the log from disk anew and believe only what it holds."""
        self.journal.reopen()
        self.state = State.replay(self.plan, self.journal.marks)

    def close(self) -> None:
        """Let go of the log and its lock."""
        self.journal.close()


def told(header: dict[str, Any]) -> tuple[Saw, Plan]:
    """The saw and the plan that a log's header holds. Raises ValueError with one line on what is missing or wrong."""
    recipe, plan = header.get("recipe"), header.get("plan")
    if not isinstance(recipe, dict) or not isinstance(plan, dict):
        raise ValueError("the log's header holds no recipe or no plan")
    try:
        saw = recipe_from_values(recipe, where="the log's recipe").saw
        return saw, Plan.from_dict(plan, turn_items_of(saw))
    except (ValueError, TypeError, OverflowError) as wrong:
        raise ValueError("; ".join(str(wrong).splitlines())) from None
