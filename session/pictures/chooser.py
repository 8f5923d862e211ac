"""Which picture stands beside the words: chosen by what is asked, drawn from the saw's own numbers."""

from __future__ import annotations

from collections.abc import Set
from functools import lru_cache

from session.advice.gullet_advice import expected
from session.pictures.bent_tooth import setting
from session.pictures.from_above import above, leaning
from session.pictures.guide_block import turn as block_turn
from session.pictures.gullet_closeup import Gullet, closeup, flats_left
from session.pictures.ink import Rows, beside, centered
from session.pictures.level_file import flats, leveling
from session.pictures.vise import turn as vise_turn
from session.pictures.vise import vise
from session.trade.grades import SHARES
from session.trade.saw import End, FilePoints, Saw
from session.trade.sides import teeth_leaning_away
from session.trade.tooth import Tooth, tooth_of
from session.walk.front import Ask, Front
from session.walk.graded_flats import usable_grades
from session.walk.place import Place, Standing
from session.walk.stages import Stage
from session.walk.state import State

#: Width of a flat as drawn before any was graded, as a share of the pitch: what one light leveling pass
#: leaves (common practice, no source). It is a drawing, not a measure.
DRAWN_FLAT = 0.16

#: Least rows in which a picture says something.
LEAST_ROWS = 5


