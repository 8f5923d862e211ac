"""The words at work: the stroke, the bend or the pass in hand; steps, flats and the plan have modules of their own."""

from __future__ import annotations

from typing import Final

from session.advice.zone_figures import zoned
from session.sentences.asked_words import Asked
from session.sentences.flat_shares import shares_to_stop_at
from session.sentences.flat_words import grade_words, strip_words
from session.sentences.instruction import GulletWork, Shines, again_words, bend_words, gullet_words, pass_words
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.set_trial import trial_words
from session.sentences.step_words import step_words
from session.sentences.tool_words import tool_words
from session.texts.guidance import Level, beside
from session.texts.guidance import words as stage_words
from session.texts.wording import capital, times
from session.trade.evening import Lean
from session.trade.grades import SHARES
from session.trade.saw import End, Saw
from session.value_class import replace
from session.walk.added_stages import FIRST_LATER
from session.walk.front_question import Ask
from session.walk.graded_flats import broken_teeth
from session.walk.place import Place
from session.walk.scan_told import told_of_flat
from session.walk.stages import Kind, Stage
from session.walk.tally import NO_STROKE, flat_of

#: How what goes of each flat begins where it is not in the instruction.
HERE: Final = "Here:"


def work_words(at: MomentNumbers, place: Place) -> Asked:
    """The words for ``place``, in hand."""
    state, saw, level = at.state, at.saw, at.level
    if place.kind is Kind.STEP:
        return step_words(at, place)
    if place.on_strip:
        return strip_words(place, level)
    if place.stage is Stage.LEVEL and place.tooth:
        scan, mark = state.route.leg_at(state.here)[0].scan, told_of_flat(state)
        measured = None if mark is None else flat_of(mark)
        return grade_words(saw.at(place.tooth), broken_teeth(state), unseen=scan, measured=measured)
    said = stage_words(place.stage)
    last_side = place.side == max(state.route.sides(place.stage), default=0)
    told = at.expected
    first_time = at.worked_before is None
    estimate = (told.estimate,) if told.estimate and level is Level.TAUGHT and first_time else ()
    zone = zoned(state, saw, place)
    if no_stroke(at, place):
        # Where nothing is filed that is all that is said, and what the key that goes on records.
        lines = (*told.spared, "Going on marks it: no stroke was given.")
        return Asked(said.title, lines, _instruction(at, place), first=len(lines), source=said.source)
    only = _only(at, place)
    told_angles = angles(saw, place)
    shares = _shares(at, place, last_side=last_side)
    again = again_words(place.stage) if place.kind is not Kind.PASS and at.worked_before is not None else ""
    # Where the zone has the instruction, what goes of each flat stands first beside the picture.
    # Of a trial of the set the width does, and what follows from it comes after how the saw set is held.
    here, then = ((f"{HERE} {shares[0]}.",), ()) if shares and zone.instruction else _trial(at, place)
    tool = tool_words(state, saw, place, level, at.files)
    why = _why_so(at, place) if first_time else ()
    one_done, alone = _one_done(at, place), _one_stop(at, place)
    to_flats = only is not Shines.ALL_ALIKE and not one_done and not alone
    # A tooth beside the gullet that is not to be touched is told before the file that would touch it.
    first = (*_had(at), *told.spared, *here, *tool.first[:1], *then, *tool.first[1:], *zone.lines, *told.notes)
    # Of two flats one is done before the other: what then is to be done has to be read before it is.
    ahead = one_done or (why[:1] if alone and not told.spared else ())
    first = (*first, *ahead)
    return Asked(
        title=f"{said.title}: {told_angles}"
        if told_angles
        else _again(place) or f"{said.title}{_which_first(at, place)}",
        angles=told_angles,
        lines=(
            *first,
            *(line for line in why if line not in ahead),
            *estimate,
            *_rules(at, place),
            *tool.more,
            *beside(place.stage, level, to_flats=to_flats),
        ),
        first=len(first),
        source=said.source,
        instruction=again or (zone.instruction if only is None else "") or _instruction(at, place),
    )


