"""What comes of an act: a line to show, and what has to be asked before it can be made."""

from __future__ import annotations

from enum import StrEnum

from session.value_class import dataclass


class QuestionKind(StrEnum):
    """What has to be asked before the act can be made."""

    REASON = "reason"
    ANSWER = "answer"
    STROKES = "strokes"
    FLAG_WORD = "flag word"
    REST = "rest"
    SET_PLACE = "set place"
    LEAN = "lean"
    WRONG_SET = "wrong set"
    MORE = "more"
    REMEDY = "remedy"
    CUT_DOUBT = "cut doubt"
    LEAVE = "leave"
    LOOK_BACK = "look back"
    TIMER = "timer"
    HELP = "help"
    TERMS = "terms"
    TILL = "till"


@dataclass(frozen=True, slots=True)
class Reply:
    """What came of an act: a line to show, and what to open. ``refused``: nothing was marked. ``unread``: because
    what is asked now was not read yet.

    shows: a title and the lines under it, for what may be longer than the one row of a note; the note says the same.
    typed: what the line that opens begins with: the digit that opened it.
    """

    note: str = ""
    opens: QuestionKind | None = None
    refused: bool = False
    unread: bool = False
    shows: tuple[str, ...] = ()
    typed: str = ""
