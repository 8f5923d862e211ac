"""Each formula text of every supplied recipe gives the number that stands beside it, reckoned here from the text.

The reckoner below reads the words as a person does: signs of arithmetic, names of other numbers of the saw, and what
the recipe's own TOML says. It asks nothing of the rooms that made the numbers. What a text cannot say in one line (how
the planes of a swung and tipped file meet) is reckoned from geometry here.
"""

from __future__ import annotations

import math
import re
import tomllib
from typing import Any

import pytest

from session.advice.saw_figures import figure_groups, zone_groups
from session.advice.sourced_figure import MEMORY, OWN_RECIPE, Figure
from session.files.recipe import load_recipe, recipe_from_values
from session.files.supplied import supplied_recipes
from session.trade.saw import Saw

MM = {"mm": 1.0, "in": 25.4, "thou": 0.0254}


def recipes() -> list[tuple[str, dict[str, Any], Saw]]:
    """The supplied ones, and a file swung and tipped to either end on a plain line and on a progressive one."""
    found = [(one.stem, tomllib.loads(one.read_text("utf-8")), load_recipe(one).saw) for one in supplied_recipes()]
    for name, given, _ in list(found):
        if name in ("crosscut-panel", "progressive-rip"):
            for points in ("toe", "handle"):
                values = {**given, "teeth": {**given["teeth"], "fleam": 20, "slope": 12, "rake": 9}}
                values["work"] = {**given["work"], "file_points": points}
                found.append((f"{name} tipped to the {points}", values, recipe_from_values(values).saw))
    return found


RECIPES = recipes()


def mm(text: str) -> float:
    number, unit = text.split()
    return float(number) * MM[unit]


def teeth(given: dict[str, Any], first: int) -> dict[str, Any]:
    """The table of teeth as it holds for the zone whose first tooth this is, those before it written over."""
    own = {key: value for key, value in given["teeth"].items() if key != "zone"}
    at, tooth = 0.0, 1
    for zone in given["teeth"].get("zone", []):
        spaces = math.floor((mm(zone["begins"]) - at) / pitch(own) + 0.5)
        at, tooth = at + spaces * pitch(own), tooth + spaces
        if tooth > first:
            break
        if {"points_per_inch", "teeth_per_inch", "points_per_25mm", "pitch"} & zone.keys():
            own = {key: value for key, value in own.items() if not key.startswith(("points", "teeth", "pitch"))}
        own |= {key: value for key, value in zone.items() if key != "begins"}
    return own


def pitch(own: dict[str, Any]) -> float:
    if "pitch" in own:
        return mm(own["pitch"])
    if "teeth_per_inch" in own:
        return float(25.4 / own["teeth_per_inch"])
    return float(25.4 / (own["points_per_inch"] - 1) if "points_per_inch" in own else 25 / (own["points_per_25mm"] - 1))


class Reckoner:
    """Reads formula texts about one saw, or one zone of it."""

    def __init__(self, given: dict[str, Any], first: int, values: dict[str, Any]) -> None:
        own, saw = teeth(given, first), given["saw"]
        # A gauge is held against the outside table to what that gives; what follows rests on the number as told.
        plate = mm(saw["plate_thickness"]) if "plate_thickness" in saw else values["plate_mm"]
        self.given, self.own, self.values = given, own, values
        count = next((own[key] for key in ("points_per_inch", "teeth_per_inch", "points_per_25mm") if key in own), 0)
        self.plate, self.fleam, self.slope = plate, float(own.get("fleam", 0)), float(own.get("slope", 0))
        self.names: dict[str, float] = {
            "points per inch": count,
            "teeth per inch": count,
            "points per 25 mm": count,
            "toothed length": mm(saw["toothed_length"]),
            "pitch": pitch(own),
            "plate": plate,
            "fleam": self.fleam,
            "jaw": mm(given.get("work", {}).get("vise_jaw", "12 in")),
            "r": math.radians(own["rake"]),
            "f": math.radians(self.fleam),
            "s": math.radians(self.slope),
            "b": math.radians(60 - own["rake"]),
        }
        if "set" in given and "per_side" in given["set"]:
            self.names["set"] = mm(given["set"]["per_side"])
            self.names["least"] = mm(given["set"].get("least_per_side", "0 mm")) or values["set_least_mm"]
        for name, key in (("front", "rake_plate_deg"), ("back", "back_plate_deg"), ("depth", "depth_mm")):
            self.names[name] = values[key]

    def reckon(self, text: str) -> float:
        """The number of the arithmetic that ``text`` begins with, up to its first semicolon."""
        sum_, *notes = text.split("; ")
        depth = next((re.search(r"depth ([\d.]+) mm", note) for note in notes if note.startswith("depth")), None)
        names = dict(self.names) | ({} if depth is None else {"depth": float(depth[1])})
        whole = "down" if "whole ones" in sum_ else "near" if "to a whole number" in sum_ else ""
        after = 1 if sum_.endswith("to a whole number, + 1") else 0
        sum_ = re.sub(r", (to a whole number|whole ones|no |at least|for |the spaces).*", "", sum_)
        sum_ = re.sub(r" for (block rake r|b = ).*", "", sum_)
        sum_ = sum_.replace("−", "-").replace("·", "*")
        for name in sorted(names, key=len, reverse=True):
            angle = f"radians({names[name]!r})" if name in ("front", "back") and "tan " in sum_ else repr(names[name])
            sum_ = re.sub(rf"(?<![\w.]){re.escape(name)}(?![\w(])", angle, sum_)
        sum_ = re.sub(
            r"mm³( a stroke)?|mm off the line for a sharpening|mm to the stone|mm(?= )|the coarsest ", "", sum_
        )
        sum_ = re.sub(r"\b(sin|cos|tan) (radians\([^()]*\)|-?[\d.e-]+)", r"\1(\2)", sum_)
        assert not re.search(r"[A-Za-z]", re.sub(r"\b(a?sin|cos|a?tan|radians)\(|\de-\d", "", sum_)), sum_
        found = eval(sum_, {"__builtins__": {}}, _FUNCTIONS)
        found = math.floor(found + 1e-9) if whole == "down" else math.floor(found + 0.5) if whole else found
        return float(found + after)

    def slant(self) -> tuple[float, float]:
        """Rise and run, for each mm through the plate, of the line in which front and back of a tooth meet.

        The file's axis d lies in both flanks of its gullet. The back of the tooth was filed from the other side: the
        mirror image of what this side's file leaves.
        """
        toward = 1.0 if self.given.get("work", {}).get("file_points", "toe") == "toe" else -1.0
        f, s = self.names["f"] * toward, self.names["s"]
        axis = (math.sin(f) * math.cos(s), math.cos(f) * math.cos(s), math.sin(s))
        front = cross(axis, (-math.tan(math.radians(self.values["rake_plate_deg"])), 0.0, 1.0))
        mirrored = (axis[0], -axis[1], axis[2])
        back = cross(mirrored, (math.tan(math.radians(self.values["back_plate_deg"])), 0.0, 1.0))
        top = cross(front, back)
        edge = math.acos(abs(front[1]) / math.hypot(*front))
        return top[2] / top[1] * toward, math.degrees(edge)


