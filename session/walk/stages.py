"""The stages of a sharpening, as data: what kind of places each has and how it is worked.

The order of stages follows the recipe, because printed practice disagrees (GRIF and SHEAR set first
and joint after; NOYES, KING, ROSS and MTS joint, set, file; SICK and FIT set last).
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.value_class import dataclass
from session.walk.log_word import LogWord


class Stage(LogWord):
    """A stage by the name it has in the log."""

    LOOK_OVER = "look over"
    LEVEL = "level"
    RESHAPE = "reshape"
    SET = "set"
    FILE = "file"
    DRESS = "dress"
    PROVE = "prove"
    CLOSE = "close"


class Kind(StrEnum):
    """What one place of a stage is."""

    STEP = "step"  # one named step of a short list
    PASS = "pass"  # one counted pass along the whole line
    TOOTH = "tooth"  # one tooth
    GULLET = "gullet"  # one gullet, named by the tooth whose front it is


class SawHold(StrEnum):
    """How the saw is held for the passes, teeth or gullets of a stage."""

    UP = "points up"  # in the vise, its points and the plate under them clear of the jaws along the whole line
    NEAR = "points up, near"  # the same, but no higher above the jaws than the tool asks
    LOW = "low"  # in the vise, reach by reach, the jaws close below the gullets
    FLAT = "flat"  # on the bench, one side up


class Legs(StrEnum):
    """How the places of a stage follow one another, side by side; its named steps come after them."""

    STEPS = "steps"  # named steps alone
    LEVELING = "leveling"  # passes, then flats graded when that is asked for
    BOTH_SIDES = "passes of both sides"  # the side that is up first
    ALL_GULLETS = "all gullets"  # in order, from side 1
    LEANING = "teeth that lean away"  # from either side
    GULLETS = "gullets of each side"


@dataclass(frozen=True, slots=True)
class StageFacts:
    """How one stage is worked.

    kind: what its places are. legs: how they follow one another.
    hold: how the saw is held for it; None where it is in the hands. Low in the vise it is worked reach by reach, and
        shifted between reaches.
    checked: has check points, where the place on the saw is compared with the place on the screen.
    optional: the person may leave the stage out of the plan as a whole.
    planned: it is in the plan without being asked for; what costs the most steel is not.
    again: it can be added once more at the bench.
    steps: named steps, in order: all that the stage has, or what follows its passes or teeth; the words are in
        session/texts/steps.toml.
    cautions: names of the cautions that stand before its first step, in order.
    turn: what is acknowledged one by one when the saw is turned in this stage, as far as the saw has it.
    fit: what is acknowledged one by one before the first tooth or gullet of this stage, as far as the plan has it.
    """

    kind: Kind = Kind.STEP
    legs: Legs = Legs.STEPS
    hold: SawHold | None = None
    checked: bool = False
    optional: bool = False
    planned: bool = True
    again: bool = False
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    turn: tuple[str, ...] = ()
    fit: tuple[str, ...] = ()

    @property
    def in_vise(self) -> bool:
        """Whether it is worked reach by reach along the vise."""
        return self.hold is SawHold.LOW


#: Steps that the program treats in a way of their own: the plan is settled, the saw proved, with a needle where there
#: is fleam, the places left out read.
PLAN_STEP: Final = "plan"
TRIAL_CUT_STEP: Final = "trial cut"
NEEDLE_STEP: Final = "needle"
LEFT_OUT_STEP: Final = "left out"

#: The step at a tooth whose flat was graded: where it lies against a printed strip. It follows the grade where that was
#: asked for, and is none of the steps of a stage.
STRIP_STEP: Final = "strip"

#: All steps of the look over; which of them are taken follows from what was seen (session/walk/looks.py).
LOOKS: Final = (
    "bright points",
    "last cut",
    "grain",
    "wood",
    "wanders to",
    "all round",
    "plate",
    "handle",
    "crack",
    "hard teeth",
    "sizes",
    "high teeth",
    "low teeth",
    "broken teeth",
    "line",
    "line gap",
    "over the set",
    "points",
    "lean",
    "file",
    PLAN_STEP,
)

#: Those of a log whose plan does not name its own, in the order that it was begun with.
FIRST_LOOKS: Final = (
    "points",
    "over the set",
    "line",
    "broken teeth",
    "bright points",
    "last cut",
    "file",
    PLAN_STEP,
)

#: The step at which the width over the points is measured: after setting, and after dressing, as it will be used.
MEASURE_STEP: Final = "measure"

#: Items of the turn where a file is guided: the saw, the guide block, the fleam guide, the blade low.
_GUIDED: Final = ("saw", "guide", "fleam", "low")

#: The item of the first fitting that asks which way tooth 1 leans: once in a sharpening, before the first bend or
#: stroke.
LEAN_ITEM: Final = "lean"

#: What of the first fitting says that the saw is held anew for each stage that wants it otherwise: a mark of its own.
HOLD_ITEM: Final = "hold"

#: And that it is held anew for setting where it stands high, as it was leveled.
NEAR_ITEM: Final = "hold near"

#: Items of the first fitting where a file is guided: the guide block on the file, its rake, the fleam guide.
_FITTED: Final = (LEAN_ITEM, "guide", "rake", "fleam")

#: The same for reshaping, which is square across.
_SQUARE: Final = (LEAN_ITEM, "guide", "rake")

#: Every stage, in the order in which a saw that is set before it is filed goes through them.
FACTS: Final[dict[Stage, StageFacts]] = {
    Stage.LOOK_OVER: StageFacts(
        steps=LOOKS,
        cautions=("points", "hard teeth", "teaching"),
    ),
    Stage.LEVEL: StageFacts(
        Kind.PASS,
        Legs.LEVELING,
        SawHold.UP,
        optional=True,
        again=True,
        steps=("flats",),
        cautions=("eyes", "file handle", "filings"),
    ),
    Stage.RESHAPE: StageFacts(
        Kind.GULLET,
        Legs.ALL_GULLETS,
        hold=SawHold.LOW,
        checked=True,
        optional=True,
        planned=False,
        cautions=("eyes", "file handle", "filings", "low in the vise"),
        turn=_GUIDED,
        fit=_SQUARE,
    ),
    Stage.SET: StageFacts(
        Kind.TOOTH,
        Legs.LEANING,
        SawHold.NEAR,
        checked=True,
        optional=True,
        again=True,
        steps=(MEASURE_STEP,),
        cautions=("eyes", "bend once", "bend shallow"),
        turn=("saw",),
        fit=(LEAN_ITEM,),
    ),
    Stage.FILE: StageFacts(
        Kind.GULLET,
        Legs.GULLETS,
        hold=SawHold.LOW,
        checked=True,
        optional=True,
        again=True,
        cautions=("eyes", "file handle", "filings", "low in the vise"),
        turn=_GUIDED,
        fit=_FITTED,
    ),
    Stage.DRESS: StageFacts(
        Kind.PASS,
        Legs.BOTH_SIDES,
        SawHold.FLAT,
        optional=True,
        again=True,
        steps=(MEASURE_STEP,),
        cautions=("points", "filings"),
        turn=("saw",),
    ),
    Stage.PROVE: StageFacts(
        optional=True, again=True, steps=("sight", NEEDLE_STEP, TRIAL_CUT_STEP), cautions=("points", "clear of the cut")
    ),
    Stage.CLOSE: StageFacts(steps=(LEFT_OUT_STEP, "filings", "wipe", "put by"), cautions=("filings", "points")),
}

#: What an unknown stage of another version's log counts as: nothing is walked in it, its marks are kept and shown.
_UNKNOWN: Final = StageFacts()


def working_order(*, file_first: bool) -> tuple[Stage, ...]:
    """All stages in working order: setting before filing, or the other way around."""
    order = list(FACTS)
    if file_first:
        at_set, at_file = order.index(Stage.SET), order.index(Stage.FILE)
        order[at_set], order[at_file] = Stage.FILE, Stage.SET
    return tuple(order)


def facts_of(stage: Stage) -> StageFacts:
    """How ``stage`` is worked; without places, cautions or steps for one that this version does not know."""
    return FACTS.get(stage, _UNKNOWN)
