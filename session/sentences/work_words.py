"""The words at work: the stroke or the pass in hand, a flat to grade, a step to answer, the plan to settle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from session.advice.flats_verdict import FlatsAsk, flats_choices, in_hand, reshape_cost
from session.advice.look_over import named as named_work
from session.advice.look_over import neighbors
from session.advice.look_over import told as told_work
from session.advice.look_words import LOOK_WORDS
from session.advice.plausibility import expected
from session.advice.printed_choices import choices as in_print
from session.advice.work import passes_mm
from session.advice.zone_figures import zoned
from session.sentences.flat_shares import shares_to_stop_at
from session.sentences.instruction import ROOM, GulletWork, Shines, bend_words, gullet_words, pass_words
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.own_words import file_choices, own_words
from session.sentences.set_trial import trial_words
from session.texts.guidance import Level, beside
from session.texts.guidance import words as stage_words
from session.texts.steps import AskKind, Asks, Step
from session.texts.steps import step as step_of
from session.trade.evening import Lean
from session.trade.grades import WORDS, width_mm
from session.trade.lengths import MM_PER, in_unit
from session.trade.observation import Look
from session.trade.rounding import whole_number
from session.trade.saw import End, Saw
from session.walk.flagged_places import flags_asked
from session.walk.graded_flats import broken_teeth
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import LEFT_OUT_STEP, PLAN_STEP, Kind, Stage, facts_of
from session.walk.state import State


@dataclass(frozen=True, slots=True)
class Asked:
    """A title, the sentences under it, the one instruction, what may be picked by digit, and who says so.

    angles: the part of the title that stands alone where a row has no room for the whole of it; empty for none.
    """

    title: str
    lines: tuple[str, ...]
    instruction: str
    signal: str = ""
    choices: tuple[str, ...] = ()
    source: str = ""
    angles: str = ""


#: How what goes of each flat begins where it is not in the instruction.
HERE: Final = "Here:"

#: What stands over a flat that is told against the strip.
ON_STRIP: Final = "Place on the strip"


def work_words(at: MomentNumbers, place: Place) -> Asked:
    """The words for ``place``, in hand."""
    state, saw, level = at.state, at.saw, at.level
    if place.kind is Kind.STEP:
        return _step(at, place)
    if place.on_strip:
        return _on_strip(place, level)
    if place.stage is Stage.LEVEL and place.tooth:
        return _grade(saw.at(place.tooth), broken_teeth(state))
    said = stage_words(place.stage)
    last_side = place.side == max(state.route.sides(place.stage), default=0)
    told = at.expected
    estimate = (told.estimate,) if told.estimate and level is Level.TAUGHT else ()
    zone = zoned(state, saw, place)
    only = _only(at, place)
    angles = _angles(saw, place)
    shares = _shares(at, place, last_side=last_side)
    # Where the zone has the instruction, what goes of each flat stands first beside the picture.
    here = (f"{HERE} {shares[0]}.",) if shares and zone.instruction else trial_words(state, saw, place)
    return Asked(
        title=f"{said.title}: {angles}" if angles else said.title,
        angles=angles,
        lines=(*here, *zone.lines, *told.notes, *estimate, *beside(place.stage, level)),
        source=said.source,
        instruction=(zone.instruction if only is None else "") or _instruction(at, place),
    )


def _instruction(at: MomentNumbers, place: Place) -> str:
    """What to do with a tooth, in a pass or in a gullet."""
    if place.kind is Kind.TOOTH:
        return bend_words(at.saw)
    if place.kind is Kind.PASS:
        leg, _ = at.state.route.leg_at(at.state.here)
        return pass_words(place.stage, place.number, len(leg.places), at.saw)
    return gullet_words(place.stage, gullet_work(at, place), at.saw)


def gullet_work(at: MomentNumbers, place: Place) -> GulletWork:
    """What the gullet ``place``, in hand, is to be given."""
    last_side = place.side == max(p.side for p in at.state.route.places if p.stage is place.stage)
    half, whole = _stop(at, place, last_side=last_side)
    told = at.expected
    return GulletWork(
        strokes=told.strokes,
        lean=told.lean or Lean.STRAIGHT,
        half=half,
        flat_of=whole,
        shares=_shares(at, place, last_side=last_side),
        off=told.off,
        only=_only(at, place),
        low=told.low,
    )


def _angles(saw: Saw, place: Place) -> str:
    """Rake and fleam as the guide holds the file here, to be read at every gullet; reshaping is square across.

    Of a tooth that is bent, how far its point goes.
    """
    if place.kind is Kind.TOOTH and place.stage is Stage.SET and saw.set_per_side is not None:
        return f"{saw.set_per_side} a side"
    if place.kind is not Kind.GULLET:
        return ""
    here = saw.at(place.tooth)
    # As short as can be: at 80 columns a way of the file has to stand beside it, in ASCII too.
    return f"rake {here.rake:g}°" if place.stage is Stage.RESHAPE else f"rake {here.rake:g} fleam {here.fleam:g}°"


def _only(at: MomentNumbers, place: Place) -> Shines | None:
    """What has to shine in a gullet; None where a leveling pass has left flats to file, and where flats were graded.

    A tooth that the last filing left sharp is not filed for a flat that nobody saw, and in a touch up there is none.
    """
    if place.stage is not Stage.FILE or at.flats:
        return None
    if place.round == 1:
        leveled = any(leveling.passes for leveling in at.state.tally.rounds.values())
        return None if leveled or Stage.RESHAPE in at.state.taken_in else Shines.ALL_ALIKE
    return Shines.FLAT if place.round in at.state.route.flats else Shines.POINT


def _stop(at: MomentNumbers, place: Place, *, last_side: bool) -> tuple[bool, int | None]:
    """Whether only half of the flat goes in this gullet, and the tooth whose flat just goes, if one has to be named.

    A flat goes with the second of the two gullets beside it. Where all are filed from one side that is the flat which
    the gullet before has halved.
    """
    plan = at.state.plan
    if place.kind is not Kind.GULLET or (place.stage is Stage.FILE and plan.sides == 2):
        return place.kind is Kind.GULLET and not last_side, None
    goes = place.tooth if plan.start is End.HEEL else place.tooth + 1
    flatless = at.state.stumps if at.leaning is None else {*at.leaning.low, *at.state.stumps}
    known = 1 < goes <= plan.points and goes not in flatless
    return (False, goes) if known else (True, None)


def _shares(at: MomentNumbers, place: Place, *, last_side: bool) -> tuple[str, ...]:
    """What goes of each flat in this gullet, longest words first, where it was told where the flats lie; else empty."""
    plan, told = at.state.plan, at.leaning
    if told is None or not told.placed or place.kind is not Kind.GULLET:
        return ()
    # A flat goes with the second of the two gullets beside it; from one side the back of tooth 1 follows its front.
    if place.stage is Stage.FILE and plan.sides == 2:
        goes = {place.tooth, place.tooth + 1} if last_side else set()
    else:
        goes = {place.tooth if plan.start is End.HEEL else place.tooth + 1} - {1}
    return shares_to_stop_at(told, place.tooth, goes)


def _on_strip(place: Place, level: Level) -> Asked:
    """Where the flat just graded lies: one more glance and one more key."""
    exact = "Printed by “toothline templates”; an eye tells a place to about 1/8 of the flat."
    return Asked(
        title=ON_STRIP,
        lines=(
            "5: its middle lies on the mark.",
            "4, 3, 2, 1: to the toe by 1/4, 1/2, 3/4, all of its width or more.",
            "6, 7, 8, 9: to the heel, as far.",
            "0: the strip is laid aside, grades alone from here on.",
            "Handle on your right for this, as the strip is printed: the toe is on your left.",
            *((exact,) if level is Level.TAUGHT else ()),
        ),
        instruction=f"Flat {place.tooth} on the strip: 5 on its mark, 1-4 toe, 6-9 heel; 0: strip aside.",
    )


def _grade(saw: Saw, broken: tuple[int, ...]) -> Asked:
    """Grading the flats: one glance and one key a tooth. What is known to be broken is not asked for again."""
    meant = [
        f"{grade} {word} {_seen(width_mm(grade, saw.pitch_mm), _fine(saw))}" if grade else f"0 {word}"
        for grade, word in enumerate(WORDS)
    ]
    return Asked(
        title="Grade the flats",
        # Two grades a line, so that no width stands apart from its word.
        lines=(
            f"{meant[0]}, {meant[1]},",
            f"{meant[2]}, {meant[3]},",
            f"{meant[4]}, {meant[5]}.",
            f"Broken, passed over: {_some(broken)}." if broken else "Leave broken teeth out.",
        ),
        instruction="Grade this tooth's flat, 0 to 5, as it shows in the light.",
    )


def _seen(mm: float, unit: str) -> str:
    """A width as the eye tells it: to a whole thousandth of an inch, or a hundredth of a millimeter."""
    return f"{whole_number(mm / MM_PER[unit])} {unit}" if unit == "thou" else in_unit(mm, unit)


def _fine(saw: Saw) -> str:
    return "thou" if saw.unit in ("in", "thou") else "mm"


def _step(at: MomentNumbers, place: Place) -> Asked:
    state, level = at.state, at.level
    told = step_of(place.stage, place.step)
    lines: tuple[str, ...] = ()
    if level is Level.TAUGHT:
        lines = (told.how, told.why, told.stop)
    elif level is Level.BRIEF:
        lines = (told.how,)
    choices: tuple[str, ...] = ()
    if place.stage is Stage.LEVEL:
        lines, choices = (*_verdict(at), *lines), flats_choices(state)
    if place.stage is Stage.CLOSE and place.step == LEFT_OUT_STEP:
        fault = state.fault_of_cut
        unproved = (f"The last cut was not good ({fault}): “more” names causes and remedies.",) if fault else ()
        lines = (*unproved, *left_out(state), *lines)
        choices = flag_choices(state)
    if place.stage is Stage.LOOK_OVER and place.step == PLAN_STEP:
        return _settle(at, told)
    if told.asks is not None and told.asks.kind in (AskKind.CHOICE, AskKind.CUT, AskKind.NAME):
        choices = told.asks.choices
    if place.stage is Stage.LOOK_OVER and told.asks is not None and (foretold := _foretold(at, told.asks)):
        lines = (f"Expected: {foretold}.", *lines)
    if told.asks is not None and told.asks.kind is AskKind.FILE and at.files:
        lines, choices = (*own_words(at.files), *lines), file_choices(at.files)
    measured = state.measured.get(told.asks.what) if told.asks else None
    # What was told of flats is answered by its own words.
    if measured is not None and measured.what != Measurable.FLATS:
        corner = state.measured.get(Measurable.FILE_CORNER) if measured.what == Measurable.FILE else None
        with_corner = f", {corner.entered or corner.value}" if corner is not None else ""
        lines = (f"Answered: {measured.entered or measured.value}{with_corner}.", *lines)
    return Asked(told.title, lines, told.do, choices=choices, source=told.source)


#: The look that each measured thing of the look over answers, where the recipe foretells it.
_LOOK_OF: Final = {
    Measurable.OVER_POINTS: Look.OVER_POINTS,
    Measurable.POINTS: Look.IN_LINE,
    Measurable.FIRST_LEANS: Look.FIRST_LEANS,
    Measurable.BROKEN_TEETH: Look.BROKEN,
}


def _foretold(at: MomentNumbers, asks: Asks) -> str:
    """What the recipe and the records expect as an answer; empty when they foretell nothing."""
    look = _LOOK_OF.get(asks.what)
    return "" if look is None else expected(at.saw, at.records).get(look, "")


#: So many teeth are named in one line of words.
_NAMED: Final = 8


def _some(numbers: tuple[int, ...]) -> str:
    """The first of ``numbers``, and how many more there are."""
    more = len(numbers) - _NAMED
    return ", ".join(map(str, numbers[:_NAMED])) + (f" and {more} more" if more > 0 else "")


def _verdict(at: MomentNumbers) -> tuple[str, ...]:
    """What the flats as told or graded ask for; of reshaping that comes in, also what it costs."""
    state, saw = at.state, at.saw
    told = in_hand(state, saw)
    if told is None:
        return ()
    if told.asks is not FlatsAsk.RESHAPE:
        low = tuple(tooth for tooth in sorted(at.flats) if at.flats[tooth] == 0 and tooth not in state.broken)
        return (f"{told.why} {told.asks}{f' Low: {_some(low)}.' if low else ''}", *_told_on_strip(at))
    why = f"{told.why} ({told.source.replace(';', ',')})"
    if Stage.RESHAPE not in state.taken_in:
        return (f"{why} Left out today.",)
    leveled = state.tally.rounds[1].passes if 1 in state.tally.rounds else 0
    return (why, f"{told.asks[:-1]}: {reshape_cost(saw, passes_mm(leveled), at.records.bite)}.")


def _told_on_strip(at: MomentNumbers) -> tuple[str, ...]:
    """What is gained by the flats that were told against the strip, as exact as an eye is; empty where none were."""
    plan, saw = at.leaning, at.saw
    if plan is None or plan.worst_before_mm is None or plan.worst_after_mm is None:
        return ()
    before, after = (_seen(mm, _fine(saw)) for mm in (plan.worst_before_mm, plan.worst_after_mm))
    return (f"Worst spacing error by the strip: {before} with every flat halved, {after} by shares.",)


def _settle(at: MomentNumbers, told: Step) -> Asked:
    """The plan with the advice on it: what is advised and why, less and more beside it, then each stage in or out.

    A learner also hears where printed practice is otherwise than the recipe.
    """
    state, saw, advised = at.state, at.saw, at.judged
    unit = saw.unit
    lines = [f"{'Stop' if advised.stop else 'Advised'}: {named_work(advised.work)}."]
    lines += [f"Look again: {LOOK_WORDS[one.look]}. {one.seen}: {one.why}." for one in advised.doubts]
    asked = [look for look in advised.looks if look not in [one.look for one in advised.doubts]]
    lines += [f"Not looked at, and it would decide: {LOOK_WORDS[look]}." for look in asked]
    lines += [told_work(one, unit) for one in advised.work]
    lines += advised.notes
    lines += [f"{name}: {named_work(work)}." for name, work in (("Less", advised.less), ("More", advised.more)) if work]
    lines += [f"{one.stage} {'in' if one.take_in else 'out'}: {one.why}" for one in at.advice if not one.take_in]
    if Stage.FILE not in state.taken_in and state.taken_in & {Stage.LEVEL, Stage.RESHAPE}:
        lines.insert(0, "As it stands, what is leveled or reshaped is not filed: it leaves flat or blunt points.")
    stages = [stage for stage in state.plan.order if facts_of(stage).optional]
    choices = [f"{stage}: {'in' if stage in state.taken_in else 'out'}" for stage in stages]
    choices += [f"{name}: {named_work(work)}" for name, work in neighbors(advised)]
    if at.level is Level.TAUGHT:
        lines += [line for one in in_print(saw) for line in one.told]
    work = named_work(advised.work)
    words = (
        f"Answer yes to take {work}, as advised, or change it."
        if at.against
        else f"As advised: {work}. Go on, or change it."
    )
    doing = words if len(words) <= ROOM else told.do
    return Asked(told.title, tuple(lines), doing, choices=tuple(choices), source=told.source)


def left_out(state: State) -> tuple[str, ...]:
    """The places left out, one a line, each with its reason; or that there are none."""
    left = [(place, mark.reason) for place, mark in state.left_out()]
    left += [(place, why) for place, why in state.left_by_itself()]
    if not left:
        return ("No place was left out.",)
    left.sort(key=lambda one: state.route.index[one[0]])
    return (f"Left out: {len(left)}", *(f"  {_brief(place)} – {why}" for place, why in left))


def flag_choices(state: State) -> tuple[str, ...]:
    """The flagged places that are asked about now, as choices: one key goes back to one of them."""
    return tuple(f"look again: {_brief(place)}" for place in flags_asked(state))


def _brief(place: Place) -> str:
    side = f", side {place.side}" if place.side else ""
    return f"{place.stage}{side}: {place}"
