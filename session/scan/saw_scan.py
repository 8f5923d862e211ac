"""From picture files to a measured line: each read, turned so that its heel comes first, joined, told in figures."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from session.machine.refusal import Refusal
from session.machine.untrusted_text import shown
from session.scan.joined_pictures import joined
from session.scan.line_count import counted
from session.scan.line_figures import from_heel, heel_of, measured_line
from session.scan.line_reading import ReadPicture
from session.scan.picture_file import LEAST_DPI, MOST_DPI, read_gray
from session.scan.tones_doubt import with_doubt
from session.scan.tones_read import TonesRead, read_by_tones, settled, taken
from session.trade.rounding import decimals
from session.trade.scan_tones import TakenTones, Tones, TonesBy
from session.trade.scanned_line import ScannedLine
from session.value_class import dataclass, replace

#: Most pictures of one line.
MOST_PICTURES: Final = 5

#: Relative standard uncertainty of a scale that was not measured: of the scanner's own word on its dots (our own guess,
#: after published trials of flatbeds, which were off by a few dots in a thousand).
SE_UNMEASURED: Final = 0.002

#: How far a scanner bends a straight line over one picture, standard uncertainty, mm (our own guess).
#: Bent alike in each, pictures joined end to end bend as the square of their number.
SE_BOW_MM: Final = 0.02


@dataclass(frozen=True, slots=True)
class SawScan:
    """A line, and how it was taken: dots per mm along and down the first picture, where its heel lay, which side was
    taken for steel, whether the plate's ends told so, the resolution by the inch, and by which tones it was read.
    other_count: how many teeth there may be as well by the picture, where the recipe's count settled it."""

    line: ScannedLine
    dots_per_mm: tuple[float, float]
    heel: str
    heel_told: bool
    light_steel: bool
    sure: bool
    dpi: float
    depth_mm: float
    tones: TakenTones
    scale_measured: bool = False
    other_count: int | None = None


def scan_saw(
    paths: Sequence[Path],
    *,
    dpi: float | None = None,
    heel: str | None = None,
    first: Sequence[int] | None = None,
    steel: str | None = None,
    tones: Tones | None = None,
    shares: tuple[float, float] = (1.0, 1.0),
    se_shares: tuple[float, float] = (SE_UNMEASURED, SE_UNMEASURED),
    points: int | None = None,
    say: Callable[[str], None] = lambda _: None,
) -> SawScan:
    """Measure the line in the pictures at ``paths``, from heel to toe. Raises Refusal.

    dpi: of all of them, where the files do not say. heel: "left" or "right" in the pictures, where the teeth do not
    tell. steel: "light" or "dark", as it is against what is behind it. tones: usual or linear,
    before what the files say. shares: of the scanner's word on its dots, what
    is true of them along the rows and down the columns; se_shares: their relative standard uncertainties. points:
    counted by a person, by the recipe, which settles an end of the line that a single picture leaves open. say: hears
    what takes its time.
    """
    if len(paths) > MOST_PICTURES:
        raise Refusal(f"{len(paths)} pictures; allowed: at most {MOST_PICTURES}")
    by_tones: list[TonesRead] = []
    for path in paths:
        if len(paths) > 1:
            say(f"{shown(path)}: reading …")
        picture = read_gray(path, say)
        told = told_scale(path, picture.dpi, dpi)
        per_mm = told[0] * shares[0], told[1] * shares[1]
        usual = any(one.by is TonesBy.EDGES and one.tones is Tones.USUAL for one in by_tones)
        try:
            by_tones.append(read_by_tones(picture, per_mm, steel, tones, usual=usual))
        except Refusal as wrong:
            raise Refusal(f"{shown(path)}: {wrong}") from None
    by_tones = settled(by_tones)
    read = [one.picture for one in by_tones]
    lies = _heel(read, heel)
    dot = 1.0 / min(min(one.per_mm) for one in read)
    points = points if len(paths) == 1 else None
    line, other_count = _whole(paths, read, lies, first, se_shares, points)
    taken_by = taken(by_tones)
    if taken_by.by is TonesBy.NOBODY:
        other = _other_line(paths, by_tones, lies, first, se_shares, points)
        line, doubt = with_doubt(line, other, dot)
        taken_by = replace(taken_by, doubt_mm=doubt)
    along, down = read[0].per_mm
    return SawScan(
        line=line,
        dots_per_mm=(down, along) if read[0].upright else (along, down),
        heel=lies,
        heel_told=heel is not None,
        light_steel=read[0].light_steel,
        sure=all(one.sure for one in read),
        dpi=along * 25.4,
        depth_mm=line.depth_mm,
        tones=taken_by,
        scale_measured=se_shares[read[0].upright] < SE_UNMEASURED,
        other_count=other_count,
    )


