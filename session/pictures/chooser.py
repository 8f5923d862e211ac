"""Which picture stands beside the words: chosen by what is asked, drawn from the saw's own numbers."""

from __future__ import annotations

from functools import lru_cache, partial
from typing import Final

from session.pictures.before_after import before_and_after
from session.pictures.counted_place import CountedPlace, counted_place
from session.pictures.crossing_file import file_across
from session.pictures.from_above import above
from session.pictures.guide_block import block
from session.pictures.guide_block import turn as block_turn
from session.pictures.gullet_closeup import Gullet, closeup, flats_left
from session.pictures.level_file import drawn_wider, flats, flats_rows, leveling
from session.pictures.picture_rows import Rows, beside, centered
from session.pictures.set_pictures import LEANING_ROWS, leaning_picture, set_picture
from session.pictures.step_pictures import step_picture, step_rows
from session.pictures.stone_flat import dressing, turned_over
from session.pictures.strip_places import strip_places, strip_places_rows
from session.pictures.undrawn_picture import NO_PICTURE, Picture
from session.pictures.vise import clamped, vise
from session.pictures.vise import turn as vise_turn
from session.sentences.hold_words import figure_above, moved_toward, room_above
from session.sentences.moment import Moment
from session.trade.grades import SHARES
from session.trade.saw import End, FilePoints, Saw
from session.trade.sides import goes_left, gullet_beside_first_back
from session.trade.tooth import Tooth, tooth_of
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import LEAN_ITEM, Kind, Stage

#: Width of a flat as drawn before any was graded, as a share of the pitch: what one light leveling pass
#: leaves (common practice, no source). It is a drawing, not a measure.
DRAWN_FLAT = 0.16

#: Cells of the file seen from above in a small room, its gap to the close-up, its least rows.
_ACROSS: Final = 11
_GAP: Final = 1
_LEAST_ACROSS: Final = 6

#: Rows of plate that are drawn above the jaws where a stage wants its tool to clear them; for filing there is one.
_STANDS: Final = {Stage.LEVEL: 3, Stage.SET: 2}

#: Least rows in which a picture says something.
LEAST_ROWS = 5


def picture(at: Moment, width: int, height: int, *, ascii: bool) -> Picture:
    """The picture for this moment in so many cells and rows; none when there is none or no room for one."""
    if height < LEAST_ROWS or width < 24:
        return NO_PICTURE
    now = at.front
    if now.ask is Ask.TURN:
        return _turn(at, width, height, ascii)
    if now.ask is Ask.FIT:
        return _fit(at, width, height, ascii)
    if now.ask is Ask.SHIFT and now.reach is None:
        return _held(at, width, height, ascii)
    if now.ask is Ask.SHIFT and now.reach is not None:
        return _low(at.saw, at.state.side, now.reach, moved_toward(at.state.clamped, now.reach), width, height, ascii)
    if now.ask is Ask.WORK and now.place is not None:
        return _work(at, now.place, width, height, ascii)
    if now.ask in (Ask.CHECK, Ask.CONFIRM):
        return _found(at, width, height, ascii)
    return NO_PICTURE


