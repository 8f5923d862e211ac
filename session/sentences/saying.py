"""All that the program says at one moment: for the bench, the line-by-line mode and the simulated filer alike."""

from __future__ import annotations

from typing import Final

from session.sentences import front_words, whereabouts
from session.sentences.flats_look_words import next_by_flats
from session.sentences.mark_words import brief
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.offers import Offer
from session.sentences.plan_words import next_by_plan
from session.texts.cautions import caution
from session.trade.rounding import whole_number
from session.trade.strokes import time_left
from session.value_class import dataclass
from session.walk.front_question import Ask, Front
from session.walk.pace import seconds_in
from session.walk.place import Place
from session.walk.places_left import left_to_do
from session.walk.stages import FACTS, MEASURE_STEP, Kind, SawHold, Stage, facts_of
from session.walk.state import State

#: Marks looked back over for the pace; older ones tell of a fresher hand.
MARKS_FOR_PACE: Final = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """One moment's words. Plain text throughout; names and reasons are the user's own and may hold anything.

    saw: the saw in one line. stage, side, sides: the stage in hand and the side on which the saw stands; side 0 where
    none matters. comes: the side that the saw is to be turned to, while it stands on the other yet; else 0.
    handle: "right" or "left", where the handle is now.
    numeral: the tooth, pass or step in hand. counted: whether it is one to read from the vise, a tooth, a gullet or a
    pass; a step has its name, and its words the room. of: "gullet of 155 points", "pass of 2". between: the teeth
    beside a gullet, as its number is that of a tooth too; else empty. where: its distance from the heel.
    title, lines: what is asked, and the words beside it, of which the ``first`` so many are needed at every glance;
    angles: the part of the title for a row that has no room for all of it, else empty; signal: the signal word of a
    caution, else empty. instruction: one sentence to act on. source: who says so, in short names, empty where there is
    nothing to cite.
    previous, now, next, ahead: the places around. done, out, total: the places done, those left out, and all, of this
    stage and side.
    left: time left in this stage at this walk's own pace, with its spread; empty until it is known.
    in_effect: the cautions that still apply, in a few words each. choices: answers picked by digit.
    """

    ask: Ask
    saw: str
    stage: Stage | None
    side: int
    sides: int
    comes: int
    handle: str
    numeral: str
    counted: bool
    of: str
    between: str
    where: str
    title: str
    angles: str
    signal: str
    lines: tuple[str, ...]
    first: int
    instruction: str
    source: str
    previous: str
    now: str
    next: str
    ahead: str
    left: str
    done: int
    out: int
    total: int
    in_effect: tuple[str, ...]
    offers: tuple[Offer, ...]
    choices: tuple[str, ...] = ()

    @property
    def share(self) -> str:
        """ "7 of 32 done", and how many of them were left out; empty where there is nothing to count.

        How many passes a line takes is known only once its flats are looked at.
        """
        out = f", {self.out} out" if self.out else ""
        more = " or more" if self.stage is Stage.LEVEL and self.counted and self.of.startswith(str(Kind.PASS)) else ""
        return f"{self.done} of {self.total}{more} done{out}" if self.total else ""

    @property
    def side_words(self) -> str:
        """ "side 1 of 2", "now side 1 of 2, then side 2": empty where no side matters."""
        of = f" of {self.sides}" if self.sides else ""
        if self.comes:
            # On the way back from side 2 it is none of a stage that is worked from side 1 alone.
            return f"now side {3 - self.comes}{of}, then side {self.comes}"
        return f"side {self.side}{of}" if self.side and self.sides else ""


