"""What a scan told against what was drawn: errors tooth by tooth, and teeth told in a wrong state."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import numpy as np
import tomli_w
from scipy.optimize import minimize
from scipy.special import huber

from known_line import KnownLine
from made_scan import Optics, as_file, scan
from session.files.scanned_file import FORMAT, KeptScan, read_scan
from session.scan.saw_scan import SawScan, scan_saw
from session.trade.scanned_line import ToothState

#: A tooth so far off the line has to be told; one off by less than the second must not be; between them, either.
TOLD_MM, QUIET_MM = 0.1, 0.07

#: What is measured of a tooth.
WHAT: Final = ("height", "place", "flat", "front", "back", "gap")


@dataclass(slots=True)
class Judged:
    """Errors of one or many scans, each beside what was stated: of height, place, flat (mm), front and back (degrees),
    and of how far the line's middle is off its ends (mm).

    wrong: teeth in a wrong state, in words. teeth: how many there were; not_seen: of how many no state was told,
    in_doubt of them with figures. faults: how many were low, high or broken for certain; untold: of how many of those
    no state was told: neither wrong nor found.
    """

    errors: dict[str, list[float]] = field(default_factory=lambda: {what: [] for what in WHAT})
    stated: dict[str, list[float]] = field(default_factory=lambda: {what: [] for what in WHAT})
    wrong: list[str] = field(default_factory=list)
    false_alarms: int = 0
    teeth: int = 0
    not_seen: int = 0
    in_doubt: int = 0
    faults: int = 0
    untold: int = 0

    def spread(self, what: str) -> float:
        """Root mean square of the errors."""
        return float(np.sqrt(np.mean(np.square(self.errors[what]))))

    def held(self, what: str) -> float:
        """Share of the errors within what was stated, at one sigma."""
        return float(np.mean(np.abs(self.errors[what]) < np.array(self.stated[what])))

    def add(self, other: Judged) -> None:
        """Take another's in."""
        for what in WHAT:
            self.errors[what] += other.errors[what]
            self.stated[what] += other.stated[what]
        self.wrong += other.wrong
        self.false_alarms += other.false_alarms
        self.teeth += other.teeth
        self.not_seen += other.not_seen
        self.in_doubt += other.in_doubt
        self.faults += other.faults
        self.untold += other.untold


def true_heights(line: KnownLine) -> tuple[list[float], float]:
    """How far each top lies under the line through the points, and how far that line's middle is over its ends.

    The line as it is laid, through the points that were neither left low or high nor broken: a parabola by Huber's
    rule, squares up to 0.02 mm and straight on beyond; found by descent, where the program weighs anew.
    """
    u = np.array([tooth.place for tooth in line.teeth])
    v = np.array([tooth.v for tooth in line.teeth])
    kept = np.array([tooth.state == "whole" for tooth in line.teeth])
    x = 2.0 * (u - u[kept].min()) / float(np.ptp(u[kept])) - 1.0
    laid = minimize(
        lambda found: float(np.sum(huber(0.02, (v - np.polyval(found, x))[kept]))),
        [0.0, 0.0, float(np.median(v[kept]))],
        method="BFGS",
        options={"gtol": 1e-9},
    ).x
    return [float(one) for one in np.polyval(laid, x) - v], -float(laid[0])


