"""People at a simulated saw: what their hands and eyes miss by, as a table of spreads.

All figures are judgment, but for the interruptions: one of 4.4 s tripled the errors of sequence in a place-keeping task
(Altmann, Trafton & Hambrick 2014). The rate without one is stated, as nobody has published it for filing.
"""

from __future__ import annotations

from typing import Final

from session.value_class import dataclass

#: How many times as often the place slips right after an interruption.
AFTER_INTERRUPTION: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One kind of person. Spreads are standard deviations; shares and chances 0 … 1.

    bite: of a stroke about its own day's middle, as a share; lightest: the least share of a usual stroke that the hand
    can give near the end. lean: of the share that goes to one tooth. roll_deg, held_deg: of how the file is rolled from
    stroke to stroke, and of how it is held in rake and fleam all day. squeeze: of a bend, as a share; one_side: how
    much more one side is bent, in mm, at most. pass_mm, pass_spread: one leveling pass. tilt_mm: how much higher a pass
    not held square leaves one row, at most.
    sees_mm: the flat under which none is seen. misgrades: chance that a grade is read by one too many or too few.
    misleans: chance that the first tooth's lean is seen wrongly, once. halves: of an eye that judges half a flat, as a
    share of the flat. adapts: share of the gullets in which the file is turned to the one flat that is left.
    slips: chance at each gullet that the hands go to a wrong one. notices: chance that a count on the saw itself finds
    it. interrupted: chance at each gullet. doubles: chance that a key is pressed twice. overfiles: chance at each
    gullet of one stroke more. impatient: chance that leveling ends before the line is good.
    """

    name: str
    bite: float
    lightest: float
    lean: float
    roll_deg: float
    held_deg: float
    squeeze: float
    one_side: float
    pass_mm: float
    pass_spread: float
    tilt_mm: float
    sees_mm: float
    misgrades: float
    misleans: float
    halves: float
    adapts: float
    slips: float
    notices: float
    interrupted: float
    doubles: float
    overfiles: float
    impatient: float


FIRST_TIMER: Final = Person(
    name="first-timer",
    bite=0.35,
    lightest=0.7,
    lean=0.15,
    roll_deg=0.8,
    held_deg=2.0,
    squeeze=0.15,
    one_side=0.015,
    pass_mm=0.03,
    pass_spread=0.4,
    tilt_mm=0.012,
    sees_mm=0.07,
    misgrades=0.3,
    misleans=0.05,
    halves=0.2,
    adapts=0.2,
    slips=1 / 150,
    notices=0.8,
    interrupted=1 / 40,
    doubles=1 / 100,
    overfiles=0.15,
    impatient=0.4,
)

PRACTICED: Final = Person(
    name="practiced",
    bite=0.2,
    lightest=0.45,
    lean=0.08,
    roll_deg=0.4,
    held_deg=1.0,
    squeeze=0.08,
    one_side=0.007,
    pass_mm=0.024,
    pass_spread=0.25,
    tilt_mm=0.005,
    sees_mm=0.05,
    misgrades=0.15,
    misleans=0.02,
    halves=0.12,
    adapts=0.7,
    slips=1 / 400,
    notices=0.95,
    interrupted=1 / 60,
    doubles=1 / 200,
    overfiles=0.05,
    impatient=0.15,
)

OLD_HAND: Final = Person(
    name="old hand",
    bite=0.12,
    lightest=0.25,
    lean=0.05,
    roll_deg=0.2,
    held_deg=0.5,
    squeeze=0.04,
    one_side=0.003,
    pass_mm=0.02,
    pass_spread=0.15,
    tilt_mm=0.002,
    sees_mm=0.035,
    misgrades=0.08,
    misleans=0.005,
    halves=0.08,
    adapts=0.9,
    slips=1 / 800,
    notices=0.97,
    interrupted=1 / 60,
    doubles=1 / 300,
    overfiles=0.02,
    impatient=0.05,
)

PEOPLE: Final = (FIRST_TIMER, PRACTICED, OLD_HAND)