def _whole(
    paths: Sequence[Path],
    read: Sequence[ReadPicture],
    lies: str,
    first: Sequence[int] | None,
    se_shares: tuple[float, float],
    points: int | None,
) -> tuple[ScannedLine, int | None]:
    """The line that the pictures make together, whose heel ``lies`` on that side of them, and how many teeth there may
    be as well, where ``points`` settled it. Raises Refusal."""
    pictures, other = [], None
    for path, one in zip(paths, read, strict=True):
        try:
            found = counted(one, points, lies)
            pictures.append(from_heel(found.teeth, lies))
            other = found.other
        except Refusal as wrong:
            raise Refusal(f"{shown(path)}: {wrong}") from None
    depth = max(one.depth for one in read)
    whole, joints = joined(pictures, first)
    try:
        dot = 1.0 / min(min(one.per_mm) for one in read)
        bow = SE_BOW_MM * len(paths) ** 2
        return measured_line(whole, depth, se_shares[read[0].upright], bow, dot, joints), other
    except Refusal as wrong:
        raise Refusal(f"{', '.join(map(shown, paths))}: {wrong}") from None


def _other_line(
    paths: Sequence[Path],
    by_tones: Sequence[TonesRead],
    lies: str,
    first: Sequence[int] | None,
    se_shares: tuple[float, float],
    points: int | None,
) -> ScannedLine | None:
    """The line with the pictures that nobody told read by linear tones; None where those make none."""
    read = [one.linear if one.by is TonesBy.NOBODY else one.picture for one in by_tones]
    pictures = [one for one in read if one is not None]
    if len(pictures) < len(read):
        return None
    try:
        return _whole(paths, pictures, lies, first, se_shares, points)[0]
    except Refusal:
        return None


def told_scale(path: Path, told: tuple[float, float] | None, given: float | None) -> tuple[float, float]:
    """Dots per mm along and down a picture by the scanner's word, or as given. Raises Refusal for what none has."""
    both = (given, given) if given is not None else told
    if both is None:
        raise Refusal(f"{shown(path)}: does not say its dots per inch; say them, such as --dpi 1200")
    for one in both:
        if not LEAST_DPI <= one <= MOST_DPI:
            raise Refusal(
                f"{shown(path)}: {decimals(one, 0)} dots per inch; allowed: "
                f"{decimals(LEAST_DPI, 0)} to {decimals(MOST_DPI, 0)}, 1200 is best; scan it finer, "
                "or give --dpi where the file is wrong"
            )
    return both[0] / 25.4, both[1] / 25.4


def _heel(read: Sequence[ReadPicture], given: str | None) -> str:
    """Where the heel lies in all pictures; told by the teeth where nobody says it."""
    if given is not None:
        return given
    told = {lies for one in read if (lies := heel_of(one.teeth)) is not None}
    if len(told) > 1:
        raise Refusal(
            "the pictures show the saw from both of its sides; scan all of them with the same side on the glass"
        )
    if not told:
        raise Refusal(
            "fronts and backs lean alike, so that the teeth do not tell heel from toe; say --heel left or right"
        )
    return told.pop()