def _had(at: MomentNumbers) -> tuple[str, ...]:
    """What was counted in a gullet that is looked at again, and what a digit says there, in a row of a small screen."""
    before = (at.worked_before.strokes or 0) if at.worked_before is not None else 0
    return (f"It had {times(before, 'stroke')}; a digit adds more.",) if before else ()


def _rules(at: MomentNumbers, place: Place) -> tuple[str, ...]:
    """That the flat says when to stop and a count of strokes does not, where both are told to a learner."""
    if place.kind is not Kind.GULLET or at.level is not Level.TAUGHT:
        return ()
    work = gullet_work(at, place)
    if not work.strokes or work.only is not None or work.low:
        return ()
    narrow = work.half and any(0 < at.flats.get(tooth, 0.0) <= SHARES[1] for tooth in work.flats)
    hair = ("Of a flat a hair wide nobody sees half: a stroke or two, light (judgment).",) if narrow else ()
    return (*hair, "The flat rules, not the count of strokes.")


def _one_done(at: MomentNumbers, place: Place) -> tuple[str, ...]:
    """What is done when one of two flats that are to go alike has gone first; empty where one alone says when to stop.

    Where shares are told, which are not alike, and for whoever asked for the fewest words, nothing is said.
    """
    if place.kind is not Kind.GULLET or place.stage is not Stage.FILE or at.level is Level.BARE:
        return ()
    work = gullet_work(at, place)
    alike = len(work.flats) == 2 and not work.shares and work.only is None and not _one_stop(at, place)
    if not alike or work.low or work.strokes == 0 or at.worked_before is not None:
        return ()
    return (stage_words(place.stage).of_flats,)


def _one_stop(at: MomentNumbers, place: Place) -> bool:
    """Whether one flat alone says when to stop in gullet ``place``: the other has gone, or another gullet ends it."""
    if place.kind is not Kind.GULLET:
        return False
    work = gullet_work(at, place)
    return work.only is None and not work.shares and (work.flat_of is not None or len(work.flats) == 1)


def _why_so(at: MomentNumbers, place: Place) -> tuple[str, ...]:
    """Why the file is pressed to one tooth, and where a flat goes that is not to go here, in one row of a small screen.

    Nothing is said of it where shares are told, or for whoever knows the work.
    """
    if place.kind is not Kind.GULLET or at.level is not Level.TAUGHT:
        return ()
    work = gullet_work(at, place)
    if work.low or work.strokes == 0 or work.only is not None or work.shares:
        return ()
    wider = _wider(at, work)
    waits = [tooth for tooth in work.flats if work.flat_of not in (None, tooth)]
    if work.half:
        both_sides = place.stage is Stage.FILE and at.state.plan.sides == 2
        taker = f"side {3 - place.side}" if both_sides else "the next gullet"
        if wider:
            return (f"{wider} is wider; {taker} takes the rest.",)
        return ("Side 2 takes the other half." if taker == "side 2" else f"{capital(taker)} takes the rest.",)
    if waits:
        ends = f"gullet {waits[0] - (at.state.plan.start is End.TOE)}"
        if work.halved is not None:
            return (f"{work.halved} is wider; {ends} takes the rest.",)
        return (f"Half of flat {waits[0]} stays for {ends}.",)
    return (f"Flat {wider} is the wider: press to it.",) if wider else ()


def _wider(at: MomentNumbers, work: GulletWork) -> int:
    """The tooth whose flat is the wider of two, where the file is pressed for it; 0 where none is."""
    widths = [at.flats.get(tooth, 0.0) for tooth in work.flats]
    placed = at.leaning is not None and at.leaning.placed
    if work.lean is Lean.STRAIGHT or work.off is not None or placed or len(set(widths)) != 2:
        return 0
    return work.flats[widths.index(max(widths))]


def _which_first(at: MomentNumbers, place: Place) -> str:
    """Which face of the saw is dressed first, where both are: what lies up is, so that it may be side 2."""
    sides = [leg.side for leg in at.state.route.legs if leg.stage is Stage.DRESS and leg.side]
    if place.stage is not Stage.DRESS or len(sides) < 2:
        return ""
    return f": {sides[0]} first, then {sides[1]}"


