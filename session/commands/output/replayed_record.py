"""A record as it is shown: its log, and what its marks come to, worked out once for all that tells of it."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import Any

from session.log.log_reader import LogFile
from session.log.summary import summarize
from session.till.past_sharpening import Sharpening
from session.value_class import dataclass
from session.walk.account import Account
from session.walk.state import State
from session.walk.work_plan import Plan


@dataclass(frozen=True)
class ReplayedRecord:
    """The log at ``path``, as read."""

    path: Path
    log: LogFile

    @cached_property
    def state(self) -> State | None:
        """The walk at the end of the record; None when its header's plan makes none."""
        plan: Any = self.log.header.get("plan")
        try:
            return State.replay(Plan.from_dict(plan), self.log.marks)
        except (ValueError, TypeError, AttributeError, OverflowError):
            return None

    @cached_property
    def account(self) -> Account:
        """What its marks come to, with a plan or without."""
        return self.state if self.state is not None else Account.of(self.log.marks)

    @cached_property
    def sharpening(self) -> Sharpening:
        """The same as history compares it."""
        log = self.log
        return Sharpening(path=self.path, header=log.header, state=log.state, odd="", summary=summarize(self.account))

    @property
    def saw(self) -> str:
        """The saw's name as its header has it; empty where it has none."""
        session = self.log.header.get("session")
        return str(session.get("saw") or "") if isinstance(session, dict) else ""
