"""Two renderers, differently written, draw the same, and what is read of both is the same."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from filled_scan import filled
from known_line import even_line, random_line
from made_scan import Frame, Optics, covered, scan, toned
from scan_judged import judged
from session.scan.saw_scan import scan_saw


def test_both_draw_the_same_shares_of_steel() -> None:
    line = even_line(25.4 / 5, 5, flat=0.2)
    optics = Optics(dpi=300, spread=0.0, jitter=0.0, noise=0.0, texture=0.0, slope_of_light=0.0, steel=1.0, cloth=0.0)
    frame = Frame.of(line, optics)
    exact = covered([frame.dots(*point) for point in line.outline()], frame.width, frame.height)
    drawn = np.asarray(filled(line, optics), dtype=float)
    ours = toned(exact, optics.gamma).astype(float)
    assert 0.1 < exact.mean() < 0.9
    assert np.mean(np.abs(drawn - ours)) < 0.5
    assert np.abs(drawn.mean() - ours.mean()) < 0.3


@pytest.mark.wide
def test_both_are_read_alike(tmp_path: Path) -> None:
    line = random_line(11, count=9)
    optics = Optics(dpi=500, tilt=1.5)
    one, other = tmp_path / "one.png", tmp_path / "other.png"
    Image.fromarray(scan(line, optics)[0]).save(one, dpi=(500, 500))
    filled(line, optics).save(other, dpi=(500, 500))
    first, second = scan_saw([one]).line, scan_saw([other]).line
    assert judged(scan_saw([other]), line).wrong == []
    assert [tooth.state for tooth in first.teeth] == [tooth.state for tooth in second.teeth]
    for a, b in zip(first.teeth, second.teeth, strict=True):
        if a.height_mm is not None and a.flat_mm is not None:
            # Within a dot: only one has noise, in which the narrowest flats are not told.
            assert b.height_mm == pytest.approx(a.height_mm, abs=0.05)
            assert b.place_mm == pytest.approx(a.place_mm, abs=0.05)
            assert b.front_deg == pytest.approx(a.front_deg, abs=0.5)
