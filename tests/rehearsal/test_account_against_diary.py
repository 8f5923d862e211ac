"""The account of a finished sharpening, line by line, against the filer's diary and its plate."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from copy import deepcopy
from statistics import median
from typing import Any, Final

import pytest

from plate_truth import line_mm
from session.advice.closing_account import closing_account
from session.log.log_reader import read_log
from session.log.summary import summary_of
from session.rehearsal.diary import Deed, Kept
from session.rehearsal.plate import SimulatedPlate
from session.till.past_sharpening import Sharpening
from session.trade.grades import SHARES, WORDS
from session.trade.kerf import CALIPER_MM
from session.trade.lengths import MM_PER
from session.trade.saw import Saw
from session.trade.setting import STONE_PASS_MM
from session.walk.account import Account
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import GOOD, Measurable
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

#: Hands that reshape, that add work after a bad cut, that give each gullet one stroke; flats graded, placed or neither.
FEW: Final = (
    ("panel", 2, False),
    ("panel", 1, False),
    ("one-sided rip", 3, False),
    ("dovetail", 10, False),
    ("never set", 8, False),
    ("leaning toward", 3, True),
    ("from the toe", 2, True),
    ("dovetail", 3, True),
)

#: Seeds of each saw in a soak.
MANY: Final = range(1, 13)


#: What a trial cut may show that is no good one.
FAULTS: Final = frozenset(MEASURABLES[Measurable.TRIAL_CUT].choices) - {GOOD}


class Held:
    """One sharpening with the lines of its account, its filer's diary, and the plate before and after."""

    def __init__(self, kind: Any, saw: Saw, seed: int, *, strip: bool = False) -> None:
        walk = kind(saw, make_plan(saw), seed, None, None, strip=strip)
        self.before: SimulatedPlate = deepcopy(walk.filer.plate)
        walk.run()
        walk.desk.sitting.close()
        path = walk.desk.sitting.journal.path
        log = read_log(path)
        self.one = Sharpening(path=path, header=log.header, state=log.state, odd="", summary=summary_of(log))
        # The header of a rehearsal holds no recipe.
        self.one.__dict__["saw"] = saw
        self.plate: SimulatedPlate = walk.filer.plate
        self.diary: list[Deed] = walk.filer.diary
        self.lines = dict(line.split(": ", 1) for line in closing_account(self.one, Account.of(log.marks)))

    def number(self, line: str, pattern: str) -> int:
        """The number that ``line`` of the account says by ``pattern``; 0 where it says none."""
        found = re.search(pattern, self.lines[line])
        return int(found[1]) if found else 0

    def filed(self, *stages: Stage) -> list[int]:
        """The strokes of each gullet that got any."""
        return [d.numbers[2] for d in self.diary if d.kept is Kept.FILE and d.stage in stages and d.numbers[2]]

    def many(self, kept: Kept) -> int:
        return sum(deed.kept is kept for deed in self.diary)


def worked(held: Held) -> Mapping[str, tuple[int, int]]:
    """By what was done, how often the account says so and how often it was."""
    said = held.number
    return {
        "passes": (said("Work", r"leveled with (\d+)"), held.many(Kept.PASS)),
        "teeth set": (said("Work", r"set (\d+) t"), held.many(Kept.BEND)),
        "passes of the stone": (said("Work", r"dressed with (\d+)"), held.many(Kept.STONE)),
        "gullets filed": (said("Work", r"filed (\d+)"), len(held.filed(Stage.FILE))),
    }


def told_as_done(held: Held) -> None:
    """Every number of the account's work is that of the diary."""
    for what, (said, did) in worked(held).items():
        assert said == did, what
    reshaped = held.number("Work", r"reshaped (\d+)")
    # Beside one gullet the back of tooth 1 is filed where it has a flat, so that nobody can say it got no stroke.
    assert 0 <= reshaped - len(held.filed(Stage.RESHAPE)) <= 1
    strokes = held.filed(Stage.FILE, Stage.RESHAPE)
    counted, ones = held.number("Strokes", r"^(\d+) counted"), held.number("Strokes", r"1 told in each of (\d+)")
    assert counted + ones == sum(strokes), held.lines["Strokes"]
    if middle := re.search(r"the middle ([\d.]+) a gullet", held.lines["Strokes"]):
        assert float(middle[1]) == median(held.filed(Stage.FILE))
    assert held.one.summary.left_out == held.many(Kept.LEFT_OUT)
    assert "Marked together, not one by one" not in held.lines


