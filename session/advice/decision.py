"""The decision: from what was seen of a saw to the least sufficient work, with less and more beside it.

Stops come first, then the recipe, then faults and their causes, then sharpness and line, and the set last, as it will
be after today's own work. Everything is advice; the person changes it with one key.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date
from typing import Final

from session.advice.care import care_of, straighten_first
from session.advice.causes import SuspectedCause, Suspicion, causes
from session.advice.least_remedy import least_remedy
from session.advice.look_words import AGAIN_WORDS
from session.advice.measured_set import MeasuredSet, measured_set
from session.advice.plausibility import Doubt, believed, by_count, doubts, other_count
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.set_work import STONES, set_work
from session.advice.sharpness import Degree, Sharpness, in_one_sitting, left_mm, sharp_and_good, sharpness
from session.advice.stops import Advised, notes, stopped
from session.advice.work import (
    FREE,
    FULL_PASSES,
    LIGHT_PASSES,
    Piece,
    What,
    filing_mm,
    passes_mm,
    piece,
    steel_mm,
    touch_up_mm,
    within,
    working_order,
)
from session.texts.wording import capital, fine, teeth
from session.trade.leveling import PASS_MM
from session.trade.observation import Look, Seen
from session.trade.rounding import whole_number
from session.trade.saw import Saw
from session.trade.seen_words import Bright, Cutting
from session.value_class import replace

#: So many looks are asked for before work begins; more are a chore that nobody does.
MOST_LOOKS: Final = 2


#: Said to whoever has finished no sharpening yet: common practice, no source. The choice stays theirs.
TO_LEARN_ON: Final = (
    "For a first saw: one with regular teeth is easier to learn on; this one wants reshaping, tooth by tooth. "
    "Yours to choose (common practice, no source)."
)


def decide(saw: Saw, seen: Seen, records: SawRecords = NO_HISTORY, today: date | None = None) -> Advised:
    """What ``saw`` needs by what was seen of it and what its records add. today: for dates; None believes any."""
    doubted = doubts(saw, seen, records, today)
    known = believed(seen, doubted, records)
    found = stopped(saw, known, records) or _Judging(saw, known, records, doubted).advised()
    heed = () if found.stop else notes(known)
    asked = [one.look for one in doubted]
    if known.broken and seen.broken is None and not sharp_and_good(seen):
        asked.append(Look.BROKEN)
        are = "is" if len(known.broken) == 1 else "are"
        heed = (*heed, f"{teeth(known.broken).capitalize()} {are} broken by the records: look again.")
    if records.first_time and What.RESHAPE in found.whats:
        heed = (*heed, TO_LEARN_ON)
    looks = tuple(dict.fromkeys((*asked, *found.looks)))
    return replace(found, looks=looks[: max(MOST_LOOKS, len(asked))], doubts=doubted, notes=(*found.notes, *heed))


class _Judging:
    """One saw being judged, once nothing stops the work."""

    def __init__(self, saw: Saw, seen: Seen, records: SawRecords, doubted: tuple[Doubt, ...]) -> None:
        self.recipe = saw
        self.care = care_of(saw, seen)
        self.saw = by_count(saw, seen)
        self.seen = seen
        self.records = records
        self.doubted = doubted
        self.has: MeasuredSet = measured_set(self.saw, seen, records)
        self.good = seen.last_cut is Cutting.GOOD

    def advised(self) -> Advised:
        """The advice with its neighbors."""
        care = self.care
        if straighten_first(self.seen):
            found = self._with_neighbors(Degree.NONE, self._sharpness(False), care, (), ())
            return replace(found, more=())
        suspected = causes(self.saw, self.seen, self.has)
        chosen, pending = least_remedy(suspected, self.seen)
        remedies = dict.fromkeys(chosen.works, chosen) if chosen is not None else {}
        filing = self._sharpness(by_default=not (care or remedies or self.doubted))
        if filing.degree is Degree.TOUCH_UP and self.has.uneven and not _ON_THE_SET.isdisjoint(remedies):
            filing = in_one_sitting(self.seen)
        degree = filing.degree
        if degree is Degree.TOUCH_UP and self._waits(chosen, pending):
            degree = Degree.NONE
            if chosen is not None and self.seen.bright is Bright.SOME:
                chosen = replace(chosen, reason=f"{chosen.reason} Some points shine: that can wait for the next cut.")
                remedies = dict.fromkeys(remedies, chosen)
        if degree is Degree.NONE and pending and not remedies:
            before = " ".join(dict.fromkeys(one.reason for one in suspected if one.look in pending))
            filing = replace(filing, reason=f"Look first, before any steel. {before}", source=_sources(suspected))
        if degree > Degree.TOUCH_UP:
            # What is filed anew has lost its old points: what the stone has to do is judged by the set it will have.
            remedies = {what: cause for what, cause in remedies.items() if what in FREE or what is What.SET}
            if self._fault and not remedies and not self._met_by_filing(chosen):
                filing = replace(filing, reason=f"{filing.reason} {self._cut_again(self._fault)}")
        works = {**{what: (cause.reason, cause.source) for what, cause in remedies.items()}, **care}
        return self._with_neighbors(degree, filing, works, suspected, (*self._count, *pending, *filing.looks))

    @property
    def _fault(self) -> str:
        """What the last cut did wrong that dull points alone do not explain, as a sentence tells it; empty for none."""
        return _DID.get(self.seen.last_cut, "") if self.seen.last_cut is not None else ""

    def _waits(self, chosen: SuspectedCause | None, pending: Collection[Look]) -> bool:
        """Whether the touch up can wait for the remedy of a fault, which takes less steel, or for a look that decides.

        What was seen, and is mended without steel, explains any fault; one that is only suspected, those of the cut.
        """
        if chosen is not None and chosen.works and chosen.standing is Suspicion.SEEN and FREE.issuperset(chosen.works):
            return True
        return bool(self._fault and (pending or (chosen is not None and chosen.works)))

    def _met_by_filing(self, chosen: SuspectedCause | None) -> bool:
        """Whether the filing itself is what the fault of the cut wants."""
        return chosen is not None and not chosen.works and self.seen.last_cut is not Cutting.WANDERS

    @property
    def _count(self) -> tuple[Look, ...]:
        """The look that counts the whole line, where one over a short stretch says that it has to be."""
        odd = other_count(self.recipe, self.seen)
        return (Look.IN_LINE,) if odd is not None and odd[0] is not Look.IN_LINE else ()

    def _sharpness(self, by_default: bool) -> Sharpness:
        return sharpness(self.saw, self.seen, self.records, by_default=by_default)

    def _cut_again(self, fault: str) -> str:
        """That the fault of the cut is not forgotten where the filing comes first."""
        side = self.seen.wanders_to if self.seen.last_cut is Cutting.WANDERS else None
        if side is not None:
            return f"{fault} to the {side}: when that is done cut again, and stone that side once if it still does."
        return f"{fault}: when that is done, cut again."

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
        more = self._more(degree, filing, works, suspected, work)
        return Advised(work, looks, less=self._less(degree, filing, works, work), more=more)

    def _less(
        self, degree: Degree, filing: Sharpness, works: Mapping[What, tuple[str, str]], work: tuple[Piece, ...]
    ) -> tuple[Piece, ...]:
        """The nearest choice that costs no more than ``work``, in steel, gullets and minutes."""
        nothing = (piece(What.NOTHING, "Leave it as it is.", "judgment"),)
        for found in (*self._lesser(degree, filing, works), nothing):
            if _whats(found) != _whats(work) and within(found, work):
                return found
        return ()

    def _lesser(
        self, degree: Degree, filing: Sharpness, works: Mapping[What, tuple[str, str]]
    ) -> Iterator[tuple[Piece, ...]]:
        free = {what: told for what, told in works.items() if what in FREE}
        if degree is Degree.RESHAPE:
            reason = "Share it out: level lightly, lean on the larger teeth, and again over the next sharpenings."
            shared = replace(filing, level_mm=passes_mm(LIGHT_PASSES), reason=reason, source="SICK; KING; DREW")
            yield self._work(Degree.LEVEL_AND_FILE, shared, works)
        if degree >= Degree.LEVEL_AND_FILE and self.seen.bright is not Bright.NONE:
            touched = replace(filing, reason=_TOUCH, source="ZERBE; NOYES", few=())
            yield self._work(Degree.TOUCH_UP, touched, works)
        if degree is Degree.TOUCH_UP:
            yield self._work(Degree.NONE, replace(filing, reason="Wait, and use it as it is."), works)
        yield self._work(Degree.NONE, replace(filing, reason="Leave it as it is."), free, setting=False)

    def _more(
        self,
        degree: Degree,
        filing: Sharpness,
        works: Mapping[What, tuple[str, str]],
        suspected: tuple[SuspectedCause, ...],
        work: tuple[Piece, ...],
    ) -> tuple[Piece, ...]:
        """The nearest choice that costs no less than ``work``, and no more than the line may still come down."""
        left = left_mm(self.records)
        for found in self._further(degree, filing, works, suspected):
            if _whats(found) != _whats(work) and within(work, found) and (left is None or steel_mm(found) <= left):
                return found
        return ()

    def _further(
        self,
        degree: Degree,
        filing: Sharpness,
        works: Mapping[What, tuple[str, str]],
        suspected: tuple[SuspectedCause, ...],
    ) -> Iterator[tuple[Piece, ...]]:
        sharp = self.seen.bright is Bright.NONE
        if degree is Degree.NONE:
            for one in suspected:
                if not FREE.issuperset(one.works) and not set(one.works) <= set(works) and not _at_odds(one, works):
                    told = {**works, **dict.fromkeys(one.works, (one.reason, one.source))}
                    yield self._work(degree, filing, told)
            if What.SET not in works:
                yield self._work(degree, filing, works, untold=True)
            if not sharp:
                # A sharp tooth without a flat is never filed.
                yield self._work(Degree.TOUCH_UP, Sharpness(Degree.TOUCH_UP, 0.0, _TOUCH, "ZERBE; NOYES"), works)
        elif degree is Degree.TOUCH_UP:
            reason = "One light pass, look, then file the flats away."
            light = Sharpness(Degree.LEVEL_AND_FILE, passes_mm(LIGHT_PASSES), reason, "KING 64; MTS")
            yield self._work(Degree.LEVEL_AND_FILE, light, works)
        elif degree is Degree.LEVEL_AND_FILE and not (filing.spare or filing.few):
            reason = "If the flats come out wide, or big and small: file them to one size, level again."
            depth = max(filing.level_mm, passes_mm(FULL_PASSES))
            yield self._work(Degree.RESHAPE, Sharpness(Degree.RESHAPE, depth, reason, "GOR p. 150"), works)

    def _work(
        self,
        degree: Degree,
        filing: Sharpness,
        works: Mapping[What, tuple[str, str]],
        *,
        setting: bool = True,
        untold: bool = False,
    ) -> tuple[Piece, ...]:
        """The pieces of work in order, with the set that today's own work will ask for; untold as for `set_work`."""
        pieces = {what: self._free(what, *told) for what, told in works.items()}
        for one in self._filing(degree, filing):
            pieces[one.what] = one
        off = sum(one.steel_mm or 0.0 for one in pieces.values())
        if setting:
            needed = set_work(self.saw, self.seen, self.has, degree, off, pieces, untold=untold)
            for what, told in needed.items():
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
            again = " ".join(f"{capital(AGAIN_WORDS[one.look])}, {one.seen}: {one.why}." for one in self.doubted)
            return piece(What.NOTHING, f"Look again before anything is done. {again}", "derived; judgment")
        why = filing.reason
        if has.due(0.0) and has.now_mm is not None:
            # Little set is no fault by itself: nobody bends a line of teeth before a cut tells.
            now, least = fine(has.now_mm, saw.unit), fine(has.least_mm, saw.unit)
            why += f" The set is {now} a side, under the least of {least}: whether that is enough a cut tells."
        return piece(What.NOTHING, why, filing.source)

    def _free(self, what: What, reason: str, source: str) -> Piece:
        if what is What.SET:
            return piece(what, reason + self._stumps(), source, places=self.saw.points)
        return piece(what, reason, source)

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
            why = "File every tooth to one size, square across, until its flat is gone." + self._stumps()
            rest = filing_mm(saw, flats_mm, bite)
            found.append(piece(What.RESHAPE, why, "GOR p. 150; FIT", steel_mm=rest, places=gullets))
            flats_mm = passes_mm(LIGHT_PASSES)
            why = "Reshaping leaves the points uneven: one light pass makes them agree."
            found.append(piece(What.LEVEL_AGAIN, why, "GOR p. 150", steel_mm=flats_mm, places=LIGHT_PASSES))
        few = len(filing.few) or gullets
        why = "File until each flat just goes." + (" A sharp tooth without a flat is left alone." if filing.few else "")
        why += self._stumps()
        rest = filing_mm(saw, flats_mm, bite)
        found.append(piece(What.FILE, why, "HOLTZ; GOR; KING 64", steel_mm=rest, places=min(few, gullets)))
        return found

    def _stumps(self) -> str:
        """What filing has to leave alone, as a sentence to follow another."""
        return f" Leave {teeth(self.seen.broken)} alone: broken (DREW)." if self.seen.broken else ""


