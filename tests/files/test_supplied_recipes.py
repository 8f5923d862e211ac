"""Finding recipes by name, and every figure that a supplied recipe claims, against the printed tables."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import session
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe, supplied_folder, supplied_recipes
from session.machine.refusal import Refusal
from session.trade.gauge import thickness_mm
from session.trade.saw import Saw

SUPPLIED = {path.stem: path for path in supplied_recipes()}

#: HOLTZ p. 699 and SPON, the table of saws: length in inches, count to the inch, plate in inches (HOLTZ's
#: gauge numbers read by the Birmingham gauge). HOLTZ heads the count points, SPON teeth, to the inch.
ROWS = {
    "rip": ((28, 30), (3.5, 3.5), (0.049, 0.050)),
    "half rip": ((26, 28), (4, 4), (0.042, 0.049)),
    "hand saw": ((22, 26), (5, 5), (0.042, 0.049)),
    "fine hand": ((22, 26), (6, 6), (0.042, 0.049)),
    "panel": ((20, 24), (7, 7), (0.042, 0.042)),
    "fine panel": ((20, 24), (8, 8), (0.035, 0.042)),
    "tenon": ((16, 20), (10, 10), (0.032, 0.032)),
    "sash": ((14, 16), (11, 11), (0.028, 0.028)),
    "carcass": ((10, 14), (12, 12), (0.025, 0.025)),
    "dovetail": ((6, 10), (14, 18), (0.022, 0.022)),
}
#: SPON's second list, headed points: a count that a recipe takes instead of its row's.
SPON_POINTS = {"tenon-crosscut": (11, 15), "progressive-rip": (3, 5)}
#: The same list has these points at the toe of a rip saw.
SPON_TOE = (6, 8)
#: GOR p. 155: the panel saw of 560 mm has 10 points in 25 mm, where HOLTZ's has 8 in the inch.
GOR_POINTS_25 = {"fine-panel": (10, 10)}

ROW_OF = {
    "rip": "rip",
    "progressive-rip": "rip",
    "half-rip": "half rip",
    "hand": "fine hand",
    "crosscut-panel": "fine panel",
    "coarse-panel": "panel",
    "fine-panel": "fine panel",
    "tenon-rip": "tenon",
    "tenon-crosscut": "tenon",
    "sash": "sash",
    "carcass": "carcass",
    "dovetail": "dovetail",
    "green-wood": "hand saw",
}

#: Rake and fleam in degrees as the sources print them (face and file angles turned into rake and fleam).
PRINTED_RAKE = {
    "NOYES": {"rip": (0, 0), "crosscut": (25, 25)},
    "GRIF art. 13": {"rip": (0, 0)},
    "FIT": {"rip": (0, 0), "crosscut": (12, 12)},
    "HOLTZ": {"rip": (0, 15)},
    "GOR p. 155: panel": {"crosscut": (15, 15)},
    "SLOJD: bow and dovetail saws": {"rip": (5, 10)},
    "SHOP2: wet": {"crosscut": (30, 30)},
}
PRINTED_FLEAM = {
    "NOYES": {"rip": (0, 0)},
    "KING: about midway": {"crosscut": (25, 25)},
    "KING: hard wood": {"crosscut": (20, 20)},
    "KING: soft wood": {"crosscut": (30, 30)},
}

#: The ids of the sources that a comment may name.
SOURCES = {
    *("NOYES", "KING", "GRIF", "ROSS", "SHEAR", "DREW", "ZERBE", "SICK", "WHEEL", "MTS", "SHOP1", "SHOP2", "SPON"),
    *("HOLTZ", "HASL", "SLOJD", "PSM89", "FIT", "GOR", "FSMAN", "FSTOOL", "BS3159"),
}
FIGURE = re.compile(r"#   (\w+) +([\d.]+)(?: to ([\d.]+))? ?(in|mm)? +(\S.*)")


def figures(path: Path) -> dict[str, tuple[float, float, str | None, str]]:
    """The table in a recipe's comments: key → lowest, highest, unit, where it is from."""
    found = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("#   "):
            match = FIGURE.fullmatch(line)
            assert match, line
            key, low, high, unit, source = match.groups()
            found[key] = (float(low), float(high or low), unit, source)
    return found


