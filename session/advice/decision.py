"""The decision: from what was seen of a saw to the least sufficient work, with less and more beside it.

Stops come first, then the recipe, then faults and their causes, then sharpness and line, and the set last, as it will
be after today's own work. Everything is advice; the person changes it with one key.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Final

from session.advice.causes import SuspectedCause, Suspicion, causes, over_words, uneven_words
from session.advice.measured_set import MeasuredSet, measured_set
from session.advice.plausibility import (
    Doubt,
    by_count,
    doubts,
    leaning,
    other_count,
    without,
)
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.sharpness import Degree, Sharpness, sharp_and_good, sharpness
from session.advice.stops import Advised, notes, stopped
from session.advice.work import FREE, LIGHT_PASSES, Piece, What, filing_mm, passes_mm, piece, touch_up_mm, working_order
from session.texts.wording import fine, teeth
from session.trade.leveling import PASS_MM
from session.trade.observation import Bright, Cutting, Handle, Look, Plate, Seen
from session.trade.rounding import decimals, whole_number
from session.trade.saw import Leans, Saw

#: So many looks are asked for before work begins; more are a chore that nobody does.
MOST_LOOKS: Final = 2

_PRACTICE: Final = "common practice, no source"


def decide(saw: Saw, seen: Seen, records: SawRecords = NO_HISTORY, today: date | None = None) -> Advised:
    """What ``saw`` needs by what was seen of it and what its records add. today: for dates; None believes any."""
    doubted = doubts(saw, seen, records, today)
    believed = without(seen, doubted)
    stop = stopped(saw, believed)
    found = stop if stop is not None else _Judging(saw, believed, records, doubted).advised()
    looks = (*(one.look for one in doubted), *(look for look in found.looks if look not in [d.look for d in doubted]))
    return replace(
        found, looks=looks[: max(MOST_LOOKS, len(doubted))], doubts=doubted, notes=(*found.notes, *notes(believed))
    )


class _Judging:
    """One saw being judged, once nothing stops the work."""

    def __init__(self, saw: Saw, seen: Seen, records: SawRecords, doubted: tuple[Doubt, ...]) -> None:
        self.recipe = self._mended(saw, seen)
        self.saw = by_count(saw, seen)
        self.seen = seen
        self.records = records
        self.doubted = doubted
        self.has: MeasuredSet = measured_set(self.saw, seen, records)
        self.good = seen.last_cut is Cutting.GOOD

    def advised(self) -> Advised:
        """The advice with its neighbors."""
        care = self._care()
        if self._straighten_first():
            found = self._with_neighbors(Degree.NONE, self._sharpness(False), care, (), ())
            return replace(found, more=())
        suspected = causes(self.saw, self.seen, self.has)
        chosen, pending = self._remedy(suspected)
        remedies = dict.fromkeys(chosen.works, chosen) if chosen is not None else {}
        default = not (care or remedies or self.recipe or self.doubted)
        filing = self._sharpness(default)
        degree = filing.degree
        settled = chosen is not None and chosen.standing is Suspicion.SEEN and FREE.issuperset(chosen.works)
        explained = settled and bool(chosen is not None and chosen.works)
        fault = self.seen.last_cut not in (None, Cutting.GOOD, Cutting.UNTRIED, Cutting.SLOW)
        if degree is Degree.TOUCH_UP and (explained or (fault and pending)):
            # The fault has a cause that costs no steel, or one that a look decides: the touch up can wait for it.
            degree = Degree.NONE
        if degree is Degree.NONE and pending and not remedies:
            before = " ".join(one.reason for one in suspected if one.look in pending)
            filing = replace(filing, reason=f"Look first, before any steel. {before}", source=_sources(suspected))
        if degree > Degree.TOUCH_UP:
            # What is filed anew has lost its old points: what the stone has to do is judged by the set it will have.
            remedies = {what: cause for what, cause in remedies.items() if what in FREE or what is What.SET}
        works = {**{what: (cause.reason, cause.source) for what, cause in remedies.items()}, **care}
        looks = (*pending, *filing.looks)
        return self._with_neighbors(degree, filing, works, suspected, looks)

    def _sharpness(self, by_default: bool) -> Sharpness:
        return sharpness(self.saw, self.seen, self.records, by_default=by_default)

    @staticmethod
    def _mended(saw: Saw, seen: Seen) -> str:
        """What of the recipe has to be put right before anything else; empty when it fits."""
        told = []
        odd = other_count(saw, seen)
        if odd is not None:
            look, counted, said = odd
            if look is Look.IN_LINE:
                pitch = saw.toothed_length.mm / (counted - 1)
                told.append(
                    f"You counted {counted:g} points, the recipe says {said:g}. The count holds: the pitch is the "
                    f"length / {counted - 1:g} = {decimals(pitch, 3)} mm, and distances, depth and file follow."
                )
            else:
                told.append(
                    f"You counted {counted:g} points where the recipe says {said:g}, both ends counted: pitch, "
                    "distances, depth and file follow the count."
                )
        if seen.first_leans is not None and seen.first_leans is not saw.first_leans:
            told.append(
                f"Tooth 1 leans {seen.first_leans}, the recipe says {saw.first_leans}: put the recipe right before "
                "anything is bent or filed, as every side changes with it."
                if seen.first_leans is not Leans.UNSET
                else f"No tooth leans, the recipe says that tooth 1 leans {saw.first_leans}: put that right first."
            )
        return " ".join(told)

    def _care(self) -> dict[What, tuple[str, str]]:
        """What costs no steel and is done whenever it is needed."""
        care: dict[What, tuple[str, str]] = {}
        if self.recipe:
            care[What.MEND_RECIPE] = (self.recipe, "NOYES p. 63; PSM89; derived")
        if self.seen.handle is Handle.LOOSE:
            care[What.TIGHTEN] = ("The handle is loose: tighten it first, it feels like wander.", _PRACTICE)
        if self.seen.is_plate(Plate.RUSTY, Plate.GUMMED):
            care[What.CLEAN] = ("The plate is rusty or gummed: clean it, it rubs in the kerf.", _PRACTICE)
        if self._straighten_first():
            why = "The plate is kinked: have it straightened first by one who can. No filing helps."
            care[What.STRAIGHTEN] = (why, _PRACTICE)
        return care

    def _straighten_first(self) -> bool:
        bent = self.seen.is_plate(Plate.BENT) and self.seen.last_cut in (Cutting.WANDERS, Cutting.BINDS, Cutting.JUMPS)
        return (self.seen.is_plate(Plate.KINKED) or bent) and not self.good

    def _remedy(self, suspected: tuple[SuspectedCause, ...]) -> tuple[SuspectedCause | None, tuple[Look, ...]]:
        """The least remedy that meets a cause still standing, and the looks that would decide between causes.

        A cause that was seen comes before one that is only possible. Of those only possible and not yet looked for, no
        remedy is taken that costs more than time.
        """
        seen = next((one for one in suspected if one.standing is Suspicion.SEEN), None)
        before = suspected if seen is None else suspected[: suspected.index(seen)]
        pending = tuple(dict.fromkeys(one.look for one in before if one.look is not None))
        if seen is not None:
            later = [one for one in suspected[suspected.index(seen) :] if one.standing is Suspicion.POSSIBLE]
            costs = not FREE.issuperset(seen.works) and bool(seen.works)
            more = tuple(one.look for one in later if one.look in (Look.PLATE, Look.WOOD) and one.look is not None)
            return seen, tuple(dict.fromkeys((*pending, *(more if costs else ()))))
        for one in suspected:
            if one.works == (What.WAX,) or (one.look is None and one.works and not pending):
                return one, pending
        if self.seen.last_cut is Cutting.WANDERS and pending:
            why = "Let the saw find its own way, the eye over its back; look at plate and rows before any steel."
            return SuspectedCause(Suspicion.POSSIBLE, (What.TECHNIQUE,), None, why, "FSMAN; judgment"), pending
        return None, pending

    def _with_neighbors(
        self,
        degree: Degree,
        filing: Sharpness,
        works: Mapping[What, tuple[str, str]],
        suspected: tuple[SuspectedCause, ...],
        looks: Iterable[Look],
    ) -> Advised:
        work = self._work(degree, filing, works)
        looks = tuple(dict.fromkeys(looks))
        if sharp_and_good(self.seen):
            looks = ()
        return Advised(
            work, looks, less=self._less(degree, filing, works, work), more=self._more(degree, works, suspected)
        )

    def _less(
        self, degree: Degree, filing: Sharpness, works: Mapping[What, tuple[str, str]], work: tuple[Piece, ...]
    ) -> tuple[Piece, ...]:
        free = {what: told for what, told in works.items() if what in FREE}
        if degree is Degree.RESHAPE:
            reason = "Share it out: level lightly, lean on the larger teeth, and again over the next sharpenings."
            shared = replace(filing, level_mm=passes_mm(LIGHT_PASSES), reason=reason, source="SICK; KING; DREW")
            found = self._work(Degree.LEVEL_AND_FILE, shared, works)
        elif degree is Degree.LEVEL_AND_FILE:
            reason = "The same one or two light strokes in every gullet, no leveling."
            found = self._work(Degree.TOUCH_UP, replace(filing, reason=reason, source="ZERBE; NOYES"), works)
        elif degree is Degree.TOUCH_UP:
            found = self._work(Degree.NONE, replace(filing, reason="Wait, and use it as it is."), works)
        else:
            found = self._work(Degree.NONE, replace(filing, reason="Leave it as it is."), free, setting=False)
        if found == work or _whats(found) == _whats(work):
            nothing = (piece(What.NOTHING, "Leave it as it is.", "judgment"),)
            return () if _whats(work) == (What.NOTHING,) else nothing
        return found

    def _more(
        self, degree: Degree, works: Mapping[What, tuple[str, str]], suspected: tuple[SuspectedCause, ...]
    ) -> tuple[Piece, ...]:
        further = [one for one in suspected if not FREE.issuperset(one.works) and not set(one.works) <= set(works)]
        if degree is Degree.NONE and further:
            one = further[0]
            return self._work(
                degree, self._sharpness(False), {**works, **dict.fromkeys(one.works, (one.reason, one.source))}
            )
        if degree is Degree.NONE:
            reason = "The same one or two light strokes in every gullet, no leveling."
            return self._work(Degree.TOUCH_UP, Sharpness(Degree.TOUCH_UP, 0.0, reason, "ZERBE; NOYES"), works)
        if degree is Degree.TOUCH_UP:
            reason = "One light pass, look, then file the flats away."
            light = Sharpness(Degree.LEVEL_AND_FILE, passes_mm(LIGHT_PASSES), reason, "KING 64; MTS")
            return self._work(Degree.LEVEL_AND_FILE, light, works)
        if degree is Degree.LEVEL_AND_FILE and not self.seen.is_plate(Plate.NARROW):
            reason = "If the flats come out wide, or big and small: file them to one size, level again."
            large = Sharpness(Degree.RESHAPE, 2 * PASS_MM, reason, "GOR p. 150")
            return self._work(Degree.RESHAPE, large, works)
        return ()

    def _work(
        self, degree: Degree, filing: Sharpness, works: Mapping[What, tuple[str, str]], *, setting: bool = True
    ) -> tuple[Piece, ...]:
        """The pieces of work in order, with the set that today's own work will ask for."""
        pieces = {what: self._free(what, *told) for what, told in works.items()}
        for one in self._filing(degree, filing):
            pieces[one.what] = one
        off = sum(one.steel_mm or 0.0 for one in pieces.values())
        if setting:
            for what, told in self._setting(degree, off, pieces).items():
                pieces.setdefault(what, self._free(what, *told))
        if degree > Degree.TOUCH_UP and What.STONE_BOTH not in pieces and self.saw.dressing_passes:
            why = "The file leaves a burr on the side where its stroke ends: one light pass of the stone a side."
            pieces[What.DRESS] = piece(What.DRESS, why, "KING 64; MTS; NOYES; PSM89; ROSS", places=2)
        if not pieces or set(pieces) == {What.MEND_RECIPE}:
            return (*pieces.values(), *(() if pieces else (self._nothing(filing),)))
        order = working_order(self.saw.order)
        return tuple(sorted(pieces.values(), key=lambda one: order.index(one.what)))

    def _nothing(self, filing: Sharpness) -> Piece:
        has, saw = self.has, self.saw
        if sharp_and_good(self.seen):
            why = "It is sharp and cut well: wipe it, hang it up and note the date."
            if has.now_mm is not None and has.under_least:
                why += f" {fine(has.now_mm, saw.unit)} of set is little, and it cuts with it: leave it."
                return piece(What.NOTHING, why, "GRIF; NOYES; FSMAN")
            return piece(What.NOTHING, why, "FIT; GOR p. 150")
        if self.doubted and filing.degree is Degree.NONE:
            again = " ".join(f"{one.look.value}: {one.seen}: {one.why}." for one in self.doubted)
            return piece(What.NOTHING, f"Look again before anything is done. {again}", "derived; judgment")
        return piece(What.NOTHING, filing.reason, filing.source)

    def _free(self, what: What, reason: str, source: str) -> Piece:
        places = self.saw.points if what is What.SET else 0
        return piece(what, reason, source, places=places)

    def _filing(self, degree: Degree, filing: Sharpness) -> list[Piece]:
        saw, gullets, bite = self.saw, self.saw.points, self.records.bite
        if degree is Degree.NONE:
            return []
        if degree is Degree.TOUCH_UP:
            why = filing.reason + self._stumps()
            return [piece(What.TOUCH_UP, why, filing.source, steel_mm=touch_up_mm(saw, bite), places=gullets)]
        passes = max(1, whole_number(filing.level_mm / PASS_MM))
        found = [piece(What.LEVEL, filing.reason, filing.source, steel_mm=filing.level_mm, places=passes)]
        flats_mm = filing.level_mm
        if degree is Degree.RESHAPE:
            why = "File every tooth to one size, square across, until its flat is gone."
            rest = filing_mm(saw, flats_mm, bite)
            found.append(piece(What.RESHAPE, why, "GOR p. 150; FIT", steel_mm=rest, places=gullets))
            flats_mm = passes_mm(LIGHT_PASSES)
            why = "Reshaping leaves the points uneven: one light pass makes them agree."
            found.append(piece(What.LEVEL_AGAIN, why, "GOR p. 150", steel_mm=flats_mm, places=LIGHT_PASSES))
        few = 2 * len(filing.few) or gullets
        why = "File until each flat just goes." + (" A sharp tooth without a flat is left alone." if filing.few else "")
        why += self._stumps()
        rest = filing_mm(saw, flats_mm, bite)
        found.append(piece(What.FILE, why, "HOLTZ; GOR; KING 64", steel_mm=rest, places=min(few, gullets)))
        return found

    def _stumps(self) -> str:
        """What filing has to leave alone, as a sentence to follow another."""
        return f" Leave {teeth(self.seen.broken)} alone: broken (DREW)." if self.seen.broken else ""

    def _setting(self, degree: Degree, off_mm: float, pieces: Mapping[What, Piece]) -> Mapping[What, tuple[str, str]]:
        """What the set needs, judged by what today's own work will leave of it."""
        has, saw, seen = self.has, self.saw, self.seen
        if has.want_mm <= 0 or sharp_and_good(seen) or (self.good and off_mm < has.arm_mm):
            return {}
        if any(what in pieces for what in (What.OTHER_SAW, What.STRAIGHTEN)) and degree is Degree.NONE:
            return {}
        if leaning(saw, seen) is Leans.UNSET:
            if degree is Degree.NONE and seen.bright is not Bright.NONE:
                return {}
            why = "No tooth was ever set: try the set on five or six teeth, measure, then set the rest."
            return {What.SET: (why, "FSMAN; LAUGH art. 2; judgment")}
        stones = 1 if degree > Degree.TOUCH_UP and saw.dressing_passes else 0
        left = has.left_mm(off_mm, stones)
        if has.over and not has.uneven:
            return {What.STONE_BOTH: (over_words(saw, has), "GRIF; FSMAN; KING 64; judgment")}
        if has.uneven:
            told = (uneven_words(saw, has, off_mm), "ROSS p. 9; FSMAN; from memory")
            both = {What.STONE_BOTH: told}
            return both if has.enough_to_stone(off_mm) else {What.SET: told, **both}
        if has.due(off_mm, stones):
            amount, least = fine(left or 0.0, saw.unit), fine(has.least_mm, saw.unit)
            after = "Today's work leaves" if off_mm else "It has"
            why = f"{after} {amount} of set a side, under the least of {least}: set it, on a few teeth first."
            return {What.SET: (why, "GRIF; FSMAN; derived")}
        return {}


def _sources(suspected: Iterable[SuspectedCause]) -> str:
    """Who says so, of several causes together, each once."""
    return "; ".join(dict.fromkeys(part for one in suspected for part in one.source.split("; ")))


def _whats(work: Iterable[Piece]) -> tuple[What, ...]:
    return tuple(one.what for one in work)
