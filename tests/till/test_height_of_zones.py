"""What came off a progressive line, whose flats are graded by the pitch of their own zone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from made_history import DAY0, header_of, numbered
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.log_reader import read_ends
from session.log.mark_block import encode
from session.log.summary import closing
from session.till.past_sharpening import Sharpening, sharpening
from session.trade.grades import GRADE
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

#: Upright teeth of 4, 5.5 and 7 points per inch are p / √3 deep.
DEPTHS = {42: 25.4 / 3 / 3**0.5, 78: 25.4 / 4.5 / 3**0.5, 115: 25.4 / 6 / 3**0.5}


def leveled(path: Path, grades: list[int]) -> Sharpening:
    """A record of the supplied progressive saw whose flats were given these grades."""
    recipe = load_recipe(supplied_folder("recipes") / "progressive-rip.toml")
    header = {**header_of(DAY0), "recipe": recipe.values, "plan": make_plan(recipe.saw).to_dict()}
    fields: list[dict[str, Any]] = [{"did": Did.DONE, "stage": Stage.LEVEL, "number": 1, "by": "key"}]
    fields += [
        {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": tooth, "value": grade, "unit": GRADE}
        for tooth, grade in enumerate(grades, 1)
    ]
    marks = numbered(fields, DAY0)
    end = Mark(seq=len(marks) + 1, at=marks[-1].at, did=Did.FINISHED)
    marks.append(closing(Account.of(marks), end))
    path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
    return sharpening(read_ends(path))


def test_one_height_off_is_told_from_other_grades_in_each_zone(tmp_path: Path) -> None:
    # Two hundredths of the pitch at the heel and four at the toe are one height; by the heel's depth alone it would be
    # told as twice as much. The zone between lies between two grades.
    grades = [2] * 42 + [3] * 36 + [3] * 37
    one = leveled(tmp_path / "one.toml", grades)
    assert 0.02 * DEPTHS[42] == pytest.approx(0.04 * DEPTHS[115])
    assert one.off_mm == pytest.approx(0.02 * DEPTHS[42])
    assert one.lowered is not None
    # Halfway to the grades beside it: 1.5 to 3 % of the coarse zone's pitch, as 3 to 6 % of the fine one's.
    assert one.lowered.least_mm == pytest.approx(0.015 * DEPTHS[42])
    assert one.lowered.most_mm == pytest.approx(0.03 * DEPTHS[42])


def test_teeth_without_a_flat_say_nothing_of_the_height(tmp_path: Path) -> None:
    grades = [0] * 42 + [0] * 36 + [2] * 37
    assert leveled(tmp_path / "toe.toml", grades).off_mm == pytest.approx(0.02 * DEPTHS[115])


def test_a_log_that_can_no_longer_be_read_tells_no_height(tmp_path: Path) -> None:
    one = leveled(tmp_path / "gone.toml", [2] * 115)
    one.path.unlink()
    assert one.off_mm is None
