"""The plan of one sharpening: what will be worked, in which order, settled before the first mark.

The plan goes into the log's header and is never changed; what the person decides otherwise is a mark.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any, Final, TypeVar

from session.trade.pitch import MOST_POINTS
from session.trade.reaches import held as held_of
from session.trade.reaches import reach_of, reaches_along
from session.trade.reaches import reaches as reaches_of
from session.trade.saw import End, FilePoints, Leans, Order, Saw
from session.value_class import dataclass, replace
from session.walk.stages import (
    FACTS,
    FIRST_LOOKS,
    HOLD_ITEM,
    LEAN_ITEM,
    LOOKS,
    NEAR_ITEM,
    NEEDLE_STEP,
    Stage,
    working_order,
)

_Words = TypeVar("_Words", bound=StrEnum)

#: Places between two check points when the settings say nothing (bench rule 15: 20–25, judgment).
CHECK_SPACING: Final = 22

#: Leveling passes planned: one, then a look; more are added at the bench as the flats ask (KING, MTS: one or two light
#: strokes; HASL: two or three).
LEVEL_PASSES: Final = 1

#: More passes planned are a slip of the key; no line needs them (our own limit).
MOST_PASSES: Final = 99

#: What is acknowledged where a saw without fleam is turned.
TURN_ITEMS: Final = ("saw", "guide", "low")

#: What is acknowledged one by one before the first bend or stroke at a saw without fleam.
FIT_ITEMS: Final = (LEAN_ITEM, "guide", "rake", HOLD_ITEM, NEAR_ITEM)


class Stumps(StrEnum):
    """What becomes of the places of a broken tooth."""

    LEFT_ALONE = "left alone"  # they leave themselves out
    ASKED_FOR = "asked for"  # in logs of the first versions the person left out each


class FinalSet(StrEnum):
    """Whether the set is measured once more after dressing, as it will be used."""

    ASKED_FOR = "asked for"
    WHEN_MEASURED = "when measured"  # only where it was measured before: the recipe gives no set
    NEVER = "never"  # in logs of before


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What a walk needs to know of the saw and of the work.

    points: teeth on the line, 2 or more. sides: sides filed from, 1 or 2.
    file_points: which way the fleam turns the file; TOE when there is no fleam, as it then does not matter.
    reaches: (first, last) tooth of each stand of the saw in the vise. held: most teeth the vise holds at once.
    order: the stages in working order, also those of another version's log; a stage that is not there is not taken in.
    taken_in: those that are in the plan from the start.
    level_passes, dress_passes: passes planned, the latter per side.
    check_spacing: most places between two check points.
    turn_items: what is acknowledged one by one at the hold point where the saw is turned.
    fit_items: what is acknowledged one by one before the first bend or stroke of a stage; none in logs of before.
    looks: the steps of the look over, of which those are taken that what was seen leaves open.
    proofs: the steps of the proof: without fleam there is no needle's trough; all of them in logs of before.
    stumps: what becomes of the places of broken teeth.
    final_set: whether the set is measured once more after dressing.
    """

    points: int
    sides: int
    start: End
    leans: Leans
    file_points: FilePoints = FilePoints.TOE
    reaches: tuple[tuple[int, int], ...]
    held: int
    order: tuple[Stage, ...]
    taken_in: frozenset[Stage]
    level_passes: int = LEVEL_PASSES
    dress_passes: int = 1
    check_spacing: int = CHECK_SPACING
    turn_items: tuple[str, ...] = TURN_ITEMS
    fit_items: tuple[str, ...] = FIT_ITEMS
    looks: tuple[str, ...] = LOOKS
    proofs: tuple[str, ...] = FACTS[Stage.PROVE].steps
    stumps: Stumps = Stumps.LEFT_ALONE
    final_set: FinalSet = FinalSet.ASKED_FOR

    def counted(self, points: int) -> Plan:
        """The same plan for a line on which ``points`` (2 or more) were counted."""
        return replace(self, points=points, reaches=reaches_of(points, 1.0, self.held))

    def leaning(self, leans: Leans) -> Plan:
        """The same plan for a saw whose tooth 1 was seen to lean so; unset keeps the sides that were planned."""
        if leans is Leans.UNSET and self.leans is Leans.TOWARD:
            return self
        return replace(self, leans=leans)

    def reach_of(self, tooth: int) -> tuple[int, int]:
        """The (first, last) teeth of the reach that holds ``tooth``."""
        return self.reaches[reach_of(tooth, self.reaches) - 1]

    def reach_at(self, tooth: int | None) -> tuple[int, int] | None:
        """The same of a tooth that a mark names; None where that is none of this line."""
        return self.reach_of(tooth) if tooth is not None and 1 <= tooth <= self.points else None

    def to_dict(self) -> dict[str, Any]:
        """The plan as plain values for a log's header."""
        return {
            "points": self.points,
            "sides": self.sides,
            "start": str(self.start),
            "first_leans": str(self.leans),
            "file_points": str(self.file_points),
            "reaches": [list(reach) for reach in self.reaches],
            "held": self.held,
            "order": [str(stage) for stage in self.order],
            "taken_in": [str(stage) for stage in self.order if stage in self.taken_in],
            "level_passes": self.level_passes,
            "dress_passes": self.dress_passes,
            "check_spacing": self.check_spacing,
            "turn_items": list(self.turn_items),
            "fit_items": list(self.fit_items),
            "looks": list(self.looks),
            "proofs": list(self.proofs),
            "stumps": str(self.stumps),
            "final_set": str(self.final_set),
        }

    @classmethod
    def from_dict(cls, values: Mapping[str, Any], turn_items: tuple[str, ...] = TURN_ITEMS) -> Plan:
        """The plan of a log's header. Raises ValueError naming the key that is missing or wrong.

        What another version did not write is as usual: the spacing of check points, and ``turn_items``. Of the first
        fitting nothing is asked where it did not plan to.
        """
        values = {
            "check_spacing": CHECK_SPACING,
            "turn_items": turn_items,
            "fit_items": (),
            "proofs": FACTS[Stage.PROVE].steps,
            **values,
        }
        try:
            plan = cls(
                points=_whole(values, "points"),
                sides=_whole(values, "sides"),
                start=_word("start", values["start"], End),
                leans=_word("first_leans", values["first_leans"], Leans),
                file_points=_word("file_points", values["file_points"], FilePoints),
                reaches=_reaches(values),
                held=_whole(values, "held"),
                order=tuple(_stage("order", name) for name in _list(values, "order")),
                taken_in=frozenset(_stage("taken_in", name) for name in _list(values, "taken_in")),
                level_passes=_whole(values, "level_passes"),
                dress_passes=_whole(values, "dress_passes"),
                check_spacing=_whole(values, "check_spacing"),
                turn_items=tuple(str(item) for item in _list(values, "turn_items")),
                fit_items=tuple(str(item) for item in _list(values, "fit_items")),
                looks=_looks(values),
                proofs=tuple(str(step) for step in _list(values, "proofs")),
                stumps=_word("stumps", values.get("stumps", Stumps.ASKED_FOR), Stumps),
                final_set=_word("final_set", values.get("final_set", FinalSet.NEVER), FinalSet),
            )
        except KeyError as missing:
            raise ValueError(f"the plan has no {missing.args[0]}") from None
        return _checked(plan)


