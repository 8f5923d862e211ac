"""The steel of a saw's line for `toothline plan`: what its records say came off, and what a stated limit leaves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from session.advice.sourced_figure import ASKED, OWN_RECORDS, Figure
from session.commands.output.option_values import length_option
from session.machine.refusal import Refusal
from session.texts.wording import median_of, times
from session.till.past_sharpening import Sharpening
from session.trade.lengths import Length
from session.trade.leveling import line_loss
from session.trade.rounding import decimals
from session.trade.strokes import LIGHT_MM


def limit(text: str | None) -> Length | None:
    """How far the line may come down in all, as told with --may-lose. Raises Refusal for what is no length above 0."""
    if text is None:
        return None
    told = length_option("--may-lose", text)
    if told.mm == 0:
        raise Refusal(f"--may-lose: {told}; allowed: a length above 0")
    return told


def steel(finished: Sequence[Sharpening], may_lose: Length | None) -> Iterable[Figure]:
    """What came off the line in ``finished``, and what is left of ``may_lose``, from before the first record on."""
    known = [off for one in finished if (off := one.off_mm) is not None]
    # A sharpening without leveling takes nothing off, and says nothing of one that does.
    worn = [off for off in known if off]
    loss = line_loss(worn, 0.0 if may_lose is None else may_lose.mm)
    formula = f"told by {len(known)} of {times(len(finished), 'record')}: heights of the graded flats, an estimate"
    lost = loss.total_mm if known else None
    yield Figure("line_lost_mm", "taken off the line so far", lost, "mm", formula, OWN_RECORDS)
    if may_lose is None:
        return
    formula = f"{may_lose} that the line may lose, less what came off"
    yield Figure("line_left_mm", "left above the limit", loss.left_mm, "mm", formula, f"{ASKED}; {OWN_RECORDS}")
    left, source = loss.sharpenings_left, OWN_RECORDS
    formula = f"what is left, / {decimals(loss.each_mm, 3)} mm, {median_of(len(worn))}" if loss.each_mm else ""
    if left is None:
        left, source = int(loss.left_mm / LIGHT_MM + 1e-9), "from memory"
        formula = f"what is left, / {LIGHT_MM:g} mm, a light sharpening; no record tells better"
    yield Figure("sharpenings_left", "sharpenings until the limit", left, "", formula, source)