def told_as_seen(held: Held) -> None:
    """Flats stand in it by the grades that were given, and the cuts before the last as they went."""
    grades = [deed.numbers[1] for deed in held.diary if deed.kept is Kept.GRADE]
    said = Counter[str]()
    for line, told in held.lines.items():
        if line.startswith("Flats") and not told.startswith("not graded"):
            for count, word in re.findall(r"(\d+) ([a-z ]+)", told):
                said[word] += int(count)
    assert said == Counter(WORDS[grade] for grade in grades)
    faults = [deed.text for deed in held.diary if deed.stage is Stage.PROVE and deed.text in FAULTS]
    cut = held.lines["Trial cut"]
    if cut.startswith(GOOD):
        assert (f"before it: {', '.join(faults)}." in cut) if faults else "before it" not in cut
    else:
        assert cut.startswith(faults[-1])


def told_as_it_is(held: Held) -> None:
    """Set and steel are those of the plate, within what an eye and a caliper tell."""
    plate, left, down = held.plate, held.one.left_set_mm, held.one.came_down_mm
    whole = [k for k in range(1, plate.points + 1) if not plate.tooth(k).broken]
    assert (left is None) is (held.lines["Set after"] == "not measured.")
    if left is not None:
        # A pass of the stone is reckoned at what is usual; hands differ by less than that.
        doubt = CALIPER_MM if "measured at the end" in held.lines["Set after"] else CALIPER_MM + STONE_PASS_MM
        assert left == pytest.approx(median(plate.set_mm(k) for k in whole), abs=doubt)
    assert (down is None) is held.lines["Steel"].startswith("not known")
    if down and held.one.summary.line.passes:
        steel_within_what_grades_tell(held)
    elif down:
        # By the strokes, each at its usual bite: from the sharp points of before to today's, what the middle tooth
        # lost, and what the highest did, which of a hollow line is more.
        middle = median(held.before.apex_mm(k) - plate.tooth(k).top for k in whole)
        highest = max(held.before.apex_mm(k) for k in whole) - line_mm(plate)
        assert 2 / 3 * min(middle, highest) <= down <= 3 / 2 * max(middle, highest)


def steel_within_what_grades_tell(held: Held) -> None:
    """What the middle tooth lost lies in the range that is told; and that is no wider than the grades justify."""
    one, plate, off = held.one, held.plate, held.one.lowered
    assert off is not None
    # A tooth that showed no flat was not reached, and says nothing of how far the line came down.
    rounds = Account.of(read_log(one.path).marks).tally.rounds
    flats = [rounds[number].flats for number in one.summary.line.flats]
    reached = [k for k in range(1, plate.points + 1) if all(told.get(k, 0.0) > 0.0 for told in flats)]
    assert off.least_mm <= median(held.before.apex_mm(k) - plate.tooth(k).top for k in reached) <= off.most_mm
    # A grade may be off by half of itself, and no more, either way; and those above a hair by a quarter downward.
    narrow = all(median(width for width in told.values() if width) > SHARES[1] for told in flats)
    assert off.least_mm >= (0.75 if narrow else 0.5) * off.middle_mm - 1e-9
    assert off.most_mm <= 1.5 * off.middle_mm + 1e-9
    told = re.fullmatch(
        r"about ([\d.]+) to ([\d.]+) (thou|mm) off the line, by the graded flats\.", held.lines["Steel"]
    )
    assert told is not None, held.lines["Steel"]
    for said, meant in zip(told.groups()[:2], (off.least_mm, off.most_mm), strict=True):
        # In words to half of the step by which they go: no more than a quarter of what is said.
        assert float(said) * MM_PER[told[3]] == pytest.approx(meant, rel=0.25)


@pytest.mark.parametrize(
    ("name", "seed", "strip"), [*FEW[:3], *(pytest.param(*case, marks=pytest.mark.wide) for case in FEW[3:])]
)
def test_the_account_says_what_was_done(name: str, seed: int, strip: bool, saws: Mapping[str, Saw], kind: Any) -> None:
    held = Held(kind, saws[name], seed, strip=strip)
    told_as_done(held)
    told_as_seen(held)
    told_as_it_is(held)


@pytest.mark.soak("an account held against its filer's diary and plate")
@pytest.mark.parametrize("strip", [False, True])
@pytest.mark.parametrize("seed", MANY)
def test_ever_so_many_accounts_say_what_was_done(saw: Saw, seed: int, strip: bool, kind: Any) -> None:
    held = Held(kind, saw, seed, strip=strip)
    told_as_done(held)
    told_as_seen(held)
    told_as_it_is(held)