def make_plan(
    saw: Saw,
    *,
    leave_out: frozenset[Stage] = frozenset(),
    level_passes: int = LEVEL_PASSES,
    check_spacing: int = CHECK_SPACING,
) -> Plan:
    """The default plan for ``saw``; ``leave_out`` names optional stages not taken in from the start.

    Reshaping is left out unless it is taken in at the bench, since it costs the most steel; dressing and setting are
    left out when the recipe asks for no passes and for no set. Raises ValueError for a stage that cannot be left out.
    """
    order = working_order(file_first=saw.order is not Order.SET_FIRST)
    for stage in leave_out:
        if not FACTS[stage].optional:
            raise ValueError(f"the stage {stage} cannot be left out")
    out = set(leave_out) | {stage for stage, facts in FACTS.items() if not facts.planned}
    if saw.dressing_passes == 0:
        out.add(Stage.DRESS)
    if saw.set_per_side is not None and saw.set_per_side.mm == 0:
        out.add(Stage.SET)
    held = held_of(saw.widest_pitch_mm, saw.vise_jaw.mm)
    plan = Plan(
        points=saw.points,
        sides=saw.sides,
        start=saw.start,
        leans=saw.first_leans,
        file_points=saw.file_points if saw.fleam > 0 else FilePoints.TOE,
        reaches=_stands(saw, held),
        held=held,
        order=order,
        taken_in=frozenset(order) - out,
        level_passes=level_passes,
        dress_passes=max(1, saw.dressing_passes),
        check_spacing=check_spacing,
        turn_items=turn_items_of(saw),
        fit_items=(*FIT_ITEMS, "fleam") if saw.fleam > 0 else FIT_ITEMS,
        proofs=tuple(step for step in FACTS[Stage.PROVE].steps if step != NEEDLE_STEP or saw.fleam > 0),
        final_set=FinalSet.ASKED_FOR
        if saw.set_per_side is not None and saw.set_per_side.mm > 0
        else FinalSet.WHEN_MEASURED,
    )
    return _checked(plan)