def judged(found: SawScan, line: KnownLine, name: str = "") -> Judged:
    """``found`` against the ``line`` that was drawn. A wrong count is one wrong thing, and nothing else is compared."""
    told = Judged(teeth=len(line.teeth))
    if found.line.count != len(line.teeth):
        told.wrong.append(f"{name}: {found.line.count} teeth told of {len(line.teeth)}")
        return told
    heights, gap = true_heights(line)
    _put(told, "gap", found.line.line_gap_mm - gap, found.line.se_line_gap_mm)
    pairs = list(zip(found.line.teeth, line.teeth, heights, strict=True))
    for here, true, height in pairs:
        wanted = _wanted(true.state, height)
        told.faults += wanted not in (None, "whole")
        if here.state is ToothState.NOT_SEEN:
            told.not_seen += 1
            told.in_doubt += here.height_mm is not None
            told.untold += wanted not in (None, "whole")
        elif wanted is not None and here.state != wanted:
            told.wrong.append(f"{name}: tooth {here.tooth} told {here.state}, is {wanted} ({height:.3f} mm)")
            told.false_alarms += wanted == "whole"
    seen = [(a, b, h) for a, b, h in pairs if a.flat_mm is not None and b.state != "broken"]
    begin = float(np.median([here.place_mm - true.place for here, true, _ in seen]))
    for here, true, height in seen:
        assert here.flat_mm is not None
        assert here.height_mm is not None
        _put(told, "height", here.height_mm - height, here.se_mm)
        _put(told, "place", here.place_mm - begin - true.place, here.se_place_mm)
        if here.flat_mm > 0.0 or true.b > true.a:  # a sharp tooth told sharp has no error to be held
            _put(told, "flat", here.flat_mm - (true.b - true.a), here.se_flat_mm)
        # The plate may end at the last tooth, whose front is then cut square.
        front = true.front if here.tooth < len(line.teeth) or line.toe_ledge > 0.0 else 0.0
        if here.front_deg is not None and here.back_deg is not None:
            _put(told, "front", here.front_deg - front, here.se_front_deg)
            _put(told, "back", here.back_deg - true.back, here.se_back_deg)
    return told


def _put(told: Judged, what: str, error: float, stated: float | None) -> None:
    told.errors[what].append(error)
    told.stated[what].append(stated or 0.0)


def _wanted(state: str, height: float) -> str | None:
    """The state that has to be told; None where two are right."""
    if state == "broken":
        return "broken"
    if abs(height) >= TOLD_MM:
        return "low" if height > 0 else "high"
    return "whole" if abs(height) < QUIET_MM else None


def random_optics(seed: int, dpi: float) -> Optics:
    """A scanner, a way of laying the saw on it, and dirt, at random."""
    dice = random.Random(seed * 7 + 1)
    dark = dice.random() < 0.3
    return Optics(
        dpi=dpi,
        spread=dice.uniform(0.6, 1.3),
        jitter=dice.uniform(0.0, 0.2),
        noise=dice.uniform(0.004, 0.02),
        gamma=dice.choice((0.0, 0.0, 0.0, 2.2, 1.9)),
        tilt=dice.uniform(-10.0, 10.0) if dice.random() < 0.3 else dice.uniform(-1.5, 1.5),
        heel=dice.choice(("left", "right")),
        up=dice.random() < 0.7,
        steel=0.2 if dark else dice.uniform(0.35, 0.75),
        cloth=0.8 if dark else dice.uniform(0.01, 0.06),
        slope_of_light=dice.uniform(-0.2, 0.2),
        bevel=dice.uniform(0.75, 1.2),
        shadow=dice.uniform(0.0, 0.4),
        dust=dice.randint(0, 25),
        hairs=dice.choice((0, 0, 0, 1)),
        rust=dice.randint(0, 5),
        jpeg=dice.choice((0, 0, 90)),
        bow=dice.gauss(0.0, 0.02),
        seed=seed,
    )


def scanned(line: KnownLine, optics: Optics, folder: Path, **told: str) -> SawScan:
    """``line`` drawn, saved as a scanner's program saves it, and read."""
    kind = "JPEG" if optics.jpeg else "PNG"
    path = folder / f"scan.{kind.lower()}"
    options = {} if optics.jpeg else {"compress_level": 1}
    path.write_bytes(as_file(scan(line, optics)[0], optics, kind, **options))
    found = scan_saw([path], **told)  # type: ignore[arg-type]
    kept = folder / "kept.toml"
    table = KeptScan(at=datetime(2026, 11, 20, 9, 0, tzinfo=UTC), saw="Drawn saw", line=found.line).to_dict()
    kept.write_text(tomli_w.dumps({"format": FORMAT, "program": "toothline", **table}), encoding="utf-8")
    # Whatever is read of a picture can be kept: the file's own checks take it.
    assert read_scan(kept).line.count == found.line.count
    return found


def trials(seeds: Iterator[int] | range, dpi: float, folder: Path) -> Iterator[tuple[int, Judged]]:
    """Random saws on random scanners, each judged."""
    from known_line import random_line

    for seed in seeds:
        line, optics = random_line(seed), random_optics(seed, dpi)
        yield seed, judged(scanned(line, optics, folder), line, f"saw {seed}")