#: An angle is told in degrees.
_FUNCTIONS = {name: getattr(math, name) for name in ("sin", "cos", "tan", "radians")} | {
    "asin": lambda share: math.degrees(math.asin(share)),
    "atan": lambda share: math.degrees(math.atan(share)),
}


def cross(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, float, float]:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def gauge_mm(number: int) -> float:
    from fluids.piping import t_from_gauge  # slow to import, and only this needs it

    return float(t_from_gauge(number, schedule="BWG") * 1000)


#: Numbers that a text quotes and does not reckon, and those of the file, which are held against a solid cut elsewhere.
QUOTED = ("set_usual", "set_printed", "file_face", "steel_")


def checked(figure: Figure, of: Reckoner) -> bool:
    """Hold ``figure`` against its text; False for one that is quoted or not known."""
    value, text = figure.value, figure.formula
    if value is None or figure.key.startswith(QUOTED) or (figure.source == OWN_RECIPE and "recipe" in text):
        return False
    assert not isinstance(value, bool)
    if text == "counted on the saw":
        assert value == of.given["saw"]["points_counted"]
    elif "of the Birmingham gauge" in text:
        assert value == pytest.approx(gauge_mm(int(text.split()[1])), abs=0.0005)
    elif text.startswith("plate / 2 · slant"):
        assert value == pytest.approx(abs(of.plate / 2 * of.slant()[0]) * math.copysign(1, value), abs=1e-9)
    elif figure.key == "edge_angle_deg" and of.slope:
        assert min(abs(value - of.slant()[1]), abs(180 - value - of.slant()[1])) < 1e-6
    else:
        reckoned = of.reckon(text)
        if figure.key in ("teeth_held", "strokes_total"):
            capped = min if figure.key == "teeth_held" else max
            reckoned = capped(reckoned, of.values["points"])
        # A total is told by steel and bite of four figures.
        close = {"strokes_total": 0.5 + value * 2e-4}.get(figure.key, 1e-6)
        assert value == pytest.approx(reckoned, abs=close, rel=3e-4 if "; depth " in text else 1e-6), figure
    return True


@pytest.mark.parametrize(("name", "given", "saw"), RECIPES, ids=[name for name, _, _ in RECIPES])
def test_each_formula_gives_the_number_beside_it(name: str, given: dict[str, Any], saw: Saw) -> None:
    every = [figure for _, group in figure_groups(saw) for figure in group]
    values = {figure.key: figure.value for figure in every}
    told = {figure.key for figure in every if checked(figure, Reckoner(given, 1, values))}
    # So many are reckoned and not only quoted.
    assert told >= {"points", "rake_plate_deg", "depth_mm", "edge_angle_deg", "flat_light_mm", "teeth_held"} - (
        {"points"} if "points_counted" in given["saw"] else set()
    )
    assert told >= {"kerf_mm", "bend_angle_deg", "sharpenings_fresh_set_outlives", "strokes_total"}
    assert {figure.key for figure in every if MEMORY in figure.source} >= {"strokes_per_gullet", "flat_light_mm"}


@pytest.mark.parametrize(("name", "given", "saw"), RECIPES, ids=[name for name, _, _ in RECIPES])
def test_each_zone_has_its_own_formulas_and_numbers(name: str, given: dict[str, Any], saw: Saw) -> None:
    groups = zone_groups(saw)
    assert bool(groups) == ("zone" in given["teeth"])
    whole = {figure.key: figure.value for _, group in figure_groups(saw) for figure in group}
    for first, (heading, group) in groups:
        assert heading.startswith(f"Teeth {first}–")
        of = Reckoner(given, first, whole | {figure.key: figure.value for figure in group})
        pitch_mm, *rest = group
        assert pitch_mm.value == pytest.approx(pitch(teeth(given, first)))
        told = {figure.key for figure in rest if checked(figure, of)}
        assert told >= {"depth_mm", "bend_angle_deg", "flat_light_mm", "strokes_per_gullet", "gullet_plate_deg"}
