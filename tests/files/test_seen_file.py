"""SEEN.toml: each key as it is written, and every wrong one told with its line."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.files.seen_file import load_seen
from session.machine.refusal import Refusal
from session.trade.lengths import parse_length
from session.trade.observation import Crack, Seen
from session.trade.saw import Leans
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward

EVERY_KEY = """\
format = 1
first_leans = "toward"
points_in_an_inch = 8.5
points_in_25mm = 8
points_in_line = 155
plate = ["bent", "rusty"]
crack = { gullet = 40, length = "1/8 in" }
hard_teeth = false
handle = "loose"
line = "hollow"
line_gap = "1/32 in"
sizes = "here and there"
high = [21]
low = "none"
broken = ["40-42", 47]
bright = "some"
over_points = ["0.047 in", "0.048 in"]
last_cut = "wanders"
wanders_to = "left"
cut = "across"
wood = "dry hardwood"
last_sharpened = 2026-10-20
"""


def written(text: str, folder: Path) -> Path:
    path = folder / "seen.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_key_is_read(tmp_path: Path) -> None:
    assert load_seen(written(EVERY_KEY, tmp_path)) == Seen(
        first_leans=Leans.TOWARD,
        points_in_an_inch=8.5,
        points_in_25mm=8.0,
        points_in_line=155,
        plate=frozenset({Plate.BENT, Plate.RUSTY}),
        crack=Crack(40, parse_length("1/8 in")),
        hard_teeth=False,
        handle=Handle.LOOSE,
        line=LineShape.HOLLOW,
        line_gap=parse_length("1/32 in"),
        sizes=Sizes.HERE_AND_THERE,
        high=(21,),
        low=(),
        broken=(40, 41, 42, 47),
        bright=Bright.SOME,
        over_points=(parse_length("0.047 in"), parse_length("0.048 in")),
        last_cut=Cutting.WANDERS,
        wanders_to=Toward.LEFT,
        cut=Grain.ACROSS,
        wood="dry hardwood",
        last_sharpened=date(2026, 10, 20),
    )


def test_nothing_seen_is_nothing_known(tmp_path: Path) -> None:
    assert load_seen(written("format = 1\n", tmp_path)) == Seen()


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('bright = "mostly"', 'bright: "mostly" is not known; did you mean "most"?'),
        ("bright = 3", "bright: 3 is not known; allowed:"),
        ('line_gap = "1/16"', 'line_gap: "1/16" has no unit; allowed units:'),
        ("line_gap = 2", "line_gap: not a text with a unit"),
        ('plate = ["straight", "kinked"]', 'plate: "straight" cannot stand beside "kinked"; allowed:'),
        ('plate = ["shiny"]', 'plate: "shiny" is not known of a plate; allowed:'),
        ("plate = []", "plate: an empty list says nothing; allowed:"),
        ('plate = ["sound"]\ncrack = {}', 'plate: "sound" cannot stand beside a crack; allowed:'),
        ('over_points = ["1 in", "1 in", "1 in", "1 in", "1 in", "1 in"]', "over_points: 6 widths; allowed: 1 to 5"),
        ('over_points = ["0.05 in", "0 mm"]', "over_points: width 2: 0 mm is no width; allowed:"),
        ('broken = "47-40"', 'broken: "47-40" runs backward; allowed:'),
        ("broken = [true]", "broken: a list of teeth holds something else; allowed:"),
        ("crack = { gulet = 3 }", 'crack.gulet: is not a known key; did you mean "gullet"?'),
        ('last_sharpened = "lately"', "last_sharpened: is not a day; allowed:"),
        ("points_in_line = 1", "points_in_line: 1 is out of range; allowed:"),
        ("points_in_an_inch = nan", "points_in_an_inch: nan points; allowed:"),
        ('last_cut = "binds"\nwanders_to = "left"', 'wanders_to: goes with last_cut = "wanders" only; allowed:'),
        ("hard_teeth = 1", "hard_teeth: 1 is not true or false; allowed:"),
        ('brightness = "some"', "brightness: is not a known key;"),
        ('wood = ""', "wood: is not a wood; allowed:"),
    ],
)
def test_what_is_wrong_is_told_with_its_line_and_what_is_allowed(line: str, said: str, tmp_path: Path) -> None:
    path = written(f"format = 1\n{line}\n", tmp_path)
    with pytest.raises(Refusal) as wrong:
        load_seen(path)
    (error,) = wrong.value.lines
    number, _, told = error.removeprefix(f"{path}:").partition(": ")
    assert int(number) in (2, 3)
    assert told.startswith(said)
    assert "allowed" in told


def test_all_errors_are_told_at_once(tmp_path: Path) -> None:
    path = written('bright = "x"\nsizes = "y"\ncrack = {}\nplate = ["sound"]\nbroken = "z"\n', tmp_path)
    with pytest.raises(Refusal) as wrong:
        load_seen(path)
    assert [error.removeprefix(f"{path}:").split(":")[0] for error in wrong.value.lines] == ["1", "2", "4", "5"]


_VALUES = st.recursive(
    st.booleans()
    | st.integers(-5, 5000)
    | st.floats()
    | st.sampled_from(['"some"', '"40-44"', '"0.05 in"', "1979-01-01"]),
    lambda inner: st.lists(inner, max_size=3).map(lambda many: f"[{', '.join(map(_toml, many))}]"),
    max_leaves=5,
)


def _toml(value: object) -> str:
    return str(value).lower() if isinstance(value, bool | float) else str(value)


@given(st.dictionaries(st.sampled_from([line.split(" =")[0] for line in EVERY_KEY.splitlines()]), _VALUES, max_size=6))
def test_any_values_are_read_or_refused_in_words(values: dict[str, object]) -> None:
    with TemporaryDirectory() as folder:
        path = written("".join(f"{key} = {_toml(value)}\n" for key, value in values.items()), Path(folder))
        try:
            load_seen(path)
        except Refusal as wrong:
            told = wrong.lines
        else:
            told = ()
        assert all(line.startswith(f"{path}:") for line in told)