def picture(state: State, saw: Saw, width: int, height: int, *, ascii: bool) -> Rows:
    """The picture for this moment in so many cells and rows; no rows when there is none or no room for one."""
    if height < LEAST_ROWS or width < 24:
        return ()
    now = state.front
    if now.ask is Ask.TURN:
        return _turn(state, saw, now, width, height, ascii)
    if now.ask is Ask.SHIFT:
        return vise(state.side, width, min(height, max(9, width // 6)), ascii=ascii)
    if now.ask is Ask.WORK and now.place is not None:
        return _work(state, saw, now.place, width, height, ascii)
    return ()


def crossing(state: State, saw: Saw, width: int, height: int, *, ascii: bool) -> tuple[str, ...]:
    """How the file crosses the plate now, longest words first; none where the view from above tells it.

    width, height: of the picture shown.
    """
    now = state.front
    if now.ask is not Ask.WORK or now.place is None or now.place.stage is not Stage.FILE:
        return ()
    if not saw.fleam:
        return ("square across",)
    if _seen_from_above(saw, width, height):
        return ()
    # The person stands at the lower edge, as in the view from above.
    to_left = (saw.file_points is FilePoints.TOE) == (state.side == 1)
    arrow, degrees = ("\\/" if ascii else "↖↗")[not to_left], " deg" if ascii else "°"
    to, turned = f"to the {saw.file_points} {arrow}", f"{saw.fleam:g}{degrees}"
    return f"fleam {turned}, tip {to}", f"tip {to} {turned}", f"{to} {turned}", f"tip {to}"


def _turn(state: State, saw: Saw, now: Front, width: int, height: int, ascii: bool) -> Rows:
    place = now.place
    rows = min(height, max(10, width // 6))
    if now.name == "saw":
        return vise_turn(3 - now.side, width, rows, ascii=ascii)
    if now.name == "low":
        return vise(now.side, width, rows, ascii=ascii)
    if now.name == "guide":
        rake = saw.at(place.tooth).rake if place is not None and place.tooth else saw.rake
        return block_turn(rake, 3 - now.side, width, rows, ascii=ascii)
    if place is None or not place.tooth:
        return ()
    if place.stage is Stage.SET:
        # No file crosses here: only which teeth lean away on the side that is up now.
        away = _away(state, saw, now.side)
        return leaning(place.tooth, saw.points, side=now.side, away=away, width=width, ascii=ascii)
    return _above(state, saw, place.tooth, now.side, width, min(height, max(11, width // 5)), ascii)


def _work(state: State, saw: Saw, place: Place, width: int, height: int, ascii: bool) -> Rows:
    match place.stage:
        case Stage.LEVEL if place.tooth:
            steel, shares = _steel(saw, place.tooth), [(str(grade), share) for grade, share in enumerate(SHARES)]
            rows = min(height, max(9, width // 7))
            return flats(shares, steel.front_deg, steel.back_deg, state.side, width, rows, ascii=ascii)
        case Stage.LEVEL:
            steel = _steel(saw, 1)
            rows = min(height, max(10, width // 7))
            return leveling(steel.front_deg, steel.back_deg, state.side, width, rows, ascii=ascii)
        case Stage.SET if place.tooth:
            return _set(state, saw, place, width, height, ascii)
        case Stage.FILE if _seen_from_above(saw, width, height):
            return _filing(state, saw, place, width, height, ascii)
        case Stage.FILE | Stage.RESHAPE:
            return _close(state, saw, place, width, min(height, max(13, width // 5)), ascii)
        case _:
            return ()


def _seen_from_above(saw: Saw, width: int, height: int) -> bool:
    """Whether the view from above stands beside or under the close-up of a gullet that is filed."""
    return saw.fleam > 0 and width >= 64 and height >= 12


def _filing(state: State, saw: Saw, place: Place, width: int, height: int, ascii: bool) -> Rows:
    """The close-up and the view from above: one over the other in a high room, else side by side."""
    close = min(height * 3 // 5, 24)
    if close >= 16:
        over = _close(state, saw, place, width, close, ascii)
        return over + _above(state, saw, place.tooth, state.side, width, min(height - close, 19), ascii)
    left = width * 7 // 13
    high = _close(state, saw, place, left, height, ascii)
    return beside(high, _above(state, saw, place.tooth, state.side, width - left - 1, height, ascii))


def _close(state: State, saw: Saw, place: Place, width: int, height: int, ascii: bool) -> Rows:
    steel = _steel(saw, place.tooth)
    filed = {p.tooth for p in state.outcomes if p.stage is place.stage and state.standing(p) is Standing.DONE}
    near = range(max(1, place.tooth - 3), min(saw.points, place.tooth + 4) + 1)
    gullet = Gullet(
        tooth=place.tooth,
        teeth=saw.points,
        front_deg=steel.front_deg,
        back_deg=steel.back_deg,
        rake=steel.rake,
        side=state.side,
        flats=_flats(state, place, filed, near),
        lean={"heel": End.HEEL, "toe": End.TOE}.get(expected(state, saw).lean or ""),
    )
    return closeup(gullet, width, height, ascii=ascii)


def _flats(state: State, place: Place, filed: Set[int], near: range) -> dict[int, tuple[float, float]]:
    """The flats as they shrink: graded ones to scale, others as drawn ones."""
    grades = usable_grades(state, place.stage)
    shares = {tooth: SHARES[grades[tooth]] if tooth in grades else DRAWN_FLAT for tooth in near}
    return {tooth: flats_left(share, filed, range(tooth, tooth + 1))[tooth] for tooth, share in shares.items()}


def _set(state: State, saw: Saw, place: Place, width: int, height: int, ascii: bool) -> Rows:
    lean = leaning(
        place.tooth, saw.points, side=state.side, away=_away(state, saw, state.side), width=width, ascii=ascii
    )
    left = height - len(lean) - 1
    if left < 9 or saw.set_per_side is None or saw.set_per_side.mm <= 0:
        return lean
    steel, rows = _steel(saw, place.tooth), min(left, 20)
    # Its labels belong beside the tooth, not at the edges of a wide room.
    room = min(width, max(48, 4 * rows))
    section = setting(steel.depth_mm, saw.plate.mm, saw.set_per_side.mm, saw.bent_share, room, rows, ascii=ascii)
    return (*lean, (), *centered(section, width))


def _above(state: State, saw: Saw, tooth: int, side: int, width: int, height: int, ascii: bool) -> Rows:
    return above(
        tooth,
        saw.points,
        fleam=saw.fleam,
        side=side,
        file_points=saw.file_points,
        away=_away(state, saw, side),
        width=width,
        height=height,
        ascii=ascii,
    )


def _away(state: State, saw: Saw, side: int) -> frozenset[int]:
    return _away_of(side, saw.points, saw)


@lru_cache(maxsize=8)
def _away_of(side: int, points: int, saw: Saw) -> frozenset[int]:
    return frozenset(teeth_leaning_away(side, points, saw.first_leans))


@lru_cache(maxsize=8)
def _steel(saw: Saw, tooth: int) -> Tooth:
    return tooth_of(saw.at(tooth))
