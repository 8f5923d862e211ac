"""What is drawn on the pages: all on the paper and no words over others, and a bench card that is the bench's twin."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from printed_saws import matter, pages_of, supplied
from session.prints.bench_card import bench_card
from session.prints.drawn_shapes import Anchor, Lettering, Trace
from session.prints.letter_widths import wide_mm
from session.prints.page_sheets import PageSheet, Paper, PaperStock
from session.prints.pdf_sheets import pdf_sheets
from session.prints.printables import Printable
from session.sentences.instruction import anvil_words, bend_words, pass_words
from session.texts.guidance import words
from session.texts.word_files import table
from session.trade.lengths import Length, parse_length
from session.walk.stages import Stage

#: Papers with printers that are as far out as they may be.
STOCKS = [PaperStock(Paper.A4), PaperStock(Paper.LETTER, 90.0), PaperStock(Paper.LETTER, 110.0)]

SHARE = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}


def lettered(page: PageSheet) -> list[tuple[float, float, float, float, str]]:
    """Left, top, right and foot of each level line of letters."""
    found = []
    for shape in page.shapes:
        if isinstance(shape, Lettering) and shape.turned % 180 == 0:
            wide = wide_mm(shape.text, shape.size, shape.bold)
            way = 1 if shape.turned == 0 else -1
            ends = sorted(shape.at[0] + way * wide * (part - SHARE[shape.anchor]) for part in (0, 1))
            high = sorted((shape.at[1], shape.at[1] - way * shape.size * 0.7))
            found.append((ends[0], high[0], ends[1], high[1], shape.text))
    return found


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: f"{stock.paper}-{stock.bar_mm:g}")
@pytest.mark.parametrize("name", ["crosscut-panel", "progressive-rip", "dovetail", "rip"])
def test_all_is_on_the_paper_and_no_words_lie_over_others(name: str, stock: PaperStock) -> None:
    saw = supplied(name)
    for page in (page for what in Printable for page in pages_of(saw, what, stock)):
        wide, high = stock.room(page.lying)
        for shape in page.shapes:
            if isinstance(shape, Trace):
                assert all(-0.01 <= x <= wide + 0.01 and -0.01 <= y <= high + 0.01 for x, y in shape.spots), page.title
        rows = lettered(page)
        assert len(rows) > 10
        for left, top, right, foot, text in rows:
            assert left >= -0.01, (page.title, text)
            assert right <= wide + 0.01, (page.title, text)
            assert -0.01 <= top < foot <= high + 0.01, (page.title, text)
        for number, (left, top, right, foot, text) in enumerate(rows):
            for other in rows[number + 1 :]:
                apart = right <= other[0] or other[2] <= left or foot <= other[1] or other[3] <= top
                assert apart, (page.title, text, other[4])


@pytest.mark.parametrize(("rake", "told"), [(12.0, "18° off the top edge, higher toward the handle"), (30.0, "level")])
def test_a_block_tells_how_the_files_upper_face_lies(rake: float, told: str) -> None:
    # FIT: a peg tooth, 30 degrees, is filed with the top of the file level; 18 for 12 is derived.
    (page,) = pages_of(replace(supplied("crosscut-panel"), rake=rake), Printable.GUIDE_BLOCK, PaperStock())
    assert f"its upper face is then {told}." in " ".join(texts(page))


def test_a_line_with_two_rakes_has_a_block_for_each() -> None:
    saw = supplied("progressive-rip")
    zones = tuple(replace(zone, rake=rake) for zone, rake in zip(saw.zones, (0.0, 0.0, 8.0), strict=True))
    first, second = pages_of(replace(saw, zones=zones), Printable.GUIDE_BLOCK, PaperStock())
    assert "rake 0°" in texts(first)
    assert "rake 8°" in texts(second)
    assert any("teeth 1 to 42, teeth 43 to 78" in text for text in texts(first))
    assert any(text.endswith("teeth 79 to 115") for text in texts(second))
    assert "page 2 of 2" in texts(second)


def test_a_line_too_long_for_one_page_goes_on_with_its_pieces() -> None:
    saw = replace(supplied("rip"), points=250)
    stock = PaperStock(Paper.LETTER, 90.0)
    pages = pages_of(saw, Printable.PITCH_STRIP, stock)
    assert len(pages) > 1
    named = [text for page in pages for text in texts(page) if text.startswith("piece ")]
    assert [text.split(",")[0] for text in named] == [f"piece {n} of {len(named)}" for n in range(1, len(named) + 1)]
    ends = [tuple(map(int, text.split("teeth ")[1].split(" to "))) for text in named]
    assert (ends[0][0], ends[-1][1]) == (1, 250)
    assert all(one[1] == other[0] for one, other in pairwise(ends))
    for page in pages:
        assert max(foot for *_, foot, _ in lettered(page)) <= stock.room(lying=True)[1]


def test_one_page_is_the_same_file_on_any_day() -> None:
    pages = pages_of(supplied("crosscut-panel"), Printable.GUIDE_BLOCK, PaperStock())
    assert pdf_sheets("a", pages) == pdf_sheets("a", pages)
    assert pdf_sheets("a", pages) != pdf_sheets("b", pages)


@pytest.mark.parametrize("name", table("printed_pages"))
def test_words_on_paper_are_whole_sentences_in_our_spelling(name: str) -> None:
    for sentence in table("printed_pages")[name]["how"]:
        assert sentence[0].isupper()
        assert sentence.endswith(".")
        assert not set(sentence) & set("!<>*")
        assert not re.search(r"\b(vice|levell\w+|centre\w*|millimetres?|bevelled|re-tooth\w*)\b", sentence)


def texts(page: PageSheet) -> list[str]:
    return [shape.text for shape in page.shapes if isinstance(shape, Lettering)]


def test_a_bench_card_has_the_saws_numbers_in_its_own_unit_and_a_box_for_each_part_of_the_work() -> None:
    saw = supplied("crosscut-panel")
    (page,) = bench_card(saw, matter(saw), PaperStock())
    told = texts(page)
    assert {"155", "15°", "16.5°", "25°", "0.006 in", "0.047 in"} <= set(told)
    # A vise of 14 in holds 98 points: two reaches from either side.
    assert {"side 1, handle right: gullets 1, 3, 5 … 77", "79–155"} <= set(told)
    assert {"side 2, handle left: gullets 2, 4, 6 … 78", "80–154", "turn the saw and the guides"} <= set(told)
    together = " ".join(told)
    for stage in (Stage.LOOK_OVER, Stage.LEVEL, Stage.SET, Stage.FILE, Stage.DRESS, Stage.PROVE, Stage.CLOSE):
        assert words(stage).title in told
        assert words(stage).how in together
    assert words(Stage.RESHAPE).title not in told
    assert f"{bend_words()} {anvil_words(saw)}" in together
    assert {pass_words(stage, 1, 1, saw) for stage in (Stage.LEVEL, Stage.DRESS)} <= set(told)
    assert "safety glasses" in together
    boxes = [shape for shape in page.shapes if isinstance(shape, Trace) and shape.closed]
    assert len(boxes) == 17 + 4 + 4 + 5 + 4 + 3 + 4


def test_a_metric_saw_is_told_in_millimeters() -> None:
    saw = replace(supplied("crosscut-panel"), toothed_length=parse_length("560 mm"))
    (page,) = bench_card(saw, matter(saw), PaperStock())
    assert {"3.63 mm", "0.889 mm", "0.152 mm"} <= set(texts(page))
    block = texts(pages_of(saw, Printable.GUIDE_BLOCK, PaperStock())[0])
    assert "64 mm wide" in " ".join(block)


def test_a_card_of_many_reaches_is_still_one_page() -> None:
    saw = replace(supplied("dovetail"), vise_jaw=Length.of(12.0, "mm"))
    plan = matter(saw).plan
    assert len(plan.reaches) > 15
    (page,) = bench_card(saw, matter(saw), PaperStock(Paper.LETTER, 90.0))
    last = plan.reaches[-1][0]
    assert [text for text in texts(page) if text.startswith((f"{last}–", f"{last + 1}–"))]
    assert max(foot for *_, foot, _ in lettered(page)) <= PaperStock(Paper.LETTER, 90.0).room()[1]