def value_of(saw: Saw, key: str, unit: str | None) -> float:
    """What the loaded saw has for a key of the table, in the table's unit."""
    per = 25.4 if unit == "in" else 1.0
    assert saw.set_per_side is not None
    assert saw.least_per_side is not None
    return {
        "toothed_length": saw.toothed_length.mm / per,
        "points_per_inch": 25.4 / saw.pitch_mm + 1,
        "points_per_25mm": 25.0 / saw.pitch_mm + 1,
        "plate": saw.plate.mm / per,
        "rake": saw.rake,
        "fleam": saw.fleam,
        "per_side": saw.set_per_side.mm / per,
        "least_per_side": saw.least_per_side.mm / per,
        "bent_share": saw.bent_share,
    }[key]


def test_there_is_one_for_every_kind_of_saw() -> None:
    assert set(SUPPLIED) == set(ROW_OF)
    saws = [load_recipe(path).saw for path in SUPPLIED.values()]
    assert {saw.kind for saw in saws} == {
        *("rip", "half rip", "hand", "panel", "tenon", "sash", "carcass", "dovetail", "other")
    }
    assert len({saw.name for saw in saws}) == len(saws)


@pytest.mark.parametrize("stem", sorted(SUPPLIED))
def test_it_loads_without_a_warning(stem: str) -> None:
    assert load_recipe(SUPPLIED[stem]).warnings == ()


def test_the_progressive_saw_is_as_fine_at_the_toe_as_spon_has_it() -> None:
    saw = load_recipe(SUPPLIED["progressive-rip"]).saw
    low, high = SPON_TOE
    assert low <= 25.4 / saw.at(saw.points).pitch_mm + 1 <= high
    assert 25.4 / saw.at(1).pitch_mm + 1 < low
    assert all(not load_recipe(path).saw.zones for stem, path in SUPPLIED.items() if stem != "progressive-rip")


@pytest.mark.parametrize("stem", sorted(SUPPLIED))
def test_the_saw_agrees_with_the_figures_in_its_comments(stem: str) -> None:
    saw = load_recipe(SUPPLIED[stem]).saw
    table = figures(SUPPLIED[stem])
    count = "points_per_25mm" if stem == "fine-panel" else "points_per_inch"
    assert set(table) == {"toothed_length", count, "plate", "rake", "fleam", "per_side", "least_per_side", "bent_share"}
    for key, (low, high, unit, _) in table.items():
        assert low - 1e-6 <= value_of(saw, key, unit) <= high + 1e-6, key


@pytest.mark.parametrize("stem", sorted(SUPPLIED))
def test_length_count_and_plate_lie_in_the_printed_row(stem: str) -> None:
    saw = load_recipe(SUPPLIED[stem]).saw
    (shortest, longest), (least, most), (thinnest, thickest) = ROWS[ROW_OF[stem]]
    # GOR's panel saw is printed as 560 mm for 22 in.
    assert shortest <= saw.toothed_length.mm / 25.4 <= longest
    assert thinnest - 1e-9 <= saw.plate.mm / 25.4 <= thickest + 1e-9
    assert saw.gauge is not None
    assert saw.plate.mm == pytest.approx(thickness_mm(saw.gauge))
    inch = 25.4
    if stem in SPON_POINTS:
        least, most = SPON_POINTS[stem]
    if stem in GOR_POINTS_25:
        (least, most), inch = GOR_POINTS_25[stem], 25.0
    points = inch / saw.pitch_mm + 1
    assert least - 1e-9 <= points <= most + 1e-9


@pytest.mark.parametrize("stem", sorted(SUPPLIED))
def test_angles_are_those_of_the_source_named_beside_them(stem: str) -> None:
    saw = load_recipe(SUPPLIED[stem]).saw
    table = figures(SUPPLIED[stem])
    for key, printed in (("rake", PRINTED_RAKE), ("fleam", PRINTED_FLEAM)):
        source = table[key][3]
        if source.startswith("from memory"):
            assert key == "rake"
            assert stem in ("tenon-crosscut", "sash", "carcass")
            continue
        [name] = [name for name in printed if source.startswith(name)]
        low, high = printed[name][saw.cut]
        assert low <= value_of(saw, key, None) <= high


@pytest.mark.parametrize("stem", sorted(SUPPLIED))
def test_every_figure_names_a_source_or_says_that_it_has_none(stem: str) -> None:
    for key, (_, _, _, source) in figures(SUPPLIED[stem]).items():
        named = set(re.findall(r"[A-Z]{3,}\d*", source)) - {"BWG"}
        assert named <= SOURCES, key
        assert named or source.startswith(("from memory", "judgment")), key
    in_text = set(re.findall(r"\b[A-Z]{3,}\d*\b", SUPPLIED[stem].read_text(encoding="utf-8"))) - {"BWG"}
    assert in_text <= SOURCES


