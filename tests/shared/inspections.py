"""Inspections judged by hand from printed and common practice: what was seen, and what a careful teacher would do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


def recipe(
    *,
    cut: str = "crosscut",
    kind: str = "panel",
    count: str = "points_per_inch = 8",
    length: str = "22 in",
    plate: str = "0.035 in",
    per_side: str = "6 thou",
    least: str = "3 thou",
    leans: str = "away",
) -> str:
    """A recipe as its owner would write it; a panel saw of 8 points, unless told."""
    fleam, rake = (25.0, 15.0) if cut == "crosscut" else (0.0, 4.0)
    return f"""\
format = 1
[saw]
name = "Netloft saw"
kind = "{kind}"
cut = "{cut}"
toothed_length = "{length}"
plate_thickness = "{plate}"
[teeth]
{count}
rake = {rake}
fleam = {fleam}
first_leans = "{leans}"
[set]
per_side = "{per_side}"
least_per_side = "{least}"
[work]
dressing_passes = 1
"""


@dataclass(frozen=True)
class Inspection:
    """What was seen, and what is to be done.

    number: as the list of cases numbers it. seen: a SEEN.toml. work: what is advised, in order. looks: what has to be
    among the looks asked for. told: words that the reasons or notes have to hold.
    """

    number: str
    seen: str
    work: tuple[str, ...]
    looks: tuple[str, ...] = ()
    stop: bool = False
    told: tuple[str, ...] = ()
    recipe: str = recipe()


def _over(*thou: float) -> str:
    return f"over_points = {[f'{(35 + 2 * one) / 1000:.4f} in' for one in thou]}\n".replace("'", '"')


_SHARP: Final = 'bright = "none"\n'

INSPECTIONS: Final = (
    Inspection("1", _SHARP + 'last_cut = "good"\n' + _over(6), ("nothing",), told=("hang it up", "note the date")),
    Inspection(
        "2", 'bright = "some"\nlast_cut = "slow"\n' + _over(5), ("level", "file", "dress"), told=("light pass",)
    ),
    Inspection(
        "4",
        _SHARP + 'last_cut = "none"\nlast_sharpened = 2026-10-20\n' + _over(6),
        ("nothing",),
        ("last_cut",),
        told=("trial cut",),
    ),
    Inspection(
        "6",
        'line = "hollow"\nline_gap = "1/16 in"\nbright = "most"\nlast_cut = "slow"\n',
        ("level", "reshape", "level again", "set", "file", "dress"),
        told=("in rounds", "share it out", "third of the pitch"),
    ),
    Inspection(
        "8",
        'line = "crowned"\nbright = "some"\nlast_cut = "good"\n',
        ("level", "file", "dress"),
        told=("keep the crown",),
    ),
    Inspection(
        "10",
        'sizes = "alternate"\nbright = "most"\n',
        ("level", "reshape", "level again", "file", "dress"),
        told=("size",),
    ),
    Inspection(
        "12",
        'high = [21]\nlow = []\nbroken = []\nsizes = "even"\n',
        ("level", "file", "dress"),
        told=("toward 21 in gullets 20 and 21", "straight in all others"),
    ),
    Inspection("14", _SHARP + 'last_cut = "good"\n' + _over(2.5), ("nothing",), told=("leave it",)),
    Inspection("16", _SHARP + 'last_cut = "rough"\n' + _over(12), ("stone both",), told=("measure, cut",)),
    Inspection("18", _SHARP + 'last_cut = "rough"\n' + _over(8.7), ("stone both",), told=("8.7 thou",)),
    Inspection("20", _over(-1), ("nothing",), ("over_points",), told=("plate beside the teeth",)),
    Inspection("22", 'crack = { gullet = 40, length = "1/8 in" }\n', ("out of use",), stop=True, told=("1/8 in",)),
    Inspection("24", "points_in_line = 140\n", ("mend recipe",), told=("length / 139", "distances, depth and file")),
    Inspection("26", "broken = [47]\n", ("touch up",), ("bright", "last_cut"), told=("stump", "gullets 46 and 47")),
    Inspection("28", f"broken = {list(range(4, 4 + 29 * 5, 5))}\n", ("retooth",), stop=True, told=("hang the saw up",)),
    Inspection("30", 'last_cut = "binds"\n' + _over(7), ("wax",), ("plate", "wood")),
    Inspection("32", _SHARP + 'last_cut = "binds"\n' + _over(4.5), ("set",), told=("a touch more",)),
    Inspection("34", 'last_cut = "wanders"\nplate = ["kinked"]\n', ("straighten plate",), told=("No filing helps",)),
    Inspection("36", _SHARP + 'last_cut = "rough"\n' + _over(6), ("stone both",), told=("size of its teeth",)),
    Inspection("38", 'handle = "loose"\nlast_cut = "wanders"\n', ("tighten handle",), told=("feels like wander",)),
    Inspection("39", 'first_leans = "toward"\n', ("mend recipe",), told=("every side changes",)),
    Inspection(
        "40",
        'bright = "most"\n',
        ("level", "set", "file", "dress"),
        told=("five or six teeth, measure",),
        recipe=recipe(leans="unset"),
    ),
    Inspection(
        "42",
        _SHARP + 'last_cut = "rough"\ncut = "across"\n',
        ("other saw",),
        told=("crosscut saw",),
        recipe=recipe(cut="rip", kind="rip", count="points_per_inch = 5.5", length="28 in", plate="0.049 in"),
    ),
    Inspection(
        "44",
        _SHARP + 'last_cut = "good"\nover_points = ["0.0210 in"]\n',
        ("nothing",),
        told=("leave it",),
        recipe=recipe(
            cut="rip",
            kind="dovetail",
            count="points_per_inch = 15",
            length="8 in",
            plate="0.020 in",
            per_side="3 thou",
            least="1.5 thou",
        ),
    ),
    Inspection(
        "48",
        'plate = ["narrow"]\nsizes = "alternate"\nbright = "most"\nlast_cut = "slow"\n',
        ("level", "file", "dress"),
        told=("little steel is left", "no reshaping"),
    ),
)