def _held(at: Moment, width: int, height: int, ascii: bool) -> Picture:
    """The saw clamped with its points clear of the jaws, or flat on the bench."""
    place, rows = at.place, min(height, max(9, width // 6))
    if place is not None and place.stage is Stage.DRESS:
        return Picture(rows, partial(dressing, at.state.side, at.saw.start is End.HEEL, width, rows, ascii=ascii))
    above, high = (room_above(place.stage), _STANDS[place.stage]) if place is not None else ("", 1)
    told = partial(vise, at.state.side, above_jaws=above, plate_rows=high, ascii=ascii)
    return Picture(rows, partial(told, width, rows))


def crossing(at: Moment, width: int, height: int, *, ascii: bool) -> tuple[str, ...]:
    """How the file crosses the plate now, longest words first; none where the view from above tells it.

    width, height: of the picture shown.
    """
    now, saw = at.front, at.saw
    files = now.ask is Ask.WORK and now.place is not None and now.place.stage is Stage.FILE and not at.expected.idle
    if not files or _whole_from_above(width, height):
        return ()
    if not saw.fleam:
        # The file seen from above says so too.
        return () if width >= 2 * _ACROSS + _GAP and height >= _LEAST_ACROSS else ("square across",)
    to_left = goes_left(saw.file_points is FilePoints.TOE, at.state.side)
    arrow = ("<>" if ascii else "◀▶")[not to_left]
    to = f"to the {saw.file_points} {arrow}"
    # Without its first word it would be read as the way of the push.
    return f"tip {to}", f"tip to {saw.file_points} {arrow}"


def _found(at: Moment, width: int, height: int, ascii: bool) -> Picture:
    """The place that is to be found on the saw by counting; none for a pass or a step."""
    state, now = at.state, at.front
    checked = now.ask is Ask.CHECK
    place = now.place and (state.last_marked(now.place) or now.place) if checked else state.place
    if place is None or not place.tooth:
        return NO_PICTURE
    # The large number is the place that comes next, so the picture of another one names it.
    said = f"{place}, last worked" if checked else "next"
    steel, on_rule = _steel(at.saw, place.tooth), at.saw.from_heel(place.tooth)
    asked = CountedPlace(place.tooth, at.saw.points, place.kind is Kind.GULLET, said, on_rule)
    angles, rows = (steel.front_deg, steel.back_deg), min(height, max(9, width // 6))
    side, stumps = state.stand.seen_side, state.stumps
    return Picture(rows, partial(counted_place, asked, angles, side, width, rows, stumps=stumps, ascii=ascii))


def _turn(at: Moment, width: int, height: int, ascii: bool) -> Picture:
    saw, now, place = at.saw, at.front, at.front.place
    rows = min(height, max(10, width // 6))
    if now.name == "saw" and place is not None and place.stage is Stage.DRESS:
        return Picture(rows, partial(turned_over, 3 - now.side, width, rows, ascii=ascii))
    if now.name == "saw":
        above = figure_above(saw, place.stage if place is not None else Stage.FILE)
        return Picture(rows, partial(vise_turn, 3 - now.side, width, rows, above_jaws=above, ascii=ascii))
    if now.name == "low":
        return _low(saw, now.side, now.reach or (1, saw.points), "", width, height, ascii)
    if now.name in at.state.to_fit:
        return _fit(at, width, height, ascii)
    if now.name == "fleam":
        part = partial(_crossing, saw, ascii=ascii)
        return Picture(rows, partial(before_and_after, part, 3 - now.side, width, rows, ascii=ascii))
    if now.name == "guide":
        rake = saw.at(place.tooth).rake if place is not None and place.tooth else saw.rake
        return Picture(rows, partial(block_turn, rake, 3 - now.side, width, rows, ascii=ascii))
    if place is not None and place.stage is Stage.DRESS:
        return Picture(rows, partial(dressing, now.side, saw.start is End.HEEL, width, rows, ascii=ascii))
    if place is None or not place.tooth:
        return NO_PICTURE
    if place.stage is Stage.SET:
        # No file crosses here: only which teeth lean away on the side that is up now.
        return Picture(LEANING_ROWS, partial(leaning_picture, at, place.tooth, now.side, width, ascii))
    rows = min(height, max(11, width // 5))
    return Picture(rows, partial(_above, at, place.tooth, now.side, width, rows, ascii))


def _crossing(saw: Saw, side: int, width: int, height: int, *, ascii: bool) -> Rows:
    """The file across the plate on one side, in the middle of its room."""
    wide = min(width, 3 * height)
    return centered(file_across(saw.fleam, side, saw.file_points, wide, height, ascii=ascii), width)


def _fit(at: Moment, width: int, height: int, ascii: bool) -> Picture:
    """Before the first bend or stroke: which teeth lean away, the block on the file, how the file crosses."""
    saw, now, place = at.saw, at.front, at.front.place
    tooth = place.tooth if place is not None and place.tooth else 1
    side = now.side or at.state.side
    if now.name == LEAN_ITEM:
        return Picture(LEANING_ROWS, partial(leaning_picture, at, min(tooth, saw.points), side, width, ascii))
    if now.name == "fleam":
        rows = min(height, max(11, width // 5))
        return Picture(rows, partial(_above, at, tooth, side, width, rows, ascii))
    rows = min(height, max(10, width // 6))
    return Picture(rows, partial(block, saw.at(tooth).rake, side, width, rows, ascii=ascii))


def _work(at: Moment, place: Place, width: int, height: int, ascii: bool) -> Picture:
    saw, side = at.saw, at.state.side
    if place.step and not place.on_strip and (step := _step(at, place, width, height, ascii)) is not None:
        return step
    match place.stage:
        case Stage.LEVEL if place.on_strip:
            rows = strip_places_rows(height)
            return Picture(rows, partial(strip_places, width, rows, ascii=ascii)) if rows else NO_PICTURE
        case Stage.LEVEL if place.tooth:
            steel, drawn = _steel(saw, place.tooth), drawn_wider(len(SHARES))
            shares = [(str(grade), share) for grade, share in enumerate(drawn)]
            angles, room = (steel.front_deg, steel.back_deg), min(height, max(9, width // 7))
            rows = flats_rows(len(shares), *angles, width, room)
            return Picture(rows, partial(flats, shares, *angles, side, width, room, ascii=ascii))
        case Stage.LEVEL:
            steel, to_toe = _steel(saw, 1), saw.start is End.HEEL
            rows = min(height, max(10, width // 7))
            return Picture(
                rows, partial(leveling, steel.front_deg, steel.back_deg, side, width, rows, to_toe=to_toe, ascii=ascii)
            )
        case Stage.SET if place.tooth:
            return set_picture(at, place, width, height, ascii)
        case Stage.DRESS if place.number:
            rows, to_toe = min(height, 12), saw.start is End.HEEL
            return Picture(rows, partial(dressing, side, to_toe, width, rows, ascii=ascii))
        case Stage.FILE | Stage.RESHAPE if at.expected.idle:
            # No file is laid in, so none is seen from above.
            rows = min(height, max(13, width // 5))
            return Picture(rows, partial(_close, at, place, width, rows, ascii))
        case Stage.FILE | Stage.RESHAPE:
            return _filing(at, place, width, height, ascii)
        case _:
            return NO_PICTURE


def _step(at: Moment, place: Place, width: int, height: int, ascii: bool) -> Picture | None:
    """The picture of a named step, in the middle of a room that is wider than it needs."""
    if place.stage is Stage.LOOK_OVER and place.step == "lean":
        return Picture(LEANING_ROWS, partial(leaning_picture, at, 1, 1, width, ascii))
    drawn = step_picture(place.stage, place.step, at.saw, _steel(at.saw, 1))
    if drawn is None:
        return None
    rows = step_rows(place.step, at.saw.points, width, height)
    return Picture(rows, partial(drawn, width, rows, ascii=ascii))


def _low(saw: Saw, side: int, reach: tuple[int, int], moves: str, width: int, height: int, ascii: bool) -> Picture:
    """The saw low in the vise, the jaws under the teeth of ``reach``."""
    rows = min(height, max(10, width // 6))
    told = partial(clamped, above_jaws=figure_above(saw, Stage.FILE), teeth=saw.points, moves=moves, ascii=ascii)
    return Picture(rows, partial(told, side, reach, width, rows))


def _whole_from_above(width: int, height: int) -> bool:
    """Whether the view from above, with the teeth and their lean, stands beside or under the close-up of a gullet."""
    return width >= 64 and height >= 12


def _filing(at: Moment, place: Place, width: int, height: int, ascii: bool) -> Picture:
    """The close-up and the view from above: one over the other in a high room, else side by side.

    In a small room the file alone is seen from above.
    """
    side, saw = at.state.side, at.saw
    # Reshaping is square across.
    fleam = saw.at(place.tooth).fleam if place.stage is Stage.FILE else 0.0
    if not _whole_from_above(width, height):
        rows = min(height, max(13, width // 5))
        if width < 2 * _ACROSS + _GAP or rows < _LEAST_ACROSS:
            return Picture(rows, partial(_close, at, place, width, rows, ascii))

        def small() -> Rows:
            near = _close(at, place, width - _ACROSS - _GAP, rows, ascii)
            return beside(near, file_across(fleam, side, saw.file_points, _ACROSS, rows, ascii=ascii), _GAP)

        return Picture(rows, small)
    close = min(height * 3 // 5, 24)
    if close >= 16:
        under = min(height - close, 19)

        def over() -> Rows:
            high = _close(at, place, width, close, ascii)
            return high + _above(at, place.tooth, side, width, under, ascii, fleam)

        return Picture(close + under, over)
    left = width * 7 // 13

    def abreast() -> Rows:
        high = _close(at, place, left, height, ascii)
        return beside(high, _above(at, place.tooth, side, width - left - 1, height, ascii, fleam))

    return Picture(height, abreast)


def _close(at: Moment, place: Place, width: int, height: int, ascii: bool) -> Rows:
    steel, points = _steel(at.saw, place.tooth), at.saw.points
    near = range(max(1, place.tooth - 3), min(points, place.tooth + 4) + 1)
    gullet = Gullet(
        tooth=place.tooth,
        teeth=points,
        front_deg=steel.front_deg,
        back_deg=steel.back_deg,
        rake=steel.rake,
        side=at.state.side,
        flats=_flats(at, near),
        lean={"heel": End.HEEL, "toe": End.TOE}.get(_pressed(at, place.tooth)),
        stumps=at.state.stumps,
        low=frozenset() if at.leaning is None else frozenset(at.leaning.low),
        then_back=at.expected.back,
        filed=not at.expected.idle,
    )
    return closeup(gullet, width, height, ascii=ascii)


def _pressed(at: Moment, gullet: int) -> str:
    """To which end the file is pressed: away from a stump, else as the flats ask."""
    off = at.expected.off
    return (at.expected.lean or "") if off is None else "toe" if off == gullet else "heel"


def _flats(at: Moment, near: range) -> dict[int, tuple[float, float]]:
    """The flats as they shrink: graded ones to scale, others as drawn ones."""
    shares = {tooth: at.flats.get(tooth, DRAWN_FLAT) for tooth in near}
    # The back of tooth 1 is filed beside a gullet, as if it were one more behind it.
    sides = at.state.plan.sides if at.place is not None and at.place.stage is Stage.FILE else 1
    filed = {gullet for gullet in range(near.start - 1, near.stop) if gullet in at.worked}
    if gullet_beside_first_back(sides) in at.worked:
        filed.add(0)
    return {tooth: flats_left(share, filed, range(tooth, tooth + 1))[tooth] for tooth, share in shares.items()}


def _above(at: Moment, tooth: int, side: int, width: int, height: int, ascii: bool, fleam: float | None = None) -> Rows:
    saw = at.saw
    return above(
        tooth,
        saw.points,
        fleam=saw.fleam if fleam is None else fleam,
        side=side,
        file_points=saw.file_points,
        away=at.away,
        stumps=at.state.stumps,
        width=width,
        height=height,
        ascii=ascii,
    )


@lru_cache(maxsize=8)
def _steel(saw: Saw, tooth: int) -> Tooth:
    return tooth_of(saw.at(tooth))
