"""From what was found to what to do: one counsel for each stage, with its reason and who says so.

It advises and does not decide. Where nothing was measured it says so and leaves the plan as it stands.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final

from session.advice.findings import Findings
from session.advice.set_advice import over_set, set_counsel
from session.texts.wording import fine, teeth
from session.trade.kerf import KerfError, set_from_measurement_mm
from session.trade.saw import Leans, Order, Saw
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

#: The worst error of spacing, as a share of the pitch, from which reshaping is advised: judgement.
UNEVEN_SHARE: Final = 0.15

#: What is said where nothing was looked at.
STANDS: Final = "Not measured: the plan stands."


@dataclass(frozen=True, slots=True)
class Counsel:
    """Advice on one stage.

    take_in: whether it belongs in today's plan. For filing, which no sharpening goes without, False means
        that the saw need not be sharpened today at all.
    why: one or two short sentences. source: in the short names of session.texts.sources.
    """

    stage: Stage
    take_in: bool
    why: str
    source: str


def advise(saw: Saw, findings: Findings, planned: Collection[Stage] | None = None) -> tuple[Counsel, ...]:
    """Counsel for level, reshape, set, file, dress and prove, in the order in which this recipe works them.

    planned: the stages in the plan so far; None for the plan the recipe makes by itself.
    """
    standing = make_plan(saw).taken_in if planned is None else frozenset(planned)
    # Sharp and cutting well, nothing comes off it today.
    take_in, why, source = set_counsel(saw, findings, Stage.SET in standing, 0.0 if _cuts_well(findings) else None)
    setting = Counsel(Stage.SET, take_in, why, source)
    if _cuts_well(findings) and findings.over_points_mm is None and saw.first_leans is not Leans.UNSET:
        setting = Counsel(Stage.SET, False, "Not measured, but the saw cut well: leave the set alone.", "GRIF; FSMAN")
    reshaping = _reshape(saw, findings, Stage.RESHAPE in standing)
    if _cuts_well(findings) and findings.spacing_error_mm is None:
        why = "The saw cut well: no steel need come off for shape."
        reshaping = Counsel(Stage.RESHAPE, False, why, "GOR p. 150; judgement")
    idle = _cuts_well(findings) and not setting.take_in and not reshaping.take_in
    filing = _file(findings, idle)
    middle = (setting, filing) if saw.order is Order.SET_FIRST else (filing, setting)
    return (
        _level(findings, idle, Stage.LEVEL in standing),
        reshaping,
        *middle,
        _dress(saw, findings, idle, Stage.DRESS in standing),
        Counsel(Stage.PROVE, True, "A trial cut proves the work and is next time's measure.", "FSMAN"),
    )


def remarks(saw: Saw, findings: Findings) -> tuple[str, ...]:
    """What the findings say besides the stages: counts that differ from the recipe, broken teeth."""
    said: list[str] = []
    counted = findings.counted_points
    if counted is not None and counted != saw.points:
        said.append(f"You counted {counted} points; the recipe has {saw.points}. Count again, then mend the recipe.")
    if findings.counted_share is not None:
        count, scope = findings.counted_share
        pitch_mm = (25.4 if scope == "in 1 in" else 25.0) / (count - 1)
        if abs(pitch_mm - saw.pitch_mm) > 0.05 * saw.pitch_mm:
            said.append(f"{count:g} points {scope} is not the recipe's {saw.count_as}. Count again, both ends counted.")
    if findings.broken:
        beyond = [tooth for tooth in findings.broken if tooth > saw.points]
        if beyond:
            said.append(f"There is no {teeth(beyond)}: the line has {saw.points} points.")
        within = [tooth for tooth in findings.broken if tooth <= saw.points]
        if within:
            said.append(f"Leave {teeth(within)} alone and keep the neighbors their own size (DREW).")
    return tuple(said)


def _cuts_well(findings: Findings) -> bool:
    return findings.bright == "none" and findings.last_cut == "good" and findings.line != "hollow"


def _too_much_set(saw: Saw, findings: Findings) -> bool:
    """Whether the set is over the fullest useful one; a saw that cuts well with it is left alone."""
    if findings.over_points_mm is None or findings.last_cut == "good":
        return False
    try:
        return over_set(saw, set_from_measurement_mm(findings.over_points_mm, saw.plate.mm))
    except KerfError:
        return False


def _level(findings: Findings, idle: bool, standing: bool) -> Counsel:
    stage = Stage.LEVEL
    if findings.line == "hollow":
        why = "The line is hollow. Level until it is straight or slightly crowned, over more than one sharpening."
        return Counsel(stage, True, why, "DREW; GOR p. 149; common practice, no source")
    if idle:
        return Counsel(stage, False, "No point shines and the saw cut well: no steel need come off.", "FIT; GOR p. 150")
    if findings.last_cut == "wanders":
        return Counsel(stage, True, "It wandered: one pass with the file square shows whether a side is high.", "FSMAN")
    if findings.last_cut == "slow":
        why = "It cut slowly: short teeth are idle, and leveling brings the others down to them."
        return Counsel(stage, True, why, "RECIPE; NOYES")
    if findings.line is not None:
        why = f"The line is {findings.line}: a light pass is enough, and its flats guide the filing."
        return Counsel(stage, True, why, "KING 64; MTS; FIT; HOLTZ")
    return Counsel(stage, standing, STANDS, "common practice, no source")


def _reshape(saw: Saw, findings: Findings, standing: bool) -> Counsel:
    stage = Stage.RESHAPE
    error = findings.spacing_error_mm
    if error is not None:
        limit = UNEVEN_SHARE * saw.pitch_mm
        uneven = error > limit
        amount = f"{fine(error, saw.unit)}, and {fine(limit, saw.unit)} is the limit"
        tail = "file them to one size" if uneven else "filing evens that out a little each time"
        return Counsel(stage, uneven, f"The worst spacing is out by {amount}: {tail}.", "GOR p. 150; SICK; judgement")
    if findings.line == "hollow":
        why = "Leveling a hollow line leaves large flats, and reshaping shares them out."
        return Counsel(stage, True, why, "GOR p. 150")
    if standing:
        return Counsel(stage, True, f"{STANDS} The flats tell after leveling.", "FIT; GOR p. 150")
    return Counsel(
        stage, False, "Not measured: the flats tell after leveling. It costs the most steel.", "FIT; GOR p. 150"
    )


def _file(findings: Findings, idle: bool) -> Counsel:
    stage = Stage.FILE
    if idle:
        why = "No point shines and the saw cut well: it need not be sharpened today."
        return Counsel(stage, False, why, "FIT; FSMAN; judgement")
    if findings.bright in ("some", "most"):
        which = "Most" if findings.bright == "most" else "Some"
        return Counsel(stage, True, f"{which} points shine: they are dull or flat.", "FIT")
    if findings.last_cut == "slow":
        return Counsel(stage, True, "It cut slowly: dull or idle teeth.", "RECIPE; NOYES")
    if findings.bright is None and findings.last_cut in (None, "none"):
        return Counsel(stage, True, STANDS, "common practice, no source")
    return Counsel(stage, True, "What was leveled or set is filed to a point again.", "KING 64; MTS")


def _dress(saw: Saw, findings: Findings, idle: bool, standing: bool) -> Counsel:
    stage = Stage.DRESS
    if _too_much_set(saw, findings):
        why = "It has more set than the work asks for: the stone takes it down, both sides alike. Measure, then cut."
        return Counsel(stage, True, why, "GRIF; FSMAN; judgement")
    if idle:
        return Counsel(stage, False, "Nothing was filed, so there is no burr.", "ROSS; KING")
    if findings.last_cut == "wanders":
        why = "It wandered: dress both sides alike, then the trial cut tells which side is heavy."
        return Counsel(stage, True, why, "FSMAN; from memory")
    if saw.dressing_passes == 0 and not standing:
        return Counsel(stage, False, "The recipe asks for no passes; it is often left out.", "WHEEL")
    if not standing:
        return Counsel(stage, False, "Not in the plan; it is often left out.", "WHEEL")
    why = "It takes off the burr that the file leaves. How many passes, no work that was read says."
    return Counsel(stage, True, why, "KING 64; MTS; NOYES; PSM89; ROSS")
