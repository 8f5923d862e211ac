"""Every picture once, for looking at: ``python -m session.pictures.gallery [--ascii]``."""

from __future__ import annotations

import sys

from session.pictures.bare_teeth import BareTooth, bare_teeth
from session.pictures.bent_tooth import setting
from session.pictures.counted_place import CountedPlace, counted_place
from session.pictures.far_view import far_rows
from session.pictures.from_above import above, leaning
from session.pictures.guide_block import block
from session.pictures.guide_block import turn as block_turn
from session.pictures.gullet_closeup import Gullet, closeup, flats_left
from session.pictures.large_letters import plate, pointed, spelled
from session.pictures.level_file import flats, leveling
from session.pictures.line_strip import legend, strip
from session.pictures.numerals import numeral
from session.pictures.picture_rows import Role, Rows, plain
from session.pictures.step_gallery import step_gallery
from session.pictures.strip_places import strip_places
from session.pictures.tooth_profile import profile
from session.pictures.vise import turn as saw_turn
from session.pictures.vise import vise
from session.sentences.glance import Glance, Push
from session.trade.saw import End, FilePoints
from session.walk.place import Standing

_TEETH = 155
_FLATS = (("none", 0.0), ("a touch", 0.05), ("small", 0.12), ("wide", 0.28))
# Plate angles of a tooth filed at rake 15 and fleam 25 (geometry: tan F = 0.29565, tan B = 1.10338).
_FRONT, _BACK = 16.47, 47.81


_FAR = Glance(
    kind="gullet",
    number=47,
    of=_TEETH,
    side=1,
    strokes=3,
    counted=4,
    light=False,
    lean="press to the toe",
    lean_way=Push.LEFT,
    push=Push.TO_LEFT,
    pushes="tip to the toe",
    stop=("stop when half of each flat is gone", "stop at half of each flat"),
)


def gallery(*, ascii: bool = False) -> dict[str, Rows]:
    """Each picture by name, of an invented crosscut saw of 155 teeth with gullet 47 in hand on side 1."""
    odd = range(1, _TEETH + 1, 2)
    states: list[Standing | None] = [None] * _TEETH
    for k in odd:
        states[k - 1] = Standing.DONE if k < 47 else Standing.IN_HAND if k == 47 else Standing.AHEAD
    states[20] = Standing.LEFT_OUT
    reaches = ((1, 51), (52, 103), (104, 155))
    gullet = Gullet(
        tooth=47,
        teeth=_TEETH,
        front_deg=_FRONT,
        back_deg=_BACK,
        rake=15,
        side=1,
        flats=flats_left(0.14, range(1, 47, 2), range(40, 55)),
        lean=End.TOE,
    )
    rip = Gullet(tooth=8, teeth=75, front_deg=0, back_deg=60, rake=0, side=2, flats=flats_left(0.1, (), range(1, 16)))
    return {
        "numerals of 5 rows": numeral("0123456789", 5, ascii=ascii),
        "numerals of 7 rows": numeral("47/155", 7, ascii=ascii),
        "letters": pointed(spelled("stop at half of each flat"), Role.STRONG, ascii=ascii),
        "plate of side 2": pointed(plate("side 2", "left"), Role.HANDLE, ascii=ascii),
        "far view of 80 columns": far_rows(_FAR, "right", 78, 17, ascii=ascii),
        "far view of 120 columns": far_rows(_FAR, "right", 118, 25, ascii=ascii, left_s=12),
        "strip, side 1": strip(states, 47, reaches, 1, 78, flags={9}, ascii=ascii),
        "strip, side 2": strip(states, 47, reaches, 2, 78, flags={9}, ascii=ascii),
        "legend": (legend(78, ascii=ascii),),
        "close up, crosscut, side 1": closeup(gullet, 50, 13, ascii=ascii),
        "close up, rip, side 2": closeup(rip, 50, 13, ascii=ascii),
        "from above, side 1": above(
            47,
            _TEETH,
            fleam=25,
            side=1,
            file_points=FilePoints.TOE,
            away=odd,
            width=50,
            height=11,
            ascii=ascii,
        ),
        "which teeth lean away": leaning(47, _TEETH, side=1, away=odd, width=50, ascii=ascii),
        "block, side 1": block(15, 1, 28, 11, ascii=ascii),
        "turn of the block": block_turn(15, 1, 60, 11, ascii=ascii),
        "setting": setting(2.6, 0.9, 0.15, 0.4, 50, 12, ascii=ascii),
        "leveling": leveling(_FRONT, _BACK, 1, 70, 10, ascii=ascii),
        "flats": flats(_FLATS, _FRONT, _BACK, 1, 50, 8, ascii=ascii),
        "places on the strip": strip_places(66, 10, ascii=ascii),
        **step_gallery(ascii=ascii),
        "profile of the teeth": profile(_FRONT, _BACK, 50, 9, ascii=ascii),
        "bare teeth, one of them low, side 1": bare_teeth(
            [BareTooth(3.6 * k - 0.2 * (k != 2), 3.6 * k + 0.2 * (k != 2), 0.1 * (k == 2)) for k in range(4)],
            5.4,
            3.6,
            (_FRONT, _BACK),
            78,
            7,
            side=1,
            ascii=ascii,
        ),
        "last worked, to be counted": counted_place(
            CountedPlace(47, _TEETH, True, "last worked", "6.6 in"), (_FRONT, _BACK), 1, 50, 9, ascii=ascii
        ),
        "vise": vise(1, 50, 10, above_jaws="1/2 in", ascii=ascii),
        "turn of the saw": saw_turn(1, 60, 11, ascii=ascii),
    }


if __name__ == "__main__":
    for name, rows in gallery(ascii="--ascii" in sys.argv).items():
        print(name, *plain(rows), "", sep="\n")