def _trial(at: MomentNumbers, place: Place) -> tuple[tuple[str, ...], tuple[str, ...]]:
    told = trial_words(at.state, at.saw, place)
    return told[:1], told[1:]


def _again(place: Place) -> str:
    """The title of a leveling that is not the first: why there is one more."""
    if place.stage is not Stage.LEVEL or place.kind is not Kind.PASS:
        return ""
    if place.round >= FIRST_LATER:
        return "Level again, then file its flats"
    if place.round > 1:
        return "Level again, as it was reshaped"
    return "Level again: for points left low" if place.number > 1 else ""


def _instruction(at: MomentNumbers, place: Place) -> str:
    """What to do with a tooth, in a pass or in a gullet."""
    if place.kind is Kind.TOOTH:
        return bend_words()
    if place.kind is Kind.PASS:
        leg, _ = at.state.route.leg_at(at.state.here)
        return pass_words(place.stage, place.number, len(leg.places), at.saw)
    return gullet_words(place.stage, gullet_work(at, place), at.saw)


def gullet_work(at: MomentNumbers, place: Place) -> GulletWork:
    """What the gullet ``place``, in hand, is to be given."""
    last_side = place.side == max(at.state.route.sides(place.stage), default=0)
    half, whole = _stop(at, place, last_side=last_side)
    told = at.expected
    work = GulletWork(
        strokes=told.strokes,
        lean=told.lean or Lean.STRAIGHT,
        half=half,
        flat_of=whole,
        flats=_flats_beside(at, place),
        shares=_shares(at, place, last_side=last_side),
        off=told.off,
        only=_only(at, place),
        low=told.low,
    )
    # The wider of the two is the one that another gullet ends: it is pressed to, and only to its half.
    wider = _wider(at, work) if whole is not None else 0
    return replace(work, halved=wider) if wider not in (0, whole) else work


def no_stroke(at: MomentNumbers, place: Place) -> str | None:
    """What is recorded of the gullet ``place``, in hand, done as it is told: that it got no stroke.

    None for one that is to be filed, or beside which the back of tooth 1 is, and for any other place. Done says
    done: how many strokes is recorded only where somebody counted them.
    """
    if place.kind is not Kind.GULLET or at.expected.back or at.worked_before is not None:
        return None
    work = gullet_work(at, place)
    return NO_STROKE if work.low or work.strokes == 0 else None


def none_advised(at: MomentNumbers) -> str:
    """Why there is no count of strokes to be taken as advised, and what is done in its place."""
    place = at.place
    if at.front.ask is not Ask.WORK or place is None or place.kind is not Kind.GULLET:
        return "No strokes are advised here: nothing is being filed."
    if at.worked_before is not None:
        return "No count is advised where it was filed; a digit tells how many more it took."
    if at.expected.strokes == 0 or at.expected.low:
        return "No stroke is advised in this gullet; nothing was marked."
    return "No count is advised here: file by the flat; a digit tells how many it took."


def angles(saw: Saw, place: Place) -> str:
    """Rake and fleam as the guide holds the file here, to be read at every gullet; reshaping is square across.

    Of a tooth that is bent, how far its point goes.
    """
    if place.kind is Kind.TOOTH and place.stage is Stage.SET and saw.set_per_side is not None:
        return f"{saw.set_per_side} on each side"
    if place.kind is not Kind.GULLET:
        return ""
    here = saw.at(place.tooth)
    # As short as can be: at 80 columns a way of the file has to stand beside it, in ASCII too.
    return f"rake {here.rake:g}°" if place.stage is Stage.RESHAPE else f"rake {here.rake:g}° fleam {here.fleam:g}°"


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
    known = goes != 1 and goes in _flats_beside(at, place)
    return (False, goes) if known else (True, None)


def _flats_beside(at: MomentNumbers, place: Place) -> tuple[int, ...]:
    """The teeth beside a gullet that have a flat for all that is known: no stump, not low, and none beyond the toe."""
    flatless = at.state.stumps if at.leaning is None else {*at.leaning.low, *at.state.stumps}
    last = at.state.plan.points
    return tuple(tooth for tooth in (place.tooth, place.tooth + 1) if tooth <= last and tooth not in flatless)


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
