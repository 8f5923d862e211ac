"""What a page says of its answer and below it: what counts without one, and what follows where there is room."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final

from session.bench.widgets.field_picture import LEAST_ROWS, PICTURED
from session.form.own_saw_form import FieldPage

#: Choices that the list shows at once (max-height of #form-choices); it scrolls where there are more.
MOST_LISTED: Final = 9


def page_answer(page: FieldPage, *, typing: bool) -> str:
    """What is said of the answer of ``page``; empty where it was not answered, and needs no words."""
    wrong = page.wrong
    if page.choices and ("none of them" in wrong or "may mean several" in wrong):
        wrong = f"{wrong.partition(';')[0]}; allowed: those below, by number or by a beginning"
    answer = page.doubt
    if wrong:
        answer = f"not understood so far: {wrong}" if typing else f"NOT UNDERSTOOD: {wrong}"
    elif not answer and not page.typed and len(page.choices) > 9:
        answer = f"{len(page.choices)} to choose from, by number or by the beginning of a name"
    if not answer and page.told:
        answer = f"= {page.understood}"
    return answer


def page_notes(page: FieldPage, answer: str, width: int, height: int) -> str:
    """The notes of ``page`` in a room of cells, ``answer`` being what is said of its answer.

    How a thing is measured is shown before what follows from it is told: where there is no room for both, the picture
    has it, and the sheet of the page's words tells what follows. Where something is wrong, only that is said.
    """
    if page.wrong:
        return ""
    notes = (page.stands, what_follows(page))
    if page.name not in PICTURED or width < 1:
        return "\n".join(notes)
    # Beside the words stand the line that is typed on, the choices, and a row for the answer before there is one.
    used = _rows((page.words.asks, *page.words.how, answer, *notes), width) + 1 + len(page.rows) + (not answer)
    return "\n".join(notes if height - used >= LEAST_ROWS else notes[:1])


def page_asks(page: FieldPage, answer: str, width: int, height: int) -> str:
    """What ``page`` asks, and of how it is found as much as leaves its choices their room.

    answer: what is said of its answer. Every choice is seen, whatever was refused.
    """
    how = page.words.how
    while how and width >= 1 and page.rows:
        # Below it stand the line that is typed on, and a row for the answer before there is one.
        listed = min(len(page.rows), MOST_LISTED)
        if _rows((page.words.asks, *how, answer), width) + 1 + listed + (not answer) <= height:
            break
        how = how[:-1]
    return "\n".join((page.words.asks, *how))


def what_follows(page: FieldPage) -> str:
    """What hangs on the field, and who says so."""
    return f"{page.words.follows} ({page.words.source})"


def _rows(texts: Iterable[str], width: int) -> int:
    return sum(len(textwrap.wrap(text, width)) for text in texts)
