"""The stages of a sharpening, as data: what kind of places each has and how it is worked.

The order of stages follows the recipe, because printed practice disagrees (GRIF and SHEAR set first
and joint after; NOYES, KING, ROSS and MTS joint, set, file; SICK and FIT set last).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Stage(StrEnum):
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


@dataclass(frozen=True, slots=True)
class StageFacts:
    """How one stage is worked.

    kind: what its places are.
    in_vise: worked reach by reach along the vise, so that the saw is shifted between reaches.
    checked: has check points, where the place on the saw is compared with the place on the screen.
    optional: the person may leave the stage out of the plan as a whole.
    steps: named steps, in order: all that the stage has, or what follows its passes or teeth; the words are in
        session/texts/steps.toml.
    cautions: names of the cautions that stand before its first step, in order.
    turn: what is acknowledged one by one when the saw is turned in this stage, as far as the saw has it.
    """

    kind: Kind
    in_vise: bool = False
    checked: bool = False
    optional: bool = False
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    turn: tuple[str, ...] = ()


#: Steps that the program treats in a way of their own: the plan is settled, the saw proved, the places left out read.
PLAN_STEP: Final = "plan"
TRIAL_CUT_STEP: Final = "trial cut"
LEFT_OUT_STEP: Final = "left out"

#: Items of the turn where a file is guided: the saw, the guide block, the fleam guide, the blade low.
_GUIDED: Final = ("saw", "guide", "fleam", "low")

FACTS: Final[dict[Stage, StageFacts]] = {
    Stage.LOOK_OVER: StageFacts(
        Kind.STEP,
        steps=("points", "over the set", "line", "broken teeth", "bright points", "last cut", "file", PLAN_STEP),
        cautions=("points", "hard teeth", "teaching"),
    ),
    Stage.LEVEL: StageFacts(Kind.PASS, optional=True, steps=("flats",), cautions=("eyes", "file handle", "filings")),
    Stage.RESHAPE: StageFacts(
        Kind.GULLET,
        in_vise=True,
        checked=True,
        optional=True,
        cautions=("eyes", "file handle", "filings", "low in the vise"),
        turn=_GUIDED,
    ),
    Stage.SET: StageFacts(
        Kind.TOOTH,
        checked=True,
        optional=True,
        steps=("measure",),
        cautions=("eyes", "bend once", "bend shallow"),
        turn=("saw",),
    ),
    Stage.FILE: StageFacts(
        Kind.GULLET,
        in_vise=True,
        checked=True,
        cautions=("eyes", "file handle", "filings", "low in the vise"),
        turn=_GUIDED,
    ),
    Stage.DRESS: StageFacts(Kind.PASS, optional=True, cautions=("points", "filings"), turn=("saw",)),
    Stage.PROVE: StageFacts(
        Kind.STEP, optional=True, steps=("sight", "needle", TRIAL_CUT_STEP), cautions=("points", "clear of the cut")
    ),
    Stage.CLOSE: StageFacts(
        Kind.STEP, steps=(LEFT_OUT_STEP, "filings", "wipe", "put by"), cautions=("filings", "points")
    ),
}

#: What an unknown stage of another version's log counts as: nothing is walked in it, its marks are kept and shown.
_UNKNOWN: Final = StageFacts(Kind.STEP)


def facts_of(stage: Stage) -> StageFacts:
    """How ``stage`` is worked; without places, cautions or steps for one that this version does not know."""
    return FACTS.get(stage, _UNKNOWN)
