"""Where printed practice disagrees: what this recipe chose, who prints it so, and who prints it otherwise.

Nothing here calls a choice wrong. The works are those of session/texts/sources.toml; angles are compared only
where a work prints a number.
"""

from __future__ import annotations

from session.trade.lengths import in_unit
from session.trade.rounding import percent
from session.trade.saw import Cut, End, FilePoints, Order, Saw
from session.trade.tooth import tooth_of
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class PrintedChoice:
    """One point on which works disagree.

    topic: what it is about. here: how this recipe has it, one sentence; said_by: who prints that.
    otherwise: the other practice in print with who prints it, one sentence or two; others: the same works alone.
    """

    topic: str
    here: str
    said_by: str
    otherwise: str
    others: str

    @property
    def told(self) -> tuple[str, str]:
        """This recipe's way and then the other, each with who prints it, as two lines."""
        here = f"{self.topic.capitalize()}, done here: {_by(self.here, self.said_by)}"
        return here, f"Also in print, not done here: {self.otherwise}"


def choices(saw: Saw) -> tuple[PrintedChoice, ...]:
    """The choices that bear on this saw, in the order in which they come up at the bench."""
    found = [_order(saw), _start(saw)]
    if saw.fleam > 0:
        found.append(_direction(saw))
        if saw.cut is Cut.CROSSCUT:
            found.append(_fleam(saw))
    else:
        found.append(_sides(saw))
    found += [_stop(), _bend(saw)]
    return tuple(found)


def _by(sentence: str, works: str) -> str:
    """``sentence`` with who prints it."""
    return f"{sentence[:-1]} ({works.replace(';', ',')})."


def _order(saw: Saw) -> PrintedChoice:
    set_first = "The teeth are leveled, set, then filed."
    file_first = "The teeth are leveled, filed, then set."
    third = "Or they are set, leveled, then filed (GRIF, SHEAR)."
    if saw.order is Order.SET_FIRST:
        by = "NOYES; KING; ROSS; MTS; PSM89; GOR"
        return PrintedChoice(
            "order of work", set_first, by, f"{_by(file_first, 'SICK; FIT')} {third}", "SICK; FIT; GRIF; SHEAR"
        )
    otherwise = f"{_by(set_first, 'NOYES; KING; ROSS; MTS; PSM89; GOR')} {third}"
    return PrintedChoice(
        "order of work", file_first, "SICK; FIT", otherwise, "NOYES; KING; ROSS; MTS; PSM89; GOR; GRIF; SHEAR"
    )


def _start(saw: Saw) -> PrintedChoice:
    heel, toe = "The line is worked from the heel to the toe.", "The line is worked from the toe to the heel."
    either, from_heel = "Either end will do (FIT).", "ROSS; SHEAR; SHOP1; SHOP2; GOR"
    if saw.start is End.HEEL:
        return PrintedChoice("end to start from", heel, from_heel, f"{_by(toe, 'SLOJD')} {either}", "SLOJD; FIT")
    return PrintedChoice("end to start from", toe, "SLOJD", f"{_by(heel, from_heel)} {either}", f"{from_heel}; FIT")


def _direction(saw: Saw) -> PrintedChoice:
    toe, handle = "The file points to the toe.", "The file points to the handle."
    to_toe, to_handle = "KING; MTS; NOYES; PSM89", "FIT; SICK"
    if saw.file_points is FilePoints.TOE:
        return PrintedChoice("way the file points", toe, to_toe, _by(handle, to_handle), to_handle)
    return PrintedChoice("way the file points", handle, to_handle, _by(toe, to_toe), to_toe)


def _fleam(saw: Saw) -> PrintedChoice:
    here = f"The fleam is {saw.fleam:g}°."
    low = "From 20° for hard to 30° for soft wood (KING)."
    high = "About 45° (MTS, DREW, FIT, SHOP2)."
    if 20 <= saw.fleam <= 30:
        return PrintedChoice("fleam", here, "KING", high, "MTS; DREW; FIT; SHOP2")
    if 40 <= saw.fleam <= 45:
        return PrintedChoice("fleam", here, "MTS; DREW; FIT; SHOP2", low, "KING")
    return PrintedChoice("fleam", here, "common practice, no source", f"{low} {high}", "KING; MTS; DREW; FIT; SHOP2")


def _sides(saw: Saw) -> PrintedChoice:
    one = "Filed square, all gullets are filed from one side."
    two = "Every other gullet is filed from each side."
    from_two = "SHOP1; SHOP2; ROSS p. 5; NOYES; DREW"
    if saw.sides == 1:
        return PrintedChoice("sides filed from", one, "KING; HOLTZ", _by(two, from_two), from_two)
    return PrintedChoice("sides filed from", two, from_two, _by(one, "KING; HOLTZ"), "KING; HOLTZ")


def _stop() -> PrintedChoice:
    other = "At the point and not past it (KING, MTS), or just before it comes to a point (SHEAR)."
    return PrintedChoice(
        "where to stop", "Each tooth is done when its flat just goes.", "HOLTZ; GOR", other, "KING; MTS; SHEAR"
    )


def _bend(saw: Saw) -> PrintedChoice:
    first = saw.at(1)
    top = in_unit(tooth_of(first).depth_mm * first.bent_share, saw.unit)
    here = f"The top {top} of a tooth is bent, {percent(saw.bent_share)} of its depth."
    points = "Only the very points (LAUGH, KING, GOR)."
    half = "At most half the tooth (ROSS, MTS, SHOP1, SHOP2)."
    more = "Two thirds, as saws are made (BS3159), or the whole tooth (ZERBE)."
    if saw.bent_share <= 0.5:
        otherwise, others = f"{points} {more}", "LAUGH; KING; GOR; BS3159 5.3.2; ZERBE"
        return PrintedChoice("how deep to bend", here, "ROSS p. 9; MTS; SHOP1; SHOP2", otherwise, others)
    by = "BS3159 5.3.2" if saw.bent_share <= 0.7 else "ZERBE"
    others = "LAUGH; KING; GOR; ROSS p. 9; MTS; SHOP1; SHOP2"
    return PrintedChoice("how deep to bend", here, by, f"{points} {half}", others)
