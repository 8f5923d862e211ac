"""The words for the files of one's own: which to take to the saw in hand, and which do not serve it."""

from __future__ import annotations

from typing import Final

from session.advice.own_files import OwnFile

#: As many files of one's own as can be taken by a digit.
_BY_DIGIT: Final = 9

#: So many files that do not serve are told one by one.
_TOLD_WRONG: Final = 2


def file_choices(files: tuple[OwnFile, ...]) -> tuple[str, ...]:
    """The files of one's own that serve the saw in hand, each with its corner, the best first."""
    return tuple(one.pick for one in files if one.serves)[:_BY_DIGIT]


def own_words(files: tuple[OwnFile, ...]) -> tuple[str, ...]:
    """What is to be said of the files of one's own: the best, and those that do not serve here."""
    serving = [one for one in files if one.serves]
    first = serving[0] if serving else None
    best = "None of your files serves this saw." if first is None else f"Your best: {first.name}. {first.corner.text}"
    more = len(serving) - _BY_DIGIT
    others = [f"And {more} more that serve: type its name."] if more > 0 else []
    wrong = [f"Not {one.name}: {one.against}" for one in files if not one.serves]
    if len(wrong) > _TOLD_WRONG:
        wrong = [*wrong[:_TOLD_WRONG], f"Nor {len(wrong) - _TOLD_WRONG} more of yours."]
    return (best, *others, *wrong)
