"""What is known at one moment before any words: the state, with the numbers that words and pictures are made of."""

from __future__ import annotations

from collections.abc import Container, Mapping
from functools import cached_property
from typing import Final

from session.advice.flats_offer import FlatsOffer, filed_at, flats_offer
from session.advice.flats_verdict import GO_ON, FlatsAsk, FlatsVerdict, in_hand
from session.advice.gullet_advice import NO_RECORDS, Expected, expected
from session.advice.look_over import Counsel, advice, judged, side_to_stone
from session.advice.own_files import OwnFile, own_files
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.scan_in_use import ScanInUse, scan_in_use
from session.advice.stops import Advised
from session.advice.untouched_plan import own_plan, waits_for_yes
from session.sentences.offers import Circumstances, Offer, offers
from session.sentences.whereabouts import stood
from session.texts.guidance import Level
from session.texts.steps import step as step_of
from session.trade.evening import EveningPlan
from session.trade.saw import Saw
from session.trade.sides import teeth_leaning_away
from session.value_class import dataclass
from session.walk.added_work import fault_of_cut, told_here
from session.walk.flagged_places import flags_asked, worked_before
from session.walk.front_question import Ask, Front
from session.walk.graded_flats import last_grade, leaning, rest_of_flats, usable_flats, usable_readings
from session.walk.known_bites import KnownBites
from session.walk.line_states import LineStanding, line_standing, worked_teeth
from session.walk.mark import Did, Mark
from session.walk.measurables import ANOTHER_PASS
from session.walk.pace import idle_limit_s
from session.walk.place import Place, looks_at_flats
from session.walk.rules import allowed
from session.walk.scanned_marks import flats_told
from session.walk.silence import after_silence
from session.walk.stages import PLAN_STEP, Kind, Stage
from session.walk.state import State

#: What the key says that goes on past flats which ask for nothing more.
GOES_ON: Final = "go on"


