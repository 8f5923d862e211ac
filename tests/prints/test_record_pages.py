"""The report of a sharpening as pages: the words of the screen, a sign for each tooth, and no file overwritten."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from session.cli import main
from session.commands.output.record_page import record_matter
from session.commands.output.replayed_record import ReplayedRecord
from session.log.log_reader import read_log
from session.prints.drawn_shapes import Ink, Lettering, Trace
from session.prints.page_sheets import Paper, PaperStock
from session.prints.record_sheets import record_sheets
from session.walk.mark import Did
from shown_record import Write, filing, write_walk

__all__ = ["write_walk"]


def words(pdf: Path) -> tuple[str, int]:
    """All that a reader of PDF finds on the pages, and how many they are."""
    with pypdfium2.PdfDocument(pdf) as document:
        told = [page.get_textpage().get_text_range() for page in document]
    return " ".join(" ".join(told).split()), len(told)


def test_the_report_says_what_the_screen_says(
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write_walk(finished=True), tmp_path / "report.pdf"
    assert main(["show", str(path), "--pdf", str(file), "--paper", "letter"]) == 0
    assert capsys.readouterr().out == f"{file}\n"
    told, pages = words(file)
    assert pages == 1
    for line in (
        "Netloft panel saw",
        "2026-03-07T09-00-00-abcdef: finished",
        "Strokes: 8 counted in 4 of 4 gullets, the middle 2 a gullet.",
        "left out: file, gullet 5, side 1: the tooth is broken",
        "flagged: file, gullet 3, side 1: bright",
        "file, strokes under each tooth",
        "Next time:",
        "100 mm",
    ):
        assert line in told


def test_each_tooth_has_its_sign(write_walk: Write) -> None:
    path = write_walk()
    matter = record_matter(ReplayedRecord(path, read_log(path)))
    (page,) = record_sheets(matter, PaperStock())
    # Gullets 1, 3, 7 and 9 were filed; one more such sign stands in the legend.
    gray = [shape for shape in page.shapes if isinstance(shape, Trace) and shape.ink is Ink.SHADE]
    assert len(gray) == 4 + 1
    texts = [shape.text for shape in page.shapes if isinstance(shape, Lettering)]
    assert texts.count("!") == 1
    assert texts.count("2") == 4
    assert texts.count("heel") == texts.count("toe") == len(matter.lines)


def test_a_long_report_goes_on_and_keeps_every_line(write_walk: Write) -> None:
    many = [filing(tooth, 1, did=Did.LEFT_OUT, strokes=None, reason=f"crack {tooth}") for tooth in range(1, 151, 2)]
    path = write_walk(many)
    matter = record_matter(ReplayedRecord(path, read_log(path)))
    stock = PaperStock(Paper.LETTER, 90.0)
    pages = record_sheets(matter, stock)
    assert len(pages) > 1
    texts = [shape.text for page in pages for shape in page.shapes if isinstance(shape, Lettering)]
    assert [text for text in texts if text.startswith("page ")] == [
        f"page {number} of {len(pages)}" for number in range(1, len(pages) + 1)
    ]
    assert all(f"left out: file, gullet {tooth}, side 1: crack {tooth}" in texts for tooth in range(1, 151, 2))
    for page in pages:
        feet = [shape.at[1] for shape in page.shapes if isinstance(shape, Lettering)]
        assert max(feet) <= stock.room()[1]


def test_a_report_takes_no_files_place(write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, mine = write_walk(), tmp_path / "mine.pdf"
    mine.write_text("mine")
    for target in (mine, path, tmp_path / "none" / "x.pdf"):
        assert main(["show", str(path), "--pdf", str(target)]) == 2
        told = capsys.readouterr()
        assert (told.out, told.err.count("\n")) == ("", 1)
        assert "--pdf: " in told.err
        assert "allowed: " in told.err
    assert mine.read_text() == "mine"
    assert main(["show", str(path), "--pdf", str(tmp_path / "x.pdf"), "--svg", str(tmp_path / "x.svg")]) == 2