#: Work that evens a set.
_ON_THE_SET: Final = frozenset({What.SET, What.STONE_BOTH})

#: The same one or two strokes everywhere.
_TOUCH: Final = "The same one or two light strokes in every gullet, no leveling."

#: The faults of a cut that dull points alone do not explain, as a sentence tells them.
_DID: Final[Mapping[Cutting, str]] = {
    Cutting.WANDERS: "It wandered",
    Cutting.BINDS: "It bound",
    Cutting.ROUGH: "It cut rough",
    Cutting.JUMPS: "It jumped",
    Cutting.HARD_TO_START: "It was hard to start",
}


def _at_odds(cause: SuspectedCause, works: Collection[What]) -> bool:
    """Whether the remedy of ``cause`` undoes one of ``works``: set against the stone."""
    widens, narrows = What.SET in cause.works, not STONES.isdisjoint(cause.works)
    return (widens and not narrows and not STONES.isdisjoint(works)) or (narrows and not widens and What.SET in works)


def _sources(suspected: Iterable[SuspectedCause]) -> str:
    """Who says so, of several causes together, each once."""
    return "; ".join(dict.fromkeys(part for one in suspected for part in one.source.split("; ")))


def _whats(work: Iterable[Piece]) -> tuple[What, ...]:
    return tuple(one.what for one in work)
