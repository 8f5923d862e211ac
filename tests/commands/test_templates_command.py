"""The pages that the command writes: which files, what is on the strip, what is refused, and nothing overwritten."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path

import pytest

from page_ruler import SVG, Drawn
from session.cli import main
from session.commands.templates import PAGES
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.prints.printables import Printable
from session.till.saw_file_name import slug
from session.trade.saw import Saw

#: The strip alone, as drawings.
STRIP = ("--only", "pitch-strip", "--as", "svg")


def supplied(name: str) -> Saw:
    return load_recipe(supplied_folder("recipes") / f"{name}.toml").saw


def pages(folder: Path) -> list[str]:
    return [file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.svg"))]


def texts(page: str) -> set[str]:
    return {text.text or "" for text in ET.fromstring(page.encode()).iter(f"{SVG}text")}


def marks(page: str) -> dict[int, dict[int, float]]:
    """By piece and tooth, where each mark stands on the paper, in mm from the left."""
    found = dict[int, dict[int, float]]()
    for name, spots in Drawn.of(page).named.items():
        if named := re.fullmatch(r"mark-(\d+)-of-(\d+)", name):
            found.setdefault(int(named[2]), {})[int(named[1])] = spots[0][0]
    return found


def spaces(folder: Path) -> dict[int, float]:
    """By tooth, the space in front of it, as drawn; the heel is on the right."""
    found: dict[int, float] = {}
    for page in pages(folder):
        for piece in marks(page).values():
            for tooth, ahead in pairwise(sorted(piece)):
                assert (ahead, tooth in found) == (tooth + 1, False)
                found[tooth] = piece[tooth] - piece[ahead]
    return found


def test_every_page_is_written_as_pdf_and_as_svg(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert set(PAGES) == set(Printable)
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path)]) == 0
    told = capsys.readouterr().out.splitlines()
    assert sorted(told) == sorted(str(file) for file in tmp_path.iterdir())
    name = supplied("crosscut-panel").name
    for what in PAGES:
        assert (tmp_path / f"{slug(name)}-{what}.pdf").read_bytes().startswith(b"%PDF-")
        assert name in (tmp_path / f"{slug(name)}-{what}-1.svg").read_text()


def test_signs_that_the_letters_lack_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe = (supplied_folder("recipes") / "rip.toml").read_text()
    (tmp_path / "own.toml").write_text(re.sub(r'(?m)^name = ".*"', 'name = "Пила Säge"', recipe))
    for form, told in (("pdf", "lack signs of “Пила Säge”"), ("svg", "")):
        to = str(tmp_path / form)
        assert main(["templates", str(tmp_path / "own.toml"), "--to", to, "--only", "protractor", "--as", form]) == 0
        err = capsys.readouterr().err
        assert told in err
        assert bool(err) is bool(told)
    assert "Пила Säge" in pages(tmp_path / "svg")[0]


def test_one_page_in_one_form_alone(tmp_path: Path) -> None:
    assert main(["templates", "rip", "--to", str(tmp_path), "--only", "protractor", "--as", "pdf"]) == 0
    (file,) = tmp_path.iterdir()
    assert file.name == f"{slug(supplied('rip').name)}-protractor.pdf"


def test_a_saw_filed_square_across_has_no_fleam_guide(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["templates", "rip", "--to", str(tmp_path), "--as", "pdf"]) == 0
    assert not [file for file in tmp_path.iterdir() if "fleam" in file.name]
    assert main(["templates", "rip", "--to", str(tmp_path / "x"), "--only", "fleam-guide"]) == 2
    assert f"{supplied('rip').name} is filed square across and has no fleam guide" in capsys.readouterr().err
    assert not (tmp_path / "x").exists()


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["crosscut-panel", "progressive-rip", "dovetail", "rip"])
def test_the_strip_has_a_mark_for_each_point_at_its_place(name: str, paper: str, tmp_path: Path) -> None:
    assert main(["templates", name, "--to", str(tmp_path), "--paper", paper, *STRIP]) == 0
    saw, drawn = supplied(name), spaces(tmp_path)
    assert sorted(drawn) == list(range(1, saw.points))
    for tooth, space in drawn.items():
        # To a hundredth of a millimeter, far under what paper keeps.
        assert space == pytest.approx(saw.from_heel_mm(tooth + 1) - saw.from_heel_mm(tooth), abs=0.01)


def test_every_fifth_mark_is_numbered_and_the_page_says_how(tmp_path: Path) -> None:
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path), *STRIP]) == 0
    (page,) = pages(tmp_path)
    on_page = texts(page)
    unnumbered = [tooth for tooth in range(5, 156, 5) if str(tooth) not in on_page]
    # Beside the number of an end mark there may be no room.
    ends = {tooth for piece in marks(page).values() for tooth in (min(piece), max(piece))}
    assert all(any(0 < abs(tooth - end) < 2 for end in ends) for tooth in unnumbered)
    assert {str(end) for end in ends} <= on_page
    assert {"100 mm", "25 mm", "4 in", "1 in"} <= on_page
    together = " ".join(text for text in re.findall(r"<text[^>]*>([^<]*)", page))
    assert "handle on your right" in together
    assert "quarters of the flat's own width" in together


def bars(page: str) -> list[float]:
    """Lengths of the bars as drawn, in mm."""
    drawn = Drawn.of(page)
    return [drawn[name][1][0] - drawn[name][0][0] for name in ("bar-100-mm", "bar-4-in")]


def test_the_bars_are_what_they_say(tmp_path: Path) -> None:
    assert main(["templates", "hand", "--to", str(tmp_path), "--as", "svg"]) == 0
    assert len(pages(tmp_path)) >= len(PAGES)
    for page in pages(tmp_path):
        assert bars(page) == pytest.approx([100.0, 101.6], abs=1e-3)


@pytest.mark.parametrize("measured", [98.6, 103.0])
def test_a_printer_that_is_out_is_mended_the_other_way_around(measured: float, tmp_path: Path) -> None:
    assert main(["templates", "hand", "--to", str(tmp_path), "--printed", f"{measured} mm", *STRIP]) == 0
    printer = measured / 100.0
    (page,) = pages(tmp_path)
    assert [bar * printer for bar in bars(page)] == pytest.approx([100.0, 101.6], abs=1e-3)
    assert all(space * printer == pytest.approx(25.4 / 5, abs=0.01) for space in spaces(tmp_path).values())
    # It still fits the paper.
    assert all(0.0 < place < 297.0 for piece in marks(page).values() for place in piece.values())


def test_a_measured_line_has_its_own_pitch(tmp_path: Path) -> None:
    assert main(["templates", "crosscut-panel", "--to", str(tmp_path), "--length", "550 mm", *STRIP]) == 0
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
        (["--only", "poster"], "--only"),
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
    assert main(["templates", "rip", "--to", str(tmp_path / "new" / "pages"), *STRIP]) == 0
    (file,) = (tmp_path / "new" / "pages").iterdir()
    file.write_text("mine")
    assert main(["templates", "rip", "--to", str(file.parent)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert [left.read_text() for left in file.parent.iterdir()] == ["mine"]
    assert main(["templates", "rip", "--to", str(file)]) == 4
    assert "not written" in capsys.readouterr().err


def test_a_name_of_any_signs_makes_a_page(tmp_path: Path) -> None:
    recipe = (supplied_folder("recipes") / "rip.toml").read_text()
    name = '<b>&\\"saw\\" ' + "\\u202e" + "x"
    (tmp_path / "odd.toml").write_text(re.sub(r'(?m)^name = ".*"', lambda _: f'name = "{name}"', recipe))
    assert (
        main(["templates", str(tmp_path / "odd.toml"), "--to", str(tmp_path / "pages"), "--only", "guide-block"]) == 0
    )
    (page,) = pages(tmp_path / "pages")
    title = ET.fromstring(page.encode()).find(f"{SVG}title")
    assert title is not None
    assert '<b>&"saw"' in (title.text or "")
