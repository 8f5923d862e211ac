"""The gullet in hand close up: the teeth on either side, their flats, and the file seated between them.

Everything is drawn to one scale from the angles on the plate. The picture is made with the toe on the
right and turned over for side 1, where the person sees the toe on the left; so both sides show the same
steel as mirror images.
"""

from __future__ import annotations

import math
import re
from collections.abc import Container, Mapping
from typing import Final

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import FILE, LIGHT
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import GONE
from session.trade.saw import End
from session.trade.sides import goes_left
from session.value_class import dataclass

#: What is left of a tooth's flat behind and ahead of the middle of its point, as shares of the pitch.
Flat = tuple[float, float]

NO_FLAT: Final[Flat] = (0.0, 0.0)

#: Up to this gullet the back of tooth 1 is drawn beside it.
_SEEN_WITH: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Gullet:
    """What is drawn.

    tooth: the gullet in hand, named by the tooth whose front it is, 1 … teeth.
    teeth: points on the whole line, so that the heel and the toe end are drawn as ends.
    front_deg, back_deg: lean of front and back from square, seen on the plate; together above 0.
    rake: as the block holds the file, degrees.
    side: 1 toe on the left, 2 toe on the right.
    flats: what is left of the flats, by tooth; a tooth not named has none.
    stumps: the broken teeth, drawn as what is left of them.
    low: teeth from which nothing comes off, named so in place of their flank.
    then_back: whether the back of tooth 1, behind which no gullet is counted, is filed beside this one.
    lean: the end of the saw toward which the file is pressed; None when it is not pressed to either.
    filed: whether a file is laid into the gullet at all.
    """

    tooth: int
    teeth: int
    front_deg: float
    back_deg: float
    rake: float
    side: int
    flats: Mapping[int, Flat]
    lean: End | None = None
    stumps: frozenset[int] = frozenset()
    low: frozenset[int] = frozenset()
    then_back: bool = False
    filed: bool = True


def flats_left(share: float, filed: Container[int], teeth: range) -> dict[int, Flat]:
    """What is left of flats of ``share`` of the pitch once the gullets in ``filed`` have been filed.

    Filing a gullet takes the front half of its own tooth's flat and the back half of the next one's
    (KING, MTS: half of each tooth from each side).
    """
    half = share / 2
    return {k: (0.0 if k - 1 in filed else half, 0.0 if k in filed else half) for k in teeth}


