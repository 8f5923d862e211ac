"""Flags that come back: which digit leads to which flagged place, and what a yes means where flags are open."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.walk import acts
from session.walk.flagged_places import flags_asked, strokes_before
from session.walk.front_question import Ask
from session.walk.place import Place


class FlagAnswers:
    """Answers through one `MarkWriter` what is asked of the places in `flags_asked`."""

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making

    def digit(self, digit: int) -> Reply | None:
        """What ``digit`` answers: back to one of the flags, or on with all of them open where a side ends; None where
        no flag is asked about."""
        state = self._making.state
        flags = flags_asked(state)
        if not flags:
            return None
        ends = state.front.ask is Ask.CHECK
        if ends and digit == len(flags) + 1:
            return self._agrees()
        if not 1 <= digit <= len(flags):
            return Reply(f"{digit}: allowed: 1 to {len(flags) + ends}.", refused=True)
        return self._back(flags[digit - 1])

    def checked(self) -> Reply:
        """A yes at a check: a yes by habit does not leave flags behind, it leads to the first of them."""
        flags = flags_asked(self._making.state)
        return self._back(flags[0]) if flags else self._agrees()

    def _agrees(self) -> Reply:
        making, check = self._making, self._making.state.front.place
        assert check is not None
        last = making.state.last_marked(check) or check
        checked = acts.check(making.state, making.at(), last.tooth or last.number)
        return making.make(checked, note=f"Checked: {last} agrees.")

    def _back(self, flagged: Place) -> Reply:
        again = acts.look_again(self._making.state, self._making.at(), flagged)
        reply = self._making.make(again)
        counted = not reply.refused and strokes_before(self._making.state) > 0
        then = "what was counted stays" if counted else "then mark it anew"
        return reply if reply.refused else Reply(f"Back to {flagged}, flagged: look, {then}.")
