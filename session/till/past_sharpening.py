"""One sharpening as history compares it: the numbers of its log, in one unit each, None where nobody measured.

Everything here comes from a file that may be of other origin, so that no value is taken for what it says it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any, Final

from session.log.log_bytes import LogStanding, Oddity
from session.log.log_reader import LogEnds, read_log
from session.log.summary import Summary, summary_of, told_by
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.till.lowered_line import AS_IT_WAS, LoweredLine, lowered_by_counts, lowered_by_teeth
from session.trade.file_names import called, corner_in
from session.trade.kerf import set_from_measurement_mm
from session.trade.middle_values import median
from session.trade.saw import Saw
from session.trade.setting import SetLine, set_slope
from session.trade.strokes import usual_bite
from session.trade.tooth import shallowest_mm, tooth_of
from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut
from session.value_class import dataclass, field, replace
from session.walk.account import Account
from session.walk.corner_work import CornerWork
from session.walk.measurables import Measurable, length_mm
from session.walk.stages import FACTS, Stage
from session.walk.tally import Leveling

_NOTHING: Final = Summary()


@dataclass(frozen=True, kw_only=True)
class Sharpening:
    """One log of a saw.

    path, header: the log. state: finished, interrupted or read only. odd: what is odd about it, else empty.
    summary: its numbers; all of them 0 or absent when they could not be had.
    """

    path: Path
    header: Mapping[str, Any]
    state: LogStanding
    odd: str
    summary: Summary

    @property
    def finished(self) -> bool:
        """Whether its last mark was made, and nothing is odd."""
        return self.state is LogStanding.FINISHED

    @cached_property
    def session(self) -> Mapping[str, Any]:
        """The header's table of that name, empty when there is none."""
        found = self.header.get("session")
        return found if isinstance(found, Mapping) else {}

    @property
    def name(self) -> str:
        """The saw's name as its log has it."""
        return clean(str(self.session.get("saw") or self.path.parent.name))

    @property
    def started(self) -> datetime | None:
        """When it was begun, with its offset."""
        started = self.session.get("started")
        return started if isinstance(started, datetime) and started.tzinfo is not None else self.summary.first

    @property
    def ended(self) -> datetime | None:
        """When its last mark was made."""
        return self.summary.last

    @cached_property
    def saw(self) -> Saw | None:
        """The saw as its recipe was on that day; None when the header holds no recipe that can be read."""
        recipe = self.header.get("recipe")
        return _saw_of(_Recipe(repr(recipe), recipe)) if isinstance(recipe, Mapping) else None

    @property
    def stages(self) -> tuple[str, ...]:
        """The stages in which something was done, in the order of a sharpening, those of another version at the end."""
        done = self.summary.done
        return (*(str(stage) for stage in Stage if done.get(stage)), *(name for name in done if name not in FACTS))

    @property
    def gullets(self) -> int:
        """Gullets filed: what the file's corner has worn by."""
        return self.summary.done.get(Stage.FILE, 0)

    @property
    def was_set(self) -> bool:
        """Whether teeth were set."""
        return bool(self.summary.done.get(Stage.SET))

    @property
    def found_set_mm(self) -> float | None:
        """Set per side as measured at the look over, before the work, in mm."""
        return self._set_mm(Measurable.OVER_POINTS)

    @property
    def left_set_mm(self) -> float | None:
        """Set per side after the work, in mm: as measured after dressing, else after setting, else what was found, less
        what the work wore off, by the recipe's own slope; the stone's passes are counted at STONE_PASS_MM.

        None when none was measured, when the teeth were set since they were, or when nobody knows what came off.
        """
        if (end := self.measured_end_mm) is not None:
            return end
        if (after := self.measured_after_mm) is not None:
            return SetLine(after, 0.0).after(0.0, self.stone_passes).left_mm
        if (found := self.found_set_mm) is None or self.was_set:
            return None
        off = self.came_down_mm
        if off is None or self.saw is None:
            return None
        try:
            wanted = 0.0 if self.saw.set_per_side is None else self.saw.set_per_side.mm
            slope = set_slope(max(found, wanted), shallowest_mm(self.saw), self.saw.bent_share)
            return SetLine(found, slope).after(off, self.stone_passes).left_mm
        except TradeError:
            return None

    @property
    def measured_after_mm(self) -> float | None:
        """Set per side as measured after setting and before the stone, in mm."""
        return self._set_mm(Measurable.OVER_POINTS_AFTER)

    @property
    def measured_end_mm(self) -> float | None:
        """Set per side as measured after the stone, as the saw was used from then on, in mm."""
        return self._set_mm(Measurable.OVER_POINTS_END)

    @property
    def stone_passes(self) -> float:
        """Passes of the stone along each side."""
        return self.summary.done.get(Stage.DRESS, 0) / 2

    @property
    def came_down_mm(self) -> float | None:
        """How far the line came down, in mm, also where it was filed without leveling: each stroke in every gullet
        takes bite / (pitch · plate) off it.

        None when it was leveled and the flats were not graded, or filed and the strokes not counted.
        """
        if self.summary.line.passes or self.summary.done.get(Stage.LEVEL) or not self.gullets:
            return self.off_mm
        strokes = self.summary.line.strokes_each
        if strokes is None or (saw := self.saw) is None:
            return None
        taught = self.summary.bite
        bite = taught if taught is not None and taught.learned else usual_bite(saw.pitch_mm, saw.plate.mm)
        # The middle count of strokes is that of a gullet of the middle pitch.
        pitch = median(saw.line.pitch_at(tooth) for tooth in range(1, saw.points + 1)) if saw.zones else saw.pitch_mm
        return strokes * bite.mm3 / (pitch * saw.plate.mm)

    @property
    def off_mm(self) -> float | None:
        """How far the line came down, in mm: the median height of the graded flats, of every leveling together.

        An estimate, because an eye gave the grades: `lowered` says how coarse. 0 when nothing was leveled, None when
        the flats of any leveling were not graded.
        """
        return None if self.lowered is None else self.lowered.middle_mm

    @cached_property
    def lowered(self) -> LoweredLine | None:
        """The same with the range that the grades leave open."""
        line = self.summary.line
        if not line.passes:
            return AS_IT_WAS if self.finished and not self.summary.done.get(Stage.LEVEL) else None
        if not line.flats or (self.summary.done.get(Stage.RESHAPE) and len(line.flats) < 2):
            return None
        if line.levelings is not None and line.levelings > len(line.flats):
            return None
        if (saw := self.saw) is None:
            return None
        try:
            if saw.zones:
                return self._lowered_by_zones(saw)
            return lowered_by_counts(line.flats.values(), saw.pitch_mm, tooth_of(saw).depth_mm)
        except TradeError:
            return None

    def _lowered_by_zones(self, saw: Saw) -> LoweredLine | None:
        """The same of a progressive line: what comes off is a larger share of a fine zone's pitch than of a coarse
        one's, and grades are such shares. The summary only counts grades, so that the log itself is read for it."""
        try:
            depths = [(last, tooth_of(saw.at(first)).depth_mm) for first, last, _ in saw.line.stretches()]
            rounds = Account.of(read_log(self.path).marks).tally.rounds
        except (Refusal, ValueError, OSError):
            return None

        def depth(tooth: int) -> float:
            return next((deep for last, deep in depths if tooth <= last), depths[-1][1])

        return lowered_by_teeth([rounds.get(number, Leveling()) for number in self.summary.line.flats], depth)

    @property
    def trial(self) -> TrialCut | None:
        """The trial cut that proved it, on the day itself; None when none was measured."""
        length, thickness = self.length_mm(Measurable.CUT_LENGTH), self.length_mm(Measurable.CUT_THICKNESS)
        strokes = self.summary.measured.get(Measurable.CUT_STROKES, (None, None))[0]
        if length is None or thickness is None or isinstance(strokes, bool) or not isinstance(strokes, int):
            return None
        wander = self.length_mm(Measurable.CUT_WANDER) or 0.0
        side = -1.0 if self.text(Measurable.CUT_WANDER_TO) == "left" else 1.0
        try:
            return TrialCut(
                length_mm=length,
                thickness_mm=thickness,
                strokes=strokes,
                wander_mm=side * wander,
                wood=self.saw.wood if self.saw is not None else "",
            )
        except (TradeError, OverflowError):
            return None

    @property
    def cut_went(self) -> str | None:
        """How the trial cut went, in the word that was chosen."""
        return self.text(Measurable.TRIAL_CUT)

    @property
    def file_used(self) -> str | None:
        """The file, by its name in the drawer, when it was told."""
        return self.text(Measurable.FILE)

    @property
    def files(self) -> tuple[CornerWork, ...]:
        """What each corner of each file did."""
        return tuple(replace(work, file=clean(work.file)) for work in self.summary.files)

    @property
    def only_file(self) -> str | None:
        """The file that was told, unless another one, or one that was not told, filed some of the gullets."""
        names = {called(work.file) for work in self.files}
        return self.file_used if names <= {called(self.file_used or "")} else None

    @property
    def corner(self) -> int | None:
        """The corner of the file, 1 to 3, when it was told."""
        return corner_in(self.summary.measured.get(Measurable.FILE_CORNER, (None, None))[0])

    def _set_mm(self, what: Measurable) -> float | None:
        """Set per side by a width over the points; None without one, or with one less than the plate."""
        over = self.length_mm(what)
        if over is None or self.saw is None:
            return None
        try:
            return set_from_measurement_mm(over, self.saw.plate.mm)
        except TradeError:
            return None

    def length_mm(self, what: Measurable) -> float | None:
        """A measured length in mm; None when it was not measured or is no length."""
        return length_mm(*self.summary.measured.get(what, (None, None)))

    def text(self, what: Measurable) -> str | None:
        """A measured choice or text; None when there is none."""
        value = self.summary.measured.get(what, (None, None))[0]
        return clean(value) if isinstance(value, str) and value else None


@dataclass(frozen=True, slots=True)
class _Recipe:
    """A recipe told apart by what stands in it: most logs of a saw have the same."""

    text: str
    values: Mapping[str, Any] = field(compare=False)


@lru_cache(maxsize=64)
def _saw_of(recipe: _Recipe) -> Saw | None:
    # A record in which nothing was measured is told without its saw: then what reads recipes is not loaded.
    from session.files.recipe import recipe_from_values

    try:
        return recipe_from_values(recipe.values).saw
    except (ValueError, TypeError, OverflowError):
        return None


def sharpening(ends: LogEnds) -> Sharpening:
    """The sharpening of the log with these ends; read from end to end only when they do not tell it. Never raises."""
    summary, odd, state = told_by(ends.last) if ends.odd is None else None, ends.odd, ends.state
    if summary is None:
        try:
            log = read_log(ends.path)
            summary, odd, state = summary_of(log), log.odd, log.state
        except Refusal as wrong:
            summary, odd, state = _NOTHING, Oddity(str(wrong)), LogStanding.READ_ONLY
    return Sharpening(path=ends.path, header=ends.header, state=state, odd=str(odd or ""), summary=summary)