def say(at: MomentNumbers) -> Saying:
    """What is said there."""
    state, saw, now, place = at.state, at.saw, at.front, at.place
    about = _shown(state, now)
    words = front_words.words(at)
    done, out, total = whereabouts.progress(state, about)
    sides = _sides(state, about)
    # While the saw is being turned, the sign follows the saw and not the plan.
    standing_side = state.stand.seen_side
    # Cautions come before the turn that a stage begins with: its side is not yet in hand.
    turns = now.ask is Ask.CAUTION and about is not None and about.side != state.side
    of_a_side = about is not None and bool(about.side) and not turns
    comes = now.side if now.ask is Ask.TURN and standing_side != now.side else 0
    here = brief(place) if place else "the end"
    return Saying(
        ask=now.ask,
        saw=f"{saw.name} · {saw.cut} · {saw.count_as}{' at the heel' if saw.zones else ''}",
        stage=about.stage if about else None,
        side=standing_side if of_a_side or _measured_as_it_stands(about) else 0,
        # On the way back from side 2, a stage worked from side 1 alone has no "side 2 of 1".
        sides=sides if standing_side <= sides else 0,
        comes=comes,
        handle="right" if standing_side == 1 else "left",
        numeral=whereabouts.numeral(state),
        counted=place is not None and place.kind is not Kind.STEP and now.ask is not Ask.CAUTION,
        of=_of(state, now),
        between=whereabouts.between(state.plan, place),
        where=whereabouts.on_rule(place, saw) if place and place.tooth else "",
        title=words.title,
        angles=words.angles,
        signal=words.signal,
        lines=words.lines,
        first=words.first,
        instruction=words.instruction,
        source=words.source,
        previous=whereabouts.previous(state),
        # Until the saw is round, its turn is in hand, and the place comes after it.
        now=f"turn to side {comes}" if comes else here,
        next=here if comes else next_by_plan(at) or next_by_flats(at) or whereabouts.next_words(state),
        ahead=whereabouts.ahead(state),
        left=_left(state),
        done=done,
        out=out,
        total=total,
        in_effect=_in_effect(state, now, about),
        offers=at.offers,
        choices=words.choices,
    )


def _shown(state: State, now: Front) -> Place | None:
    """The place that header and cautions are about: the one in hand, but at the check that ends a leg, when the next
    one belongs to other work, the one just worked."""
    place = state.place
    if now.ask is not Ask.CHECK or now.place is None:
        return place
    if place is not None and (place.stage, place.side, place.kind) == (now.place.stage, now.place.side, now.place.kind):
        return place
    return now.place


def _of(state: State, now: Front) -> str:
    place = state.place
    if place is None:
        return "left out"
    # A check asks about the place before, and a turn comes before it, so that the large number must not read as the one
    # to look for.
    turning = now.ask is Ask.TURN and state.stand.seen_side != now.side
    which = "next " if now.ask is Ask.CHECK or turning else ""
    if place.kind is Kind.GULLET:
        # Between so many points there is one gullet less; the last lies in front of the last tooth, open.
        return f"{which}gullet of {state.plan.points} points"
    if place.kind is Kind.TOOTH:
        return f"{which}tooth of {state.plan.points}"
    leg, _ = state.route.leg_at(state.here)
    return f"{which}{place.kind} of {len(leg.places)}" if len(leg.places) > 1 else f"{which}{place.kind}"


def _measured_as_it_stands(place: Place | None) -> bool:
    """Whether the set is measured while the saw stays in the vise: with the side up that was worked last."""
    return place is not None and place.step == MEASURE_STEP and facts_of(place.stage).hold is not SawHold.FLAT


def _sides(state: State, place: Place | None) -> int:
    if place is None or not place.side:
        return 0
    return len(state.route.sides(place.stage, place.round))


def _left(state: State) -> str:
    """How long the rest of this stage will take, learned from its last places; not a promise, so with its spread."""
    place = state.place
    if place is None or place.kind is Kind.STEP:
        return ""
    since = state.marks[-MARKS_FOR_PACE].seq if len(state.marks) > MARKS_FOR_PACE else 1
    left = time_left(seconds_in(place.stage, state.intervals, since), left_to_do(state, place.stage))
    if left is None:
        return ""
    low, likely, high = (max(1, whole_number(seconds / 60)) for seconds in (left.low_s, left.likely_s, left.high_s))
    # Of what: all of the stage, and neither this side alone nor the whole sharpening.
    told = f"about {likely}" if low == high else f"{low}–{high}"
    return f"all of {place.stage}: {told} min left"


def _in_effect(state: State, now: Front, place: Place | None) -> tuple[str, ...]:
    """The acknowledged cautions of the stage in hand (bench rule 3)."""
    if place is None or now.ask is Ask.FINISHED:
        return ()
    names = FACTS[place.stage].cautions
    return tuple(caution(name).in_effect for name in names if name in state.acknowledged)