def _stands(saw: Saw, held: int) -> tuple[tuple[int, int], ...]:
    """The stands of ``saw`` in the vise: by teeth where they are alike, by length where the line has zones."""
    if not saw.zones:
        return reaches_of(saw.points, 1.0, held)
    return reaches_along([saw.line.pitch_at(tooth) for tooth in range(1, saw.points + 1)], saw.vise_jaw.mm)


def turn_items_of(saw: Saw) -> tuple[str, ...]:
    """What is acknowledged one by one where ``saw`` is turned: the fleam guide only where there is fleam."""
    return ("saw", "guide", "fleam", "low") if saw.fleam > 0 else TURN_ITEMS


def _checked(plan: Plan) -> Plan:
    """``plan``, when a walk can be made of it. Raises ValueError naming the key that is out of range."""
    ranges = (
        ("points", plan.points, 2, MOST_POINTS),
        ("sides", plan.sides, 1, 2),
        ("held", plan.held, 1, MOST_POINTS * 1000),
        ("level_passes", plan.level_passes, 0, MOST_PASSES),
        ("dress_passes", plan.dress_passes, 1, MOST_PASSES),
        ("check_spacing", plan.check_spacing, 1, MOST_POINTS),
    )
    for key, value, least, most in ranges:
        if not least <= value <= most:
            raise ValueError(f"{key} of the plan is {value}; allowed: {least} to {most}")
    due = 1
    for first, last in plan.reaches:
        if first != due or last < first:
            raise ValueError(f"reaches of the plan: [{first}, {last}] stands where tooth {due} has to begin")
        due = last + 1
    if due != plan.points + 1:
        raise ValueError(f"reaches of the plan end at tooth {due - 1}; allowed: the last of {plan.points}")
    twice = next((stage for stage in plan.order if plan.order.count(stage) > 1), None)
    if twice is not None:
        raise ValueError(f"order of the plan holds {twice} more than once")
    if not any(stage in plan.taken_in and stage in FACTS for stage in plan.order):
        raise ValueError(f"taken_in of the plan holds no stage that this version works; it knows {', '.join(FACTS)}")
    return plan


def _reaches(values: Mapping[str, Any]) -> tuple[tuple[int, int], ...]:
    found = []
    for reach in _list(values, "reaches"):
        if not isinstance(reach, list | tuple) or [type(tooth) for tooth in reach] != [int, int]:
            raise ValueError(f"reaches of the plan holds {reach!r}; allowed: pairs of [first, last] tooth")
        found.append((reach[0], reach[1]))
    return tuple(found)


def _looks(values: Mapping[str, Any]) -> tuple[str, ...]:
    """The steps of the look over; those of the first logs, whose plan did not name them, where it does not."""
    if "looks" not in values:
        return FIRST_LOOKS
    looks = tuple(_list(values, "looks"))
    if not looks or not all(isinstance(name, str) and name for name in looks) or len(set(looks)) < len(looks):
        raise ValueError(f"looks of the plan are none, no texts or one twice; allowed: {', '.join(LOOKS)}")
    # One of another version is kept, and is not taken.
    return looks


def _list(values: Mapping[str, Any], key: str) -> list[Any] | tuple[Any, ...]:
    value = values[key]
    if not isinstance(value, list | tuple):
        raise ValueError(f"{key} of the plan is not a list")
    return value


def _word(key: str, value: Any, words: type[_Words]) -> _Words:
    try:
        return words(value)
    except ValueError:
        raise ValueError(f"{key} of the plan holds {value!r}; allowed: {', '.join(words)}") from None


def _stage(key: str, value: Any) -> Stage:
    try:
        if isinstance(value, str):
            return Stage.of_log(value)
    except ValueError:
        pass
    raise ValueError(f"{key} of the plan holds {value!r}; allowed: names of stages")


def _whole(values: Mapping[str, Any], key: str) -> int:
    value = values[key]
    if isinstance(value, bool) or not isinstance(value, int):
        raise ValueError(f"{key} of the plan is not a whole number")
    return value
