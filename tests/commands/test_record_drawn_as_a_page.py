"""A record drawn as a page: the teeth by shape, the words and figures where they belong, and no file overwritten."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.walk.mark import Did
from session.walk.stages import Stage
from shown_record import Write, filing

SVG = "{http://www.w3.org/2000/svg}"


def shapes(svg: Path) -> Counter[str]:
    """How many teeth of the filing stage have each shape, by what their own titles say."""
    root = ET.parse(svg).getroot()
    found = Counter[str]()
    for group in root.iter(f"{SVG}g"):
        title = group.findtext(f"{SVG}title")
        if title is not None:
            (shape,) = group.findall(f"{SVG}path")
            found[f"{title.partition(': ')[2]}/{shape.get('class')}"] += 1
    return found


def test_the_drawing_tells_the_four_states_by_shape(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write_walk(), tmp_path / "line.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    assert capsys.readouterr().out == f"{file}\n"
    found = shapes(file)
    # The filing line; the set line above it has as many teeth, none of them worked.
    assert (found["done/shade"], found["left out/line"]) == (4, 1)
    assert sum(found.values()) % load_recipe(supplied_folder("recipes") / "crosscut-panel.toml").saw.points == 0
    texts = [text.text for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    assert "left out: file, gullet 5, side 1: the tooth is broken" in texts
    assert texts.count("!") == 1


def test_the_account_and_what_is_for_next_time_stand_in_text_and_on_the_page(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write_walk(finished=True), tmp_path / "page.svg"
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert main(["show", str(path), "--svg", str(file)]) == 0
    on_page = [text.text or "" for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    for line in (
        "Strokes: 8 counted in 4 of 4 gullets, the middle 2 a gullet.",
        "Set before: not measured.",
        "Trial cut: none was told.",
        "Next time:",
    ):
        assert line in shown.splitlines()
        assert line in on_page
    after = shown.split("Next time:\n")[1].splitlines()
    assert after[0].startswith("  Due again when ")
    assert after[0].strip() in on_page


def test_on_the_page_figures_stand_under_their_teeth_and_nothing_over_another(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write_walk(), tmp_path / "page.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    capsys.readouterr()
    root = ET.parse(file).getroot()
    texts = [text for text in root.iter(f"{SVG}text") if (text.text or "").strip()]
    # Gullets 1, 3, 7 and 9 were given two strokes each; the letters of figures are the smallest.
    least = min(float(text.get("font-size", "0")) for text in texts)
    assert [text.text for text in texts if float(text.get("font-size", "0")) == least] == ["2"] * 4
    boxes = [_box(text) for text in texts]
    for (one, this), (other, that) in itertools.combinations(zip(texts, boxes, strict=True), 2):
        apart = this[1] <= that[0] or that[1] <= this[0] or this[3] <= that[2] or that[3] <= this[2]
        assert apart, f"{one.text} stands on {other.text}"
    legend = max(box[3] for text, box in zip(texts, boxes, strict=True) if text.text == "not yet")
    notes = min(b[3] for text, b in zip(texts, boxes, strict=True) if (text.text or "").startswith("left out: file"))
    assert notes > legend
    wide, high = (float(root.get(of, "0").removesuffix("mm")) for of in ("width", "height"))
    assert (wide, high) == (210.0, 297.0)
    assert max(box[3] for box in boxes) < high


def _box(text: ET.Element) -> tuple[float, float, float, float]:
    """Left, right, top and foot of a line of letters, in mm: a letter is taken as half as wide as it is high."""
    x, y, size = (float(text.get(of, "0")) for of in ("x", "y", "font-size"))
    wide = 0.5 * size * len(text.text or "")
    kinds = (text.get("class") or "").split()
    left = x - wide * (0.5 if "middle" in kinds else 1.0 if "end" in kinds else 0.0)
    return left, left + wide, y - 0.7 * size, y


def test_broken_low_and_high_teeth_are_drawn_in_every_stage(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = (("broken teeth", "5"), ("low teeth", "12"), ("high teeth", "40"))
    seen = [{"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "step": what, "what": what, "value": n} for what, n in told]
    path, file = write_walk([*seen, *(filing(tooth, 1) for tooth in (1, 3, 7))]), tmp_path / "line.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    found = shapes(file)
    drawn = len([title for title in ET.parse(file).getroot().iter(f"{SVG}title") if "tooth 5:" in (title.text or "")])
    assert drawn >= 2, "the set line and the filing line"
    stumps = sum(count for shape, count in found.items() if "broken/" in shape)
    assert stumps == drawn
    texts = [text.text for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    assert (texts.count("L"), texts.count("H")) == (drawn, drawn)
    assert "broken" in texts
    capsys.readouterr()
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert "▂ broken  L low  H high" in shown
    over = [row for row in shown.splitlines() if row.strip().replace(" ", "") in ("HL▂", "HL▂▼")]
    assert len(over) >= 1


def test_a_drawing_never_takes_the_place_of_a_file(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write_walk()
    mine = tmp_path / "mine.svg"
    mine.write_text("mine")
    log = path.read_bytes()
    for target, code in ((mine, 2), (path, 2), (tmp_path, 2), (tmp_path / "none" / "x.svg", 2)):
        assert main(["show", str(path), "--svg", str(target)]) == code
        told = capsys.readouterr()
        assert (told.out, told.err.count("\n")) == ("", 1)
        assert "allowed: " in told.err
    assert (mine.read_text(), path.read_bytes()) == ("mine", log)
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["logs", "mine.svg"]


NASTY = st.text(st.characters(codec="utf-8"), max_size=30) | st.sampled_from(
    ["\x1b]0;owned\x07", "</text><script>alert(1)</script>", "&amp;]]>", "\u202egnp", "[/bold]", "\uffff", "\x9b2J"]
)


@given(name=NASTY, reason=NASTY)
@examples(20, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_text_of_a_log_commands_the_terminal_or_breaks_the_drawing(
    name: str, reason: str, write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write_walk([filing(1, 1, did=Did.LEFT_OUT, strokes=None, reason=reason)], name=name)
    file = tmp_path / "nasty.svg"
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert not set(shown) & {chr(code) for code in (*range(10), *range(11, 32), *range(127, 160))}
    assert "\u202e" not in shown
    assert main(["show", str(path), "--svg", str(file)]) == 0
    capsys.readouterr()
    root = ET.parse(file).getroot()
    assert not list(root.iter(f"{SVG}script"))
    file.unlink()