def test_the_folder_is_found_in_a_checkout_and_in_an_installation(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert supplied_folder("recipes") == Path(session.__file__).resolve().parents[1] / "recipes"
    package = tmp_path / "site" / "session"
    (tmp_path / "site" / "recipes").mkdir(parents=True)
    monkeypatch.setattr("session.files.supplied._PACKAGE", package)
    with pytest.raises(Refusal, match="recipes is missing from this installation"):
        supplied_folder("recipes")
    (package / "supplied" / "recipes").mkdir(parents=True)
    assert supplied_folder("recipes") == package / "supplied" / "recipes"
    assert supplied_recipes() == []


def saw_file(folder: Path, stem: str, name: str) -> Path:
    file = folder / f"{stem}.toml"
    file.write_text(SUPPLIED["sash"].read_text(encoding="utf-8").replace("Sash saw", name), encoding="utf-8")
    return file


def test_a_recipe_is_found_by_file_then_till_then_supplied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    mine = saw_file(tmp_path, "long-one", "Sail-loft panel")
    shadow = saw_file(tmp_path, "sash", "Sail-loft sash")
    till = [mine, shadow]
    assert find_recipe(str(mine), []) == mine
    assert find_recipe("long-one.toml", []) == Path("long-one.toml")
    assert find_recipe("long-one", till) == mine
    assert find_recipe("SAIL-LOFT  Panel", till) == mine
    assert find_recipe("sash", till) == shadow
    assert find_recipe("sash", [mine]) == SUPPLIED["sash"]
    assert find_recipe("dovetail saw", till) == SUPPLIED["dovetail"]
    (tmp_path / "dovetail").mkdir()
    assert find_recipe("dovetail", till) == SUPPLIED["dovetail"]
    assert Path(find_recipe("half rip", [])).stem == "half-rip"


def test_the_beginning_of_an_own_name_goes_before_a_supplied_saw(tmp_path: Path) -> None:
    mine = saw_file(tmp_path, "brass", "Dovetail saw with the brass back")
    assert find_recipe("dovetail", [mine]) == mine
    assert find_recipe("supplied: Dovetail", [mine]) == SUPPLIED["dovetail"]
    with pytest.raises(Refusal, match='begin with "dovetail"; allowed: one of brass, second'):
        find_recipe("dovetail", [mine, saw_file(tmp_path, "second", "Dovetail two")])


@pytest.mark.parametrize("name", ["absent.toml", "no/such/saw", "../sash", "/absent/saw.toml"])
def test_a_path_that_is_not_there(name: str) -> None:
    with pytest.raises(Refusal) as caught:
        find_recipe(name, [])
    assert str(caught.value).startswith(f"{name}: no such file; allowed: ")


def test_a_retired_saw_is_told_as_retired_and_not_as_unknown(tmp_path: Path) -> None:
    aside = saw_file(tmp_path, "spare-crosscut", "Spare crosscut")
    with pytest.raises(Refusal, match="spare-crosscut is retired; toothline retire spare-crosscut --back hangs it up"):
        find_recipe("spare", [], [aside])
    assert find_recipe("dovetail", [], [aside]) == SUPPLIED["dovetail"]


def test_an_unknown_name_lists_near_ones(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match='no saw is named "dovetale"; near it: dovetail'):
        find_recipe("dovetale", [])
    mine = saw_file(tmp_path, "long-one", "Sail-loft panel")
    with pytest.raises(Refusal, match="near it: long-one"):
        find_recipe("Sailloft panell", [mine])
    with pytest.raises(Refusal, match=r'no saw is named "zzzz"; known: .*long-one.*, carcass, .*tenon-rip'):
        find_recipe("zzzz", [mine])


@pytest.mark.parametrize("name", ["", "\0", "\x1b[2J", "x" * 5000, "/", ".", "..", "[/]", "\ud800"])
def test_odd_names_give_one_line(name: str) -> None:
    try:
        found = find_recipe(name, [])
    except Refusal as problem:
        words = str(problem)
    else:
        words = str(found)
    assert len(words) < 400
    assert words.isprintable()


def test_two_saws_of_one_name_are_told_apart_by_file(tmp_path: Path) -> None:
    till = [saw_file(tmp_path, "one", "Twin"), saw_file(tmp_path, "two", "twin")]
    with pytest.raises(Refusal, match='"Twin" is the name of several saws; allowed: one of one, two'):
        find_recipe("Twin", till)
    assert find_recipe("two", till) == till[1]


def test_a_broken_saw_in_the_till_is_still_found_by_its_file(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_bytes(b"\xff")
    assert find_recipe("broken", [broken]) == broken
    assert find_recipe("sash", [broken]) == SUPPLIED["sash"]
