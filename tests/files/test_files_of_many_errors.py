"""A file of other origin with thousands of errors: no more work a key than reading it as TOML takes, and told in full.

Work is counted in calls, which are the same on every machine; a step that looks at all keys for each key shows in them.
"""

from __future__ import annotations

import cProfile
import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from session.files.checked_file import MOST_ERRORS
from session.files.cut_file import read_cut
from session.files.flats_file import load_flats
from session.files.owned_files import load_files_owned
from session.files.recipe import load_recipe
from session.files.seen_file import load_seen
from session.files.settings import MOST_COMPLAINTS, load_settings
from session.log.log_reader import is_log, read_ends, read_log
from session.machine.refusal import Refusal
from session.machine.untrusted_text import parse

READERS: dict[str, Callable[[Path], Any]] = {
    "recipe": load_recipe,
    "settings": load_settings,
    "flats": load_flats,
    "seen": load_seen,
    "cut": read_cut,
    "files owned": load_files_owned,
    "log": read_log,
    "ends of a log": read_ends,
    "log or recipe": is_log,
}

FILES: dict[str, Callable[[int], str]] = {
    "unknown keys": lambda n: "".join(f"k{i}=1\n" for i in range(n)),
    "unknown keys of a known table": lambda n: "[saw]\n" + "".join(f"k{i} = 1\n" for i in range(n)),
    "unknown sections": lambda n: "".join(f"[s{i}]\na = 1\n" for i in range(n)),
    "keys given twice": lambda n: "format = 1\n" * n,
    "actions without a key": lambda n: "[keys]\n" + "".join(f"k{i} = []\n" for i in range(n)),
    "actions of one key": lambda n: "[keys]\n" + "".join(f'k{i} = ["x"]\n' for i in range(n)),
    "one long array": lambda n: "flats = [\n" + "1,\n" * n + "]\n",
    "an array of empty flats": lambda n: "flats = [\n" + "[],\n" * n + "]\n",
    "teeth": lambda n: "high = [\n" + "1,\n" * n + "]\n",
    "what a plate is": lambda n: "plate = [\n" + '"sound",\n' * n + "]\n",
    "widths": lambda n: "widths = [\n" + "-1,\n" * n + "]\n",
    "empty files owned": lambda n: "[[file]]\n" * n,
    "empty zones": lambda n: "[teeth]\n" + "[[teeth.zone]]\n" * n,
    "tables in a line": lambda n: "".join(f"k{i} = {{ a = 1, b = 2 }}\n" for i in range(n)),
    "dotted keys": lambda n: "".join(f"a.b.c.d.e.f.k{i} = 1\n" for i in range(n)),
    "nested lists": lambda n: "".join(f"k{i} = {'[' * 20}{']' * 20}\n" for i in range(n)),
    "one nest": lambda n: "a = [\n" + "[\n" * n + "]\n" * n + "]\n",
}

#: Keys, or entries, of each file.
MANY = 400

#: Calls a key beside those of reading the file as TOML, which may happen twice: where only the ends of a log are looked
#: at, a part is tried first.
EACH = 25

#: Calls to say what is wrong with the few that are told, likenesses and all, however long the file is.
TELLING = 45_000


def calls(act: Callable[[], object]) -> int:
    """How many calls ``act`` comes to, those into C among them."""
    profile = cProfile.Profile()
    profile.enable()
    try:
        with suppress(Refusal, ValueError):
            act()
    finally:
        profile.disable()
    return sum(int(one.callcount) for one in profile.getstats())


@pytest.mark.parametrize(
    "reader", [name if name in ("recipe", "log") else pytest.param(name, marks=pytest.mark.wide) for name in READERS]
)
def test_many_errors_cost_little_more_than_reading_the_file(reader: str, tmp_path: Path) -> None:
    path, read = tmp_path / "file.toml", READERS[reader]
    path.write_text("x = 1\n", encoding="utf-8")
    calls(lambda: read(path))  # what is made once for all files
    dear = {}
    for what, of in FILES.items():
        text = of(MANY)
        path.write_text(text, encoding="utf-8")
        work = calls(lambda: read(path))
        floor = calls(lambda text=text: parse(text))  # type: ignore[misc]
        if work > 2 * floor + EACH * MANY + TELLING:
            dear[what] = (work, floor)
    assert dear == {}


@pytest.mark.parametrize(
    ("reader", "many"),
    [
        *((reader, 1_234) for reader in ("recipe", "seen", "flats")),
        pytest.param("recipe", 93_412, marks=pytest.mark.wide),
    ],
)
def test_the_first_errors_by_line_are_told_and_the_rest_counted(reader: str, many: int, tmp_path: Path) -> None:
    path = tmp_path / "file.toml"
    path.write_text("\n\n" + FILES["unknown keys"](many), encoding="utf-8")
    with pytest.raises(Refusal) as refused:
        READERS[reader](path)
    *told, rest = refused.value.lines
    assert len(told) == MOST_ERRORS
    # Keys that are missing, where some have to be there, are told first: they stand nowhere.
    missing = [line for line in told if line.startswith(f"{path}:1: ")]
    found = [re.fullmatch(r".*?:(\d+): k(\d+): is not a known key; .*", line) for line in told[len(missing) :]]
    assert [one and (int(one[1]), int(one[2])) for one in found] == [(n + 3, n) for n in range(len(found))]
    counted = re.fullmatch(r".*: and ([\d,]+) more errors", rest)
    assert counted is not None
    assert int(counted[1].replace(",", "")) >= many - MOST_ERRORS + len(missing)


def test_settings_tell_the_first_slips_of_many_and_go_on(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('drawing = "ascii"\n' + FILES["unknown keys"](4_020), encoding="utf-8")
    settings, told = load_settings(path)
    assert settings.drawing == "ascii"
    assert len(told) == MOST_COMPLAINTS + 1
    assert told[0].startswith(f"{path}:2: k0: is not a known key")
    assert told[-1] == f"{path}: and 4,000 more"


def test_a_few_errors_far_down_have_their_lines_and_missing_ones_that_of_their_table(tmp_path: Path) -> None:
    path = tmp_path / "seen.toml"
    path.write_text("#\n" * 5_000 + "[crack]\ngullet = 0\n[later]\n[[more]]\n[[more]]\n", encoding="utf-8")
    with pytest.raises(Refusal) as refused:
        load_seen(path)
    assert [line.removeprefix(f"{path}:").partition(": ")[0] for line in refused.value.lines] == [
        "5002",
        "5003",
        "5004",
    ]
