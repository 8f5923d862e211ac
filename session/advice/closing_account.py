"""What one sharpening came to, for whoever keeps it: line, set, steel, strokes, and what was left; nothing is made up.

Each line is one of the record. What nobody measured says so.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from session.log.log_reader import read_log
from session.log.summary import summary_of
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.texts.wording import area, fine, off_line, teeth, times, within
from session.till.past_sharpening import Sharpening
from session.till.record_place import lines_beside
from session.trade.grades import WORDS
from session.trade.rounding import decimals
from session.walk.account import Account
from session.walk.corner_work import FILED_IN
from session.walk.flagged_places import flags_left
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import Stage

#: So many places are named one by one; the record has them all.
MOST_NAMED: Final = 12

_NOT: Final = "not looked at"


def closing_account(one: Sharpening, account: Account) -> tuple[str, ...]:
    """The account of ``one``, whose marks come to ``account``: a line each, the places of a list indented by two cells.

    What was left out is not in it: the screen lists that whole (bench rule 10).
    """
    return (
        *_named("Flags still open", [_place(place, mark) for place, mark in flags_left(account).items()]),
        *closing_facts(one),
        *together(account),
        *_passed(account),
        *scanned_change(one),
    )


def closing_facts(one: Sharpening) -> tuple[str, ...]:
    """The account without its lists: what was done, and what is known of the saw by it."""
    return (
        _worked(one),
        _strokes(one),
        *_line(one),
        *_set(one),
        _steel(one),
        _file(one),
        _cut(one),
    )


def scanned_change(one: Sharpening) -> tuple[str, ...]:
    """What ``one`` did to the line by the scans before and after it; nothing where they do not tell it."""
    if not lines_beside(one.path):
        return ()
    # What reads scans and compares them is loaded where a line was ever kept: in few tills.
    from session.advice.scan_change import change_by

    return change_by(one)


def account_of(path: Path) -> tuple[str, ...]:
    """The account of the record at ``path``; none where it cannot be read: it is not worth a screen that does not
    open."""
    try:
        log = read_log(path)
    except Refusal:
        return ()
    one = Sharpening(path=path, header=log.header, state=log.state, odd="", summary=summary_of(log))
    return closing_account(one, Account.of(log.marks))


def _worked(one: Sharpening) -> str:
    summary = one.summary
    done, passes = summary.done, summary.line.passes
    parts = [
        f"leveled with {times(passes, 'pass')}" if passes else "",
        f"reshaped {times(done[Stage.RESHAPE], 'gullet')}" if done.get(Stage.RESHAPE) else "",
        f"set {times(done[Stage.SET], 'tooth')}" if done.get(Stage.SET) else "",
        f"filed {times(done[Stage.FILE], 'gullet')}" if done.get(Stage.FILE) else "",
        f"dressed with {times(done[Stage.DRESS], 'pass')}" if done.get(Stage.DRESS) else "",
    ]
    told = ", ".join(part for part in parts if part) or "no steel was touched"
    begun = f"{summary.first:%Y-%m-%d %H:%M}, " if summary.first is not None else ""
    return f"Work: {begun}{decimals(summary.minutes, 0)} min: {told}."


def _strokes(one: Sharpening) -> str:
    gullets = sum(work.gullets for work in one.files)
    counted, strokes = (sum(getattr(work, name) for work in one.files) for name in ("counted", "strokes"))
    if not gullets:
        return "Strokes: nothing was filed."
    # One in every gullet of a stage an older log may have claimed of its own accord: told so, nothing rests on it.
    ones = sum(one.summary.strokes.get(stage, 0) for stage in FILED_IN) - strokes
    if not counted:
        told = f"1 told in each of {ones} of" if ones else "not counted in"
        return f"Strokes: {told} {times(gullets, 'gullet')}."
    each = one.summary.line.strokes_each
    filing = " of the filing" if one.summary.done.get(Stage.RESHAPE) else ""
    middle = "" if each is None else f", the middle {each:g} a gullet{filing}"
    others = f"; 1 told in each of {ones} others" if ones else ""
    return f"Strokes: {strokes} counted in {counted} of {times(gullets, 'gullet')}{middle}{others}."


def _line(one: Sharpening) -> Iterable[str]:
    """The line before the work and after it: what was seen, the flats by their grades, the teeth that stay low."""
    seen = [
        f"{name} {clean(told)}" if (told := one.text(what)) else f"{name} {_NOT}"
        for name, what in (("line", Measurable.LINE), ("sizes", Measurable.SIZES))
    ]
    if told := one.text(Measurable.HIGH_TEETH):
        seen.append(f"high teeth: {clean(told)}")
    if broken := one.summary.broken:
        seen.append(f"broken: {teeth(broken)}")
    yield f"Line before: {'; '.join(seen)}."
    yield from _flats(one)
    after = [
        f"{name} {clean(told)}" if (told := one.text(what)) else f"{name} {_NOT}"
        for name, what in (("trough", Measurable.TROUGH), ("needle", Measurable.NEEDLE))
    ]
    facts = one.summary.line
    if facts.low:
        after.append(f"still low: {teeth(facts.low, of=facts.low_count)}")
    yield f"Line after: {'; '.join(after)}."


def _flats(one: Sharpening) -> Iterable[str]:
    """The flats by their grades, of each leveling by when it was; where those of the first are not known, that too."""
    flats = one.summary.line.flats
    if not flats:
        told = one.text(Measurable.FLATS)
        yield f"Flats: not graded{f', looked at: {clean(told)}' if told else ''}."
    elif _first_not_graded(one):
        yield "Flats: not graded after the first leveling."
    later = 0
    for number in sorted(flats):
        when = {1: "Flats", 2: "Flats after reshaping"}.get(number)
        if when is None:
            later += 1
            when = "Flats, leveled later" if later == 1 else f"Flats, leveled later, {later}"
        yield f"{when}: {_grades(flats[number])}."


def _first_not_graded(one: Sharpening) -> bool:
    """Whether there was a leveling before all those whose flats are known."""
    line = one.summary.line
    return 1 not in line.flats and (line.levelings is None or line.levelings > len(line.flats))


def _grades(counts: tuple[int, ...]) -> str:
    """How many flats had each grade; those of an older scale by their number alone."""
    words = WORDS if len(counts) == len(WORDS) else tuple(f"grade {grade}" for grade in range(len(counts)))
    return ", ".join(f"{count} {word}" for word, count in zip(words, counts, strict=True) if count)


def _set(one: Sharpening) -> Iterable[str]:
    found, left = one.found_set_mm, one.left_set_mm
    # Where nothing was measured there is no unit to ask the recipe for.
    unit = "" if found is None and left is None else _unit(one)
    yield f"Set before: {'not measured' if found is None else f'{fine(found, unit)} a side, measured'}."
    if left is None:
        yield "Set after: not measured."
    elif one.measured_end_mm is not None:
        yield f"Set after: {fine(left, unit)} a side, measured at the end."
    elif (told := one.measured_after_mm) is not None:
        stoned = f", by the usual about {fine(left, unit)} once stoned" if one.stone_passes else ""
        yield f"Set after: {fine(told, unit)} a side, measured after setting{stoned}."
    else:
        yield f"Set after: {fine(left, unit)} a side, reckoned from what was found and what came off, not measured."


def _steel(one: Sharpening) -> str:
    down = one.came_down_mm
    if down is None:
        line = one.summary.line
        if not (one.gullets or line.passes):
            return "Steel: none was taken."
        if not line.passes:
            return f"Steel: not known, strokes were {_counted(one)}."
        return f"Steel: not known, {_ungraded(one)}."
    if not down:
        return "Steel: none off the line."
    # Grades are coarse: by them nobody knows more than a range.
    if one.summary.line.passes and (off := one.lowered) is not None:
        by = "flats that a scan measured" if one.summary.line.by_scan else "graded flats"
        return f"Steel: about {within(off.least_mm, off.most_mm, _unit(one))} off the line, by the {by}."
    return f"Steel: about {fine(down, _unit(one))} off the line, by the strokes counted."


def _ungraded(one: Sharpening) -> str:
    """Which flats of a leveled line nobody knows, be it that they were not graded or that they were reshaped away."""
    flats = one.summary.line.flats
    if not flats:
        return "flats were not graded"
    if _first_not_graded(one):
        return "flats were not graded after the first leveling"
    if one.summary.done.get(Stage.RESHAPE) and len(flats) < 2:
        return f"gullets were reshaped, and no flats graded {'after' if 1 in flats else 'before'} that"
    return "flats were graded after one leveling and not after another"


def _counted(one: Sharpening) -> str:
    """How the strokes of a filing were counted of which no middle is told."""
    if any(work.counted for work in one.files):
        return "counted in fewer than half of the gullets"
    return "told as 1 everywhere" if one.summary.strokes.get(Stage.FILE) else "not counted"


def _file(one: Sharpening) -> str:
    told = [
        f"{work.file or 'a file not named'}{f', corner {work.corner}' if work.corner else ''}: "
        f"{times(work.gullets, 'gullet')}"
        for work in one.files
        if work.gullets
    ]
    return f"File: {'; '.join(told)}." if told else "File: none was used in the gullets."


def _cut(one: Sharpening) -> str:
    went, trial = one.cut_went, one.trial
    if went is None:
        return "Trial cut: none was told."
    measured = "; length, board and strokes were not told"
    if trial is not None:
        measured = f", {area(trial.area_mm2, _unit(one))} a stroke"
        if trial.wander_mm:
            measured += f", {off_line(trial.wander_per_100_mm, _unit(one))} to the {trial.wander_side}"
    faults = one.summary.faults
    before = f"; the {'cuts' if len(faults) > 1 else 'cut'} before it: {clean(', '.join(faults))}" if faults else ""
    return f"Trial cut: {went}{measured}{before}."


def together(account: Account) -> Iterable[str]:
    """How many places were marked together, from a place set by hand: done by word, and not counted one by one."""
    by_stage: dict[str, int] = {}
    for place, mark in account.outcomes.items():
        if mark.did is Did.DONE and mark.many is not None:
            by_stage[str(place.stage)] = by_stage.get(str(place.stage), 0) + 1
    if by_stage:
        told = ", ".join(f"{stage} {count}" for stage, count in by_stage.items())
        yield f"Marked together, not one by one: {told}."


def _passed(account: Account) -> Iterable[str]:
    told = [f"{stage}: {clean(', '.join(steps))}" for stage, steps in account.passed_steps().items()]
    if told:
        yield f"Skipped: {'; '.join(told)}."


def _named(heading: str, places: list[str]) -> Iterable[str]:
    if not places:
        yield f"{heading}: none."
        return
    yield f"{heading}: {len(places)}"
    yield from places[:MOST_NAMED]
    if len(places) > MOST_NAMED:
        yield f"  and {len(places) - MOST_NAMED} more, in the record"


def _place(place: Place, mark: Mark) -> str:
    side = f", side {place.side}" if place.side else ""
    why = f" – {clean(mark.reason).rstrip('.')}" if mark.reason else ""
    return f"  {place.stage}{side}: {place}{why}"


def _unit(one: Sharpening) -> str:
    return one.saw.unit if one.saw is not None else "mm"