@dataclass(frozen=True)
class MomentNumbers:
    """The numbers of one moment. What is cached is worked out once, when it is first read; most moments need little.

    saw: as it stands now, with the points counted on it. level: how much is said beside the instruction.
    known: the bites that the records taught, from which strokes are told until this walk has taught its own.
    records: what the records add to what is seen at the look over.
    next_time: what the closed record says to the next sharpening. idle_s: the least silence, in seconds, after which
    the place is found again. account: what the closed record says of this sharpening itself. pressed: the strokes that
    a press after a long silence counted here, which waits to hear whether they were made; 0 for none.
    """

    state: State
    saw: Saw
    level: Level = Level.TAUGHT
    known: KnownBites = NO_RECORDS
    next_time: tuple[str, ...] = ()
    idle_s: float = 60.0
    records: SawRecords = NO_HISTORY
    account: tuple[str, ...] = ()
    pressed: int = 0

    @property
    def front(self) -> Front:
        """What is asked."""
        return self.state.front

    @property
    def place(self) -> Place | None:
        """The place in hand."""
        return self.state.place

    @cached_property
    def allowed(self) -> frozenset[Did]:
        """The acts that may be made."""
        return allowed(self.state)

    @cached_property
    def offers(self) -> tuple[Offer, ...]:
        """What is offered, most wanted first."""
        settling = self.place is not None and self.place.step == PLAN_STEP
        at_a_flat = self.place is not None and self.place.stage is Stage.LEVEL and self.place.tooth > 0
        against = settling and bool(self.against or side_to_stone(self.judged.work, self.state))
        return offers(
            Circumstances(
                now=self.front,
                may=self.allowed,
                unproved=bool(fault_of_cut(self.state)),
                against=against,
                own_plan=settling and own_plan(self.state),
                waits=settling and waits_for_yes(self.state, self.judged, self.against),
                # Looked for back along the marks, which may be many.
                graded=last_grade(self.state) if at_a_flat else None,
                rest=at_a_flat and rest_of_flats(self.state),
                anew=looks_at_flats(self.place) and bool(flats_told(self.state)),
                by_flats=self.by_flats,
                strokes=self.advised,
                two_faces=self.expected.back,
                gone_back=self.worked_before is not None,
                stood=stood(self.state) if self.front.ask is Ask.SHIFT else "",
                unanswered=self.unanswered,
                silent=after_silence(self.state),
                flagged=bool(self.state.flags) and bool(flags_asked(self.state)),
            )
        )

    @cached_property
    def verdict(self) -> FlatsVerdict | None:
        """What the flats that are looked at ask for by what was told of them; None elsewhere, and before that."""
        return in_hand(self.state, self.saw) if self.front.ask is Ask.WORK else None

    @property
    def by_flats(self) -> str:
        """What going on does by that verdict, in a word or two; empty where there is none."""
        if self.verdict is None:
            return ""
        if self.verdict.asks is FlatsAsk.MORE:
            return ANOTHER_PASS
        reshapes = self.verdict.asks is FlatsAsk.RESHAPE and Stage.RESHAPE in self.state.taken_in
        return GO_ON if reshapes else GOES_ON

    @cached_property
    def unanswered(self) -> bool:
        """Whether a step is in hand whose question was not answered: unknown, and not "fine"."""
        place = self.place
        if self.front.ask is not Ask.WORK or place is None or place.kind is not Kind.STEP or self.verdict is not None:
            return False
        asks = step_of(place.stage, place.step).asks
        return asks is not None and told_here(self.state, place, asks.what) is None

    @cached_property
    def flats(self) -> Mapping[int, float]:
        """The graded flats as they are for the stage in hand, as shares of the pitch, by tooth."""
        place = self.place
        return usable_flats(self.state, place.stage, place.round) if place is not None else {}

    @cached_property
    def scan_in_use(self) -> ScanInUse | None:
        """Which scan of the saw tells its looks, and why the newest does not where it is another; None without one."""
        scanned = self.records.scanned
        if scanned is None:
            return None
        return scan_in_use(scanned, self.saw, self.state.plan.points, filed_at(self.state))

    @cached_property
    def flats_offer(self) -> FlatsOffer | None:
        """What the newest scan offers at the look at the flats; None elsewhere and where there is none."""
        return flats_offer(self.state, self.saw, self.records.scanned)

    @cached_property
    def leaning(self) -> EveningPlan | None:
        """What to take and where to lean by those flats, and by where they lie as far as that was told; None without
        grades, or for a line that allows none."""
        place = self.place
        readings = usable_readings(self.state, place.stage, place.round) if place is not None and self.flats else {}
        return leaning(self.state, self.saw, self.flats, readings)

    @cached_property
    def expected(self) -> Expected:
        """What to expect in the gullet in hand."""
        return expected(self.state, self.saw, self.flats, self.leaning, self.known)

    @cached_property
    def worked_before(self) -> Mark | None:
        """How the place in hand was worked before it was gone back to; None where it was not."""
        return worked_before(self.state) if self.front.ask is Ask.WORK else None

    @property
    def advised(self) -> int | None:
        """The strokes advised in the gullet in hand; None where no count is, as in one that is only looked at again."""
        return self.expected.strokes if self.worked_before is None else None

    @cached_property
    def files(self) -> tuple[OwnFile, ...]:
        """The files of the drawer for this saw, the best first."""
        return own_files(self.records.owned, self.saw, self.records.corner_teeth)

    @cached_property
    def judged(self) -> Advised:
        """What the saw needs by the looks taken so far."""
        return judged(self.state, self.saw, self.records)

    @cached_property
    def advice(self) -> tuple[Counsel, ...]:
        """The advice on each stage that can be left out."""
        return advice(self.state, self.saw, self.records)

    @cached_property
    def against(self) -> tuple[Counsel, ...]:
        """The advice of the look over that the plan as it stands does not follow."""
        return tuple(one for one in self.advice if one.take_in != (one.stage in self.state.taken_in))

    @cached_property
    def away(self) -> frozenset[int]:
        """The teeth that lean away from the person, on the side that is up or that the saw is being turned to."""
        return frozenset(teeth_leaning_away(self.front.side or self.state.side, self.saw.points, self.state.plan.leans))

    @cached_property
    def line(self) -> LineStanding:
        """How each tooth of the line stands."""
        return line_standing(self.state)

    @cached_property
    def worked(self) -> Container[int]:
        """The teeth or gullets done in the stage in hand."""
        return worked_teeth(self.state, self.place.stage) if self.place is not None else ()

    @cached_property
    def silence_limit_s(self) -> float:
        """Seconds without a key after which the place is found again."""
        return idle_limit_s(self.state.intervals, floor=self.idle_s)
