from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.trade.saw import Saw

SVG = "{http://www.w3.org/2000/svg}"


def supplied(name: str) -> Saw:
    return load_recipe(supplied_folder("recipes") / f"{name}.toml").saw


def pages(folder: Path) -> list[ET.Element]:
    return [ET.parse(file).getroot() for file in sorted(folder.glob("*.svg"))]


def scale_of(page: ET.Element) -> float:
    group = page.find(f"{SVG}g")
    assert group is not None
    found = re.fullmatch(r"scale\((.+)\)", group.get("transform", ""))
    assert found is not None
    return float(found[1])


def marks(page: ET.Element) -> dict[int, dict[int, float]]:
    """By piece and tooth, how far left of the page's right edge each mark stands, in mm as drawn."""
    wide, found = float(page.get("viewBox", "").split()[2]), dict[int, dict[int, float]]()
    # The view box counts millimeters, so that what is drawn is what is printed.
    assert page.get("width") == f"{wide:g}mm"
    for path in page.iter(f"{SVG}path"):
        name = re.fullmatch(r"mark-(\d+)-of-(\d+)", path.get("id", ""))
        begins = re.match(r"M([\d.]+) ", path.get("d", ""))
        if name is not None and begins is not None:
            found.setdefault(int(name[2]), {})[int(name[1])] = wide - scale_of(page) * float(begins[1])
    return found


def spaces(folder: Path) -> dict[int, float]:
    """By tooth, the space in front of it, as drawn."""
    found: dict[int, float] = {}
    for page in pages(folder):
        for piece in marks(page).values():
            for tooth, ahead in pairwise(sorted(piece)):
                assert (ahead, tooth in found) == (tooth + 1, False)
                found[tooth] = piece[ahead] - piece[tooth]
    return found


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["crosscut-panel", "progressive-rip", "dovetail", "rip"])
def test_the_strip_has_a_mark_for_each_point_at_its_place(name: str, paper: str, tmp_path: Path) -> None:
    assert main(["templates", name, "--to", str(tmp_path), "--paper", paper]) == 0
    saw, drawn = supplied(name), spaces(tmp_path)
    assert sorted(drawn) == list(range(1, saw.points))
    for tooth, space in drawn.items():
        # To a hundredth of a millimeter, far under what paper keeps.
        assert space == pytest.approx(saw.from_heel_mm(tooth + 1) - saw.from_heel_mm(tooth), abs=0.01)


def test_every_fifth_mark_is_numbered_and_the_page_says_how(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path)]) == 0
    (page,) = pages(tmp_path)
    assert capsys.readouterr().out.split() == [str(file) for file in tmp_path.iterdir()]
    texts = {text.text or "" for text in page.iter(f"{SVG}text")}
    unnumbered = [tooth for tooth in range(5, 156, 5) if str(tooth) not in texts]
    # Beside the number of an end mark there may be no room.
    ends = {tooth for piece in marks(page).values() for tooth in (min(piece), max(piece))}
    assert all(any(0 < abs(tooth - end) < 2 for end in ends) for tooth in unnumbered)
    assert {str(end) for end in ends} <= texts
    assert {"100 mm", "25 mm", "4 in", "1 in"} <= texts
    assert any("handle on your right" in text for text in texts)
    assert any("quarters of the flat's own width" in text for text in texts)


def bars(page: ET.Element) -> list[float]:
    """Lengths of the bars as drawn, in mm."""
    drawn = [path.get("d", "") for path in page.iter(f"{SVG}path") if path.get("class") == "bar"]
    return [scale_of(page) * float(re.findall(r"h([\d.]+)", d)[0]) for d in drawn]


def test_the_bars_are_what_they_say(tmp_path: Path) -> None:
    assert main(["templates", "hand", "--to", str(tmp_path)]) == 0
    assert bars(pages(tmp_path)[0]) == pytest.approx([100.0, 101.6])


@pytest.mark.parametrize("measured", [98.6, 103.0])
def test_a_printer_that_is_out_is_mended_the_other_way_around(measured: float, tmp_path: Path) -> None:
    assert main(["templates", "hand", "--to", str(tmp_path), "--printed", f"{measured} mm"]) == 0
    printer = measured / 100.0
    (page,) = pages(tmp_path)
    assert [bar * printer for bar in bars(page)] == pytest.approx([100.0, 101.6])
    assert all(space * printer == pytest.approx(25.4 / 5, abs=0.01) for space in spaces(tmp_path).values())
    # It still fits the paper.
    assert all(0.0 < place < 297.0 for piece in marks(page).values() for place in piece.values())


def test_a_measured_line_has_its_own_pitch(tmp_path: Path) -> None:
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path), "--length", "550 mm"]) == 0
    assert sum(spaces(tmp_path).values()) == pytest.approx(550.0, abs=0.5)
    assert all(space == pytest.approx(550.0 / 154, abs=0.01) for space in spaces(tmp_path).values())
    assert "as measured" in next(tmp_path.iterdir()).read_text()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--length", "500 mm"], "--length: a line 500.0 mm long where the recipe has 558.8 mm"),
        (["--length", "550"], "--length: "),
        (["--printed", "80 mm"], "--printed: a bar of 100 mm that measures 80 mm; allowed: 90 mm to 110 mm"),
        (["--printed", "wide"], "--printed: "),
        (["--paper", "a3"], "--paper"),
    ],
)
def test_what_cannot_be_printed_is_refused_in_words(
    options: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path), *options]) == 2
    told = capsys.readouterr()
    assert said in told.err
    assert (told.out, list(tmp_path.iterdir())) == ("", [])


def test_no_page_is_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["templates", "rip", "--to", str(tmp_path / "new" / "pages")]) == 0
    (file,) = (tmp_path / "new" / "pages").iterdir()
    file.write_text("mine")
    assert main(["templates", "rip", "--to", str(file.parent)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert file.read_text() == "mine"
    assert main(["templates", "rip", "--to", str(file)]) == 4
    assert "not written" in capsys.readouterr().err


def test_a_name_of_any_signs_makes_a_page(tmp_path: Path) -> None:
    recipe = (supplied_folder("recipes") / "rip.toml").read_text()
    name = '<b>&\\"saw\\" ' + "\\u202e" + "x"
    (tmp_path / "odd.toml").write_text(re.sub(r'(?m)^name = ".*"', lambda _: f'name = "{name}"', recipe))
    assert main(["templates", str(tmp_path / "odd.toml"), "--to", str(tmp_path / "pages")]) == 0
    (page,) = pages(tmp_path / "pages")
    title = page.find(f"{SVG}title")
    assert title is not None
    assert '<b>&"saw"' in (title.text or "")