def closeup(gullet: Gullet, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The picture in a room of ``width`` × ``height`` cells; best from 36 × 9 on.

    Raises PictureError for a tooth outside the line, angles that leave no tooth, a flat below 0 or of
    half a pitch and more on one side of the point, an impossible side or room.
    """
    check_room(width, height)
    _check(gullet)
    sheet = Sheet(width, height)
    view = _View.fit(gullet, width, height)
    steel = Solid(width, height)
    steel.fill(view.profile())
    steel.draw(sheet, Role.STEEL, ascii=ascii)
    view.light_flats(sheet, ascii)
    if gullet.filed:
        file = Solid(width, height)
        file.fill(view.file_corners())
        # Where the file touches a flank, the steel is what the cell shows.
        file.lay(sheet, FILE, ascii=ascii, over=False)
    if gullet.side == 1:
        sheet.flip()
    view.label(sheet, ascii)
    return sheet.rows()


@dataclass(frozen=True, slots=True)
class _View:
    """One scale for everything: units as in `session.pictures.filled_shapes`, the toe on the right."""

    gullet: Gullet
    width: int
    height: int
    pitch: float
    tips: float
    plate_rows: int

    @classmethod
    def fit(cls, gullet: Gullet, width: int, height: int) -> _View:
        labels = 1 if height >= 5 else 0
        lean_row = 1 if height >= 9 else 0
        plate_rows = 2 if height >= 10 else 1 if height >= 6 else 0
        rows = max(1, height - labels - lean_row - plate_rows)
        # Half of what is left goes to the teeth and half to the file that stands above them; three
        # pitches have to be seen, and more than five teeth would make each one small.
        depth_share = 1 / (_tan(gullet.front_deg) + _tan(gullet.back_deg))
        wanted = rows * (1.06 if height >= 9 else 1.3) / depth_share
        # A second place has to be seen beside the first; one farther off would make all of it small.
        across = 2.0 * gullet.tooth + 1.5 if gullet.then_back and gullet.tooth <= _SEEN_WITH else 2.6
        pitch = max(2.0, min(wanted, width / across))
        depth = pitch * depth_share
        # At the top of a row, so that a flat has a whole cell to show its color in.
        tips = 2.0 * math.floor(lean_row + rows - depth / 2)
        return cls(gullet, width, height, pitch, tips, plate_rows)

    @property
    def depth(self) -> float:
        """Depth of a sharp tooth, units."""
        return self.pitch / (_tan(self.gullet.front_deg) + _tan(self.gullet.back_deg))

    def point(self, tooth: int) -> float:
        """Where the middle of a tooth's point is, from the left."""
        return self.width / 2 + (tooth - self.gullet.tooth - 0.5) * self.pitch

    def flat(self, tooth: int) -> Flat:
        """Its flat behind and ahead of the point, units."""
        behind, ahead = NO_FLAT if tooth in self.gullet.stumps else self.gullet.flats.get(tooth, NO_FLAT)
        return behind * self.pitch, ahead * self.pitch

    def bottom(self, tooth: int) -> Point:
        """The bottom of the gullet in front of a tooth."""
        start = self.point(tooth) + self.flat(tooth)[1]
        end = self.point(tooth + 1) - (self.flat(tooth + 1)[0] if tooth < self.gullet.teeth else 0.0)
        down = (end - start) / (_tan(self.gullet.front_deg) + _tan(self.gullet.back_deg))
        return start + down * _tan(self.gullet.front_deg), self.tips + down

    def profile(self) -> list[Point]:
        """The steel as one polygon, from below its left end along the teeth to below its right end."""
        ground = 2.0 * self.height
        if self.height >= 5:
            ground -= 2.0
        span = math.ceil(self.width / self.pitch / 2) + 1
        first = max(1, self.gullet.tooth - span)
        last = min(self.gullet.teeth, self.gullet.tooth + 1 + span)
        floor = self.tips + self.depth
        left = -self.pitch
        line: list[Point] = [(left, ground), (left, floor)]
        heel = self.point(first) - self.flat(first)[0] - self.depth * _tan(self.gullet.back_deg)
        line.append((heel, floor))
        for tooth in range(first, last + 1):
            behind, ahead = self.flat(tooth)
            top = self.tips
            if tooth in self.gullet.stumps:
                gone = GONE * self.depth
                top += gone
                behind, ahead = gone * _tan(self.gullet.back_deg), gone * _tan(self.gullet.front_deg)
            line += [(self.point(tooth) - behind, top), (self.point(tooth) + ahead, top)]
            if tooth < last:
                line.append(self.bottom(tooth))
        toe = self.point(last) + self.flat(last)[1] + self.depth * _tan(self.gullet.front_deg)
        right = max(toe, self.point(last) + 0.9 * self.pitch) if last == self.gullet.teeth else self.width + self.pitch
        return [*line, (toe, floor), (right, floor), (right, ground)]

    def file_corners(self) -> tuple[Point, Point, Point]:
        """The file's section on the plate: the corner in the gullet, then the corners at front and back.

        Its faces lie on both flanks. A file that suits the saw is too large for the picture, so it is
        drawn as large as the room allows.
        """
        foot_x, foot_y = self.bottom(self.gullet.tooth)
        at_front, at_back = math.cos(math.radians(self.gullet.rake)), math.cos(math.radians(60 - self.gullet.rake))
        highest = max(at_front, at_back)
        room = foot_y - (2.0 if self.height >= 9 else 0.25)
        face = min(2.3 * self.depth, room) / highest
        return (
            (foot_x, foot_y),
            (foot_x - face * at_front * _tan(self.gullet.front_deg), foot_y - face * at_front),
            (foot_x + face * at_back * _tan(self.gullet.back_deg), foot_y - face * at_back),
        )

    def light_flats(self, sheet: Sheet, ascii: bool) -> None:
        """Give each flat the texture of what shines, so that it is seen without color."""
        for tooth in range(max(1, self.gullet.tooth - 3), min(self.gullet.teeth, self.gullet.tooth + 4) + 1):
            behind, ahead = self.flat(tooth)
            if behind + ahead > 0:
                for x in range(math.floor(self.point(tooth) - behind), math.ceil(self.point(tooth) + ahead)):
                    sheet.texture(x, math.floor(self.tips / 2), LIGHT, ascii=ascii)

    def label(self, sheet: Sheet, ascii: bool) -> None:
        """Numbers on the steel, names of both flanks, which way heel and toe lie, and the lean."""
        k, toe_left = self.gullet.tooth, self.gullet.side == 1

        def seen(x: float) -> float:
            return self.width - x if toe_left else x

        pair = (k, k + 1)
        if self.plate_rows:
            row = self.height - 2
            for tooth in range(max(1, k - 4), min(self.gullet.teeth, k + 5) + 1):
                x, text = seen(self.point(tooth)), f" {tooth} "
                if len(text) / 2 <= x <= self.width - len(text) / 2 and self.pitch > len(text):
                    sheet.put_centered(x, row, text, Role.STRONG if tooth in pair else Role.LABEL)
        if self.gullet.then_back:
            self._mark_second(sheet, seen(self.point(1) - self.flat(1)[0]), ascii)
            self._mark_first(sheet, ascii)
        if self.height >= 5:
            self._name_flanks(sheet, seen(self.point(k)), seen(self.point(k + 1)), ascii)
        if not self.gullet.filed:
            return
        if self.height >= 9:
            sheet.put_centered(self.width / 2, 0, _lean_words(self.gullet, self.width, ascii), Role.ARROW)
        elif self.gullet.lean is not None:
            self._lean_beside_file(sheet, ascii)

    def _mark_second(self, sheet: Sheet, x: float, ascii: bool) -> None:
        """An arrow down to the back of tooth 1, behind its point at ``x``: the second place filed here."""
        heel_right, mark = self.gullet.side == 1, "v" if ascii else "▼"
        row, text = max(0, int(self.tips / 2) - 1), f"{mark} then" if heel_right else f"then {mark}"
        at = math.ceil(x) if heel_right else math.floor(x) - 1
        left = at if heel_right else at - len(text) + 1
        if left >= 0 and left + len(text) <= self.width and _free(sheet, left, row, text):
            sheet.put(left, row, text, Role.ARROW)
        elif 0 <= at < self.width and _free(sheet, at, row, mark):
            # Where the file or an edge is in the way, the word stands over the arrow.
            sheet.put(at, row, mark, Role.ARROW)
            over = max(0, min(at, self.width - len("then")))
            if row and _free(sheet, over, row - 1, "then"):
                sheet.put(over, row - 1, "then", Role.ARROW)

    def _mark_first(self, sheet: Sheet, ascii: bool) -> None:
        """A word on the file where it is widest: the gullet comes first, so that two places are seen for one mark."""
        rows = ["".join(sheet.char(x, y) for x in range(self.width)) for y in range(self.height)]
        file = re.compile(f"{re.escape(FILE.cell(ascii=ascii))}+")
        runs = [(run.end() - run.start(), run.start(), y) for y, row in enumerate(rows) for run in file.finditer(row)]
        widest, at, y = max(runs, default=(0, 0, 0))
        text = first_that_fits(widest, ("first", "1st", ""))
        sheet.put(at + (widest - len(text)) // 2, y, text, Role.ARROW)

    def _lean_beside_file(self, sheet: Sheet, ascii: bool) -> None:
        """In a low room the lean stands beside the file, on the side to which it is pressed.

        Its arrow has its name beside it or under it, so that it is not taken for the way of the file.
        """
        arrow, to_left = _lean_arrow(self.gullet, ascii), _leans_left(self.gullet)
        for text in (_lean_words(self.gullet, self.width, ascii), f"{arrow} press" if to_left else f"press {arrow}"):
            if self._put_at_edge(sheet, 0, text):
                return
        if self._fits_at_edge(sheet, 1, "press"):
            self._put_at_edge(sheet, 0, arrow)
            self._put_at_edge(sheet, 1, "press")
            return
        for text in (f"{arrow[0]}press" if to_left else f"press{arrow[-1]}", arrow):
            if self._put_at_edge(sheet, 0, text):
                return

    def _fits_at_edge(self, sheet: Sheet, row: int, text: str) -> bool:
        """Whether there is room for ``text`` at the edge to which the file is pressed."""
        left = self._at_edge(text)
        # One cell more on either side, so that the words never touch the drawing.
        around = range(left - 1, left + len(text) + 1)
        return self.width > len(text) and all(sheet.char(x, row) == " " for x in around)

    def _at_edge(self, text: str) -> int:
        return 0 if _leans_left(self.gullet) else self.width - len(text)

    def _put_at_edge(self, sheet: Sheet, row: int, text: str) -> bool:
        """Put ``text`` at the edge to which the file is pressed; whether there was room for it."""
        if fits := self._fits_at_edge(sheet, row, text):
            sheet.put(self._at_edge(text), row, text, Role.ARROW)
        return fits

    def _name_flanks(self, sheet: Sheet, front_x: float, back_x: float, ascii: bool) -> None:
        row, k = self.height - 1, self.gullet.tooth
        front, back = f"front of {k}", f"back of {k + 1}" if k < self.gullet.teeth else "toe end"
        stumps, low = self.gullet.stumps, self.gullet.low
        if k in stumps | low:
            front = f"stump {k}" if k in stumps else f"{k} is low"
        if k + 1 in stumps | low:
            back = f"stump {k + 1}" if k + 1 in stumps else f"{k + 1} is low"
        if abs(front_x - back_x) > (len(front) + len(back)) / 2 + 3:
            sheet.put_centered(front_x, row, front, Role.STRONG)
            sheet.put_centered(back_x, row, back, Role.STRONG)
        else:
            ordered = (back, front) if self.gullet.side == 1 else (front, back)
            between = f"{ordered[0]} {'-' if ascii else '·'} {ordered[1]}"
            sheet.put_centered(
                self.width / 2,
                row,
                first_that_fits(self.width, (between, between.replace(" of ", " "), front)),
                Role.STRONG,
            )
        left, right = ("toe", "heel") if self.gullet.side == 1 else ("heel", "toe")
        if self.width >= len(front) + len(back) + 3 + 2 * 9:
            sheet.put(0, row, f"{'<' if ascii else '◀'} {left}", Role.LABEL)
            sheet.put(self.width - len(right) - 2, row, f"{right} {'>' if ascii else '▶'}", Role.LABEL)


def _free(sheet: Sheet, left: int, row: int, text: str) -> bool:
    """Whether nothing stands where ``text`` would."""
    return all(sheet.char(left + at, row) == " " for at in range(len(text)))


def _lean_words(gullet: Gullet, width: int, ascii: bool) -> str:
    if gullet.lean is None:
        return first_that_fits(width, ("v press evenly v" if ascii else "▼ press evenly ▼", "press evenly"))
    arrow, text = _lean_arrow(gullet, ascii), f"press to the {gullet.lean}"
    return first_that_fits(width, (f"{arrow} {text}" if _leans_left(gullet) else f"{text} {arrow}", text))


def _lean_arrow(gullet: Gullet, ascii: bool) -> str:
    left, right = ("<==", "==>") if ascii else ("◀══", "══▶")
    return left if _leans_left(gullet) else right


def _leans_left(gullet: Gullet) -> bool:
    return goes_left(gullet.lean is End.TOE, gullet.side)


def _check(gullet: Gullet) -> None:
    if not 1 <= gullet.tooth <= gullet.teeth:
        raise PictureError(f"gullet {gullet.tooth}: allowed are 1 to {gullet.teeth}")
    if gullet.side not in (1, 2):
        raise PictureError(f"side {gullet.side}: allowed are 1 (toe on the left) and 2 (toe on the right)")
    for name, degrees in (("front", gullet.front_deg), ("back", gullet.back_deg), ("rake", gullet.rake)):
        if not -60 <= degrees <= 80:
            raise PictureError(f"{name} angle {degrees:g} degrees: allowed are -60 to 80")
    if not 0.3 <= _tan(gullet.front_deg) + _tan(gullet.back_deg) <= 8:
        raise PictureError(f"front {gullet.front_deg:g} and back {gullet.back_deg:g} degrees leave no tooth to draw")
    for tooth, flat in gullet.flats.items():
        if not all(0 <= part < 0.5 for part in flat):
            raise PictureError(f"flat of tooth {tooth}: allowed are 0 up to half a pitch on each side of the point")


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))
