"""What a finished record claims beyond the filer's own diary or leaves out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from typing import Final

from session.log.summary import from_last
from session.rehearsal.diary import Deed, Kept
from session.texts.steps import step
from session.trade.strip_readings import quarters_of
from session.walk.added_work import CUT_IS_GOOD
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.stages import STRIP_STEP, Stage

#: What is compared in the order in which it was done; the same sorts hold all that touches steel.
_IN_ORDER: Final = tuple(kept for kept in Kept if kept is not Kept.TOLD)

#: What the program itself writes beside the answers: its advice, and the plan that was settled on.
_OF_THE_PROGRAM: Final = (Measurable.ADVISED, Measurable.CHOSEN)


def differences(diary: Sequence[Deed], marks: Sequence[Mark]) -> list[str]:
    """What the ``marks`` of a finished log say otherwise than ``diary``, a sentence each; empty when all agrees."""
    claimed = list(claims(marks))
    found = []
    for kept in _IN_ORDER:
        did = [deed for deed in diary if deed.kept is kept]
        says = [deed for deed in claimed if deed.kept is kept]
        if did == says:
            continue
        found += [f"in the record alone: {deed}" for deed in (Counter(says) - Counter(did)).elements()]
        found += [f"done, and not in the record: {deed}" for deed in (Counter(did) - Counter(says)).elements()]
        if Counter(did) == Counter(says):
            found.append(f"in another order: what was {kept}")
    told = [deed.text for deed in diary if deed.kept is Kept.TOLD]
    return [
        *found,
        *_told_otherwise(told, [deed.text for deed in claimed if deed.kept is Kept.TOLD]),
        *_sums(diary, marks),
    ]


def claims(marks: Iterable[Mark]) -> Iterator[Deed]:
    """What the marks that stand say was done, in their order."""
    marks = list(marks)
    # What a good cut made needless was asked for all the same.
    taken = {mark.of for mark in marks if mark.did is Did.TOOK_BACK and mark.reason != CUT_IS_GOOD}
    asked: tuple[datetime, str | None] | None = None
    for mark in marks:
        now = (mark.at, mark.reason) if mark.did is Did.ADDED and mark.reason else None
        # What is asked for once may add several stages.
        if mark.seq not in taken and (now is None or now != asked):
            yield from _claim(mark)
        asked = now


def _claim(mark: Mark) -> Iterator[Deed]:
    stage, side, tooth = mark.stage, mark.side or 0, mark.tooth or 0
    match mark.did:
        case Did.DONE if mark.step == STRIP_STEP and tooth:
            told = quarters_of(mark.value, mark.unit)
            yield Deed(Kept.PLACE, stage, (tooth,) if told is None else (tooth, told))
        case Did.DONE if stage is not None and mark.step:
            yield Deed(Kept.STEP, stage, text=step(stage, mark.step).title)
        case Did.DONE if stage is Stage.LEVEL and tooth:
            yield Deed(Kept.GRADE, stage, (tooth, int(mark.value or 0)))
        case Did.DONE if stage is Stage.LEVEL:
            yield Deed(Kept.PASS, stage)
        case Did.DONE if stage is Stage.SET:
            yield Deed(Kept.BEND, stage, (tooth, side))
        case Did.DONE if stage is Stage.DRESS:
            yield Deed(Kept.STONE, stage, (side,))
        case Did.DONE:
            yield Deed(Kept.FILE, stage, (tooth, side, mark.strokes or 0))
        case Did.LEFT_OUT:
            yield Deed(Kept.LEFT_OUT, stage, (tooth,), mark.reason or "")
        case Did.MEASURED if mark.what not in _OF_THE_PROGRAM:
            yield Deed(Kept.TOLD, stage, text=mark.entered or str(mark.value))
        case Did.ADDED:
            yield Deed(Kept.ASKED, text=mark.reason or "")
        case Did.TURNED:
            yield Deed(Kept.TURN, numbers=(side,))
        case Did.SHIFTED:
            # Laid flat it is on neither side; the record has the one that comes.
            yield Deed(Kept.SHIFT, stage, (0 if stage is Stage.DRESS else side,))
        case Did.CHECKED:
            yield Deed(Kept.CHECK, stage, (int(mark.value or 0),))
        case Did.FLAGGED:
            yield Deed(Kept.FLAG, stage, (tooth,))
        case Did.PAUSED:
            yield Deed(Kept.PAUSE)
        case _:
            pass


def _told_otherwise(told: Sequence[str], says: Sequence[str]) -> Iterator[str]:
    """An answer may hold several things, so that which of the record's follow one another must make up each answer."""
    at = 0
    for text, following in zip(told, (*told[1:], ""), strict=True):
        parts: list[str] = []
        while at < len(says) and _joined(parts) != text:
            parts.append(says[at])
            at += 1
        if _joined(parts) != text:
            yield f"told, and not in the record: {text!r}"
            return
        # An answer that the program doubted was given once more.
        while at < len(says) and says[at] == text != following:
            at += 1
    yield from (f"in the record alone: told {text!r}" for text in says[at:])


def _joined(parts: Sequence[str]) -> str:
    """The parts of one answer in one line; how far a cut wandered stands again before the side to which it did."""
    whole = [part for part, beyond in pairwise((*parts, "")) if not beyond.startswith(f"{part} ")]
    return ", ".join(whole)


def _sums(diary: Sequence[Deed], marks: Sequence[Mark]) -> Iterator[str]:
    """What the last block of the log adds up otherwise."""
    told = from_last(marks[-1] if marks else None)
    if told is None:
        yield "the record has no summary"
        return
    strokes = Counter[str]()
    for deed in diary:
        if deed.kept is Kept.FILE:
            strokes[str(deed.stage)] += deed.numbers[2]
    line = told.get("line", {})
    passes = sum(deed.kept is Kept.PASS for deed in diary)
    left = sum(deed.kept is Kept.LEFT_OUT for deed in diary)
    for what, said, did in (
        ("strokes", told["strokes"], {stage: count for stage, count in strokes.items() if count}),
        ("places left out", told["left_out"], left),
        ("leveling passes", line.get("passes") if isinstance(line, Mapping) else None, passes),
    ):
        if said != did:
            yield f"the summary says {what}: {said}; done: {did}"
