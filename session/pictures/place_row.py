"""Rows cut to whole words: where one is (the place before, in hand, next, how much is done), and which saw it is."""

from __future__ import annotations

from session.sentences.saying import Saying

_BETWEEN = " │ "
_DOT = " · "


def places_row(saying: Saying, width: int) -> str:
    """That row in ``width`` cells.

    The place in hand, the next and done of total always stand whole (bench rule 4). What comes after them
    gives way first, then the end of what was done before, which may be a long reason; the time left is
    shown only where there is room to spare.
    """
    share = f"{saying.done} of {saying.total} done" if saying.total else ""
    must = [part for part in (f"NOW {saying.now}", f"next {saying.next}", share) if part]
    room = width - len(_BETWEEN.join(must)) - len(_BETWEEN)
    before = saying.previous if len(saying.previous) <= room else f"{saying.previous[: max(0, room - 1)]}…"
    if saying.ahead and len(before) + len(_BETWEEN) + len(saying.ahead) <= room:
        must.insert(2, saying.ahead)
    row = _BETWEEN.join([before, *must])
    if saying.left and len(row) + len(_BETWEEN) + len(saying.left) <= width:
        row += _BETWEEN + saying.left
    return row


def whole_parts(text: str, width: int) -> str:
    """As many of the parts of ``text`` between dots as stand whole in ``width`` cells, and always the first."""
    kept, *others = text.split(_DOT)
    for part in others:
        if len(kept) + len(_DOT) + len(part) > width:
            break
        kept += _DOT + part
    return kept
