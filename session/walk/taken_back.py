"""Which marks are taken back, and stay so: going back to a place, flagged or not, can itself be taken back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from session.walk.mark import Did, Mark

#: Why a mark was taken back when the person goes back to a flagged place.
LOOK_AGAIN: Final = "flagged, look again"

#: Why marks were taken back when the person sets an earlier place.
SET_BACK: Final = "place set back"


def taken_back(marks: Iterable[Mark]) -> frozenset[int]:
    """The seqs of the marks that do not stand after ``marks``, which come in order."""
    taken: set[int] = set()
    again: dict[int, int] = {}
    for mark in marks:
        if mark.of is None:
            continue
        if mark.did is Did.TOOK_BACK:
            taken.add(mark.of)
            if mark.reason in (LOOK_AGAIN, SET_BACK):
                again[mark.seq] = mark.of
        elif mark.did is Did.PUT_BACK:
            taken.discard(again.pop(mark.of, 0))
    return frozenset(taken)


def looks_again(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The marks by which a flagged place was gone back to and which hold, in order."""
    return _held(marks, LOOK_AGAIN)


def set_backs(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The marks by which places were taken back as an earlier one was set, and which hold, in order."""
    return _held(marks, SET_BACK)


def _held(marks: Iterable[Mark], reason: str) -> tuple[Mark, ...]:
    held: dict[int, Mark] = {}
    for mark in marks:
        if mark.did is Did.TOOK_BACK and mark.reason == reason:
            held[mark.seq] = mark
        elif mark.did is Did.PUT_BACK and mark.of is not None:
            held.pop(mark.of, None)
    return tuple(held.values())
