"""The drawing of a measured line: every tooth where it stands, ten times in height, each state told by a letter."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from session.prints.scanned_drawing import ALONG, LEFT, ROW_MM, TIMES, scanned_svg
from session.trade.scanned_line import ToothState
from told_line import told_line

SVG = "{http://www.w3.org/2000/svg}"


def corners(path: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (one.split() for one in path.attrib["d"].strip("M").split("L"))]


def test_heights_stand_ten_times_as_high_as_places_are_wide() -> None:
    line = told_line(12, 4.6, {4: (ToothState.LOW, 0.2)})
    root = ET.fromstring(scanned_svg("Netloft", ["Twelve."], line))
    [level] = [one for one in root.iter(f"{SVG}path") if one.attrib["class"] == "level"]
    [steel] = [one for one in root.iter(f"{SVG}path") if one.attrib["class"] == "steel"]
    under = corners(level)[0][1]
    [low] = [(x, y) for x, y in corners(steel) if abs(x - LEFT - 3 * 4.6 * ALONG) < 0.06]
    assert abs(low[1] - under - 0.2 * ALONG * TIMES) < 0.06
    points = [(x, y) for x, y in corners(steel) if abs(y - under) < 0.06]
    assert len(points) == 2 * 11, "both ends of each flat on the line"
    letters = [one.text for one in root.iter(f"{SVG}text") if one.text in ("L", "H", "B", "?")]
    assert letters == ["L"]


def test_a_long_line_goes_on_below_and_what_was_not_seen_is_dashed() -> None:
    count = int(2.5 * ROW_MM / 4.6)
    odd = {10: (ToothState.NOT_SEEN, 0.0), 20: (ToothState.HIGH, -0.2), 30: (ToothState.BROKEN, 1.5)}
    root = ET.fromstring(scanned_svg("A <line> & \x07", [], told_line(count, 4.6, odd)))
    kinds = [one.attrib["class"] for one in root.iter(f"{SVG}path")]
    assert kinds.count("level") == 3
    assert kinds.count("guess") == 1
    letters = [one.text for one in root.iter(f"{SVG}text") if one.text in ("L", "H", "B", "?")]
    assert letters == ["?", "H", "B"]
    low = float(root.attrib["height"])
    assert all(0.0 <= y <= low for one in root.iter(f"{SVG}path") for _, y in corners(one))
