"""Makers of marks: each builds the mark for one act at the state's front, ready to be written.

They number and place the mark; `session.walk.rules.why_not` says whether it may be made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Any

from session.trade.grades import GRADE
from session.trade.rounding import half_up
from session.trade.saw import Leans
from session.trade.strip_readings import QUARTER
from session.value_class import replace
from session.walk.added_stages import ON_STRIP, REST_NOT_SEEN, STRIP_ASIDE
from session.walk.added_work import CUT_IS_GOOD, not_begun, wants_dressing
from session.walk.first_fitting import lean_of
from session.walk.flagged_places import strokes_before
from session.walk.leveling_rounds import leveling_round
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.place_moves import span
from session.walk.rules import why_not
from session.walk.scan_told import told_of_flat
from session.walk.stages import LEAN_ITEM, MEASURE_STEP, Stage
from session.walk.state import State
from session.walk.taken_back import LOOK_AGAIN


def make(state: State, did: Did, at: datetime, **fields: Any) -> Mark:
    """A mark with the next seq; ``fields`` are those of `session.walk.mark.Mark`."""
    return Mark(seq=state.next_seq, at=at, did=did, **fields)


def at_place(state: State, did: Did, at: datetime, **fields: Any) -> Mark:
    """A mark about the place in hand. Raises ValueError when no place is left."""
    if state.place is None:
        raise ValueError("every place is done or left out")
    return make(state, did, at, **{**state.place.fields(), **fields})


def done(
    state: State,
    at: datetime,
    *,
    strokes: int | None = None,
    by: str = "key",
    many: str | None = None,
    reason: str | None = None,
) -> Mark:
    """The place in hand is done, with so many strokes where strokes are counted; a look that was passed over, with
    that as its reason. In a gullet that was gone back to they are added to those counted there before, as the mark
    says what it was given altogether."""
    before = strokes_before(state)
    strokes = before + (strokes or 0) if before else strokes
    return at_place(state, Did.DONE, at, strokes=strokes, by=by, many=many, reason=reason)


def grade(state: State, at: datetime, value: int, *, by: str = "key") -> Mark:
    """The flat of the tooth in hand is graded ``value`` in today's scale, 0 … 5; it lies where a scan told it to."""
    told = told_of_flat(state) if value else None
    mark = at_place(state, Did.DONE, at, value=value, unit=GRADE, by=by)
    return mark if told is None else replace(mark, off=told.off)


def place_flat(state: State, at: datetime, quarters: int, *, by: str = "key") -> Mark:
    """The flat of the tooth in hand lies so many quarters of its width off its mark, -4 … 4, positive to the toe."""
    return at_place(state, Did.DONE, at, value=quarters, unit=QUARTER, by=by)


def lay_strip_aside(state: State, at: datetime) -> Mark:
    """From the tooth in hand on the flats are graded alone. Raises ValueError when no place is left."""
    return _from_here_on(state, at, STRIP_ASIDE)


def rest_not_seen(state: State, at: datetime) -> Mark:
    """From the tooth in hand on no flat is graded. Raises ValueError when no place is left."""
    return _from_here_on(state, at, REST_NOT_SEEN)


def _from_here_on(state: State, at: datetime, what: str) -> Mark:
    """The grading in hand becomes ``what`` from the tooth in hand on."""
    if state.place is None:
        raise ValueError("every place is done or left out")
    return replace(add(state, at, Stage.LEVEL, passes=0), what=what, tooth=state.place.tooth)


def rest_as_before(state: State, at: datetime, grade: int) -> Iterator[Mark]:
    """The flats of the tooth in hand and of all after it have the same ``grade``, each mark naming the first and last
    of them; they are taken back together. Those that are known to be broken have none."""
    leg, first = state.route.leg_at(state.here)
    rest = [place for place in leg.places[state.here - first :] if not place.on_strip and not state.passed(place)]
    many = span(rest) if rest else None
    for n, place in enumerate(rest):
        mark = Mark(seq=state.next_seq + n, at=at, did=Did.DONE, **place.fields(), by="key", many=many)
        yield of_answer(replace(mark, value=grade, unit=GRADE), state.next_seq)


def leave_out(state: State, at: datetime, reason: str) -> Mark:
    """The place in hand is left out, for ``reason``; a gullet that was gone back to keeps the strokes counted there, as
    the file made them."""
    return at_place(state, Did.LEFT_OUT, at, strokes=strokes_before(state) or None, reason=reason, by="key")


def flag(state: State, at: datetime, reason: str | None = None) -> Mark:
    """The place in hand is flagged, to be looked at again."""
    return at_place(state, Did.FLAGGED, at, reason=reason)


def take_back(state: State, at: datetime, of: int | None = None) -> Mark:
    """The last act, or mark ``of``, is taken back. Raises ValueError when there is nothing to take back."""
    last = state.last_act
    if of is None:
        if last is None:
            raise ValueError("there is nothing to take back")
        of = last.seq
    return make(state, Did.TOOK_BACK, at, of=of)


def take_back_whole(state: State, at: datetime) -> tuple[Mark, ...]:
    """The last act is taken back, and what was made by the same answer before it, the last first: of marks that were
    made together each names the first."""
    marks, last = [take_back(state, at)], state.last_act
    first = last.of if last is not None else None
    while first is not None:
        state = state.after(marks[-1])
        if state.last_act is None or state.last_act.seq < first:
            break
        marks.append(take_back(state, at))
    return tuple(marks)


def numbered(marks: Iterable[Mark], first: int) -> Iterator[Mark]:
    """``marks`` that one state made, in their order, with the seqs from ``first`` on: they are written together."""
    return (replace(mark, seq=seq) for seq, mark in enumerate(marks, first))


def of_answer(mark: Mark, first: int) -> Mark:
    """``mark`` as one of the answer whose first mark has the seq ``first``: they are taken back together."""
    return mark if mark.seq == first else replace(mark, of=first)


def acknowledge(state: State, at: datetime) -> Mark:
    """What is asked (a caution, or the next item of the turn) is acknowledged."""
    now = state.front
    place = now.place
    return make(
        state,
        Did.ACKNOWLEDGED,
        at,
        stage=place.stage if place else None,
        side=now.side or None,
        round=place.round if place and now.side and place.round > 1 else None,
        what=now.name,
    )


def fit(state: State, at: datetime) -> Mark:
    """The item of the first fitting that is asked is as the plan has it: fitted, or seen to lean so."""
    if state.front.name != LEAN_ITEM:
        return acknowledge(state, at)
    return lean(state, at, lean_of(state.plan, state.measured))


def lean(state: State, at: datetime, leans: Leans) -> Mark:
    """Tooth 1 leans so, as seen at the saw in hand before the first bend or stroke."""
    return measure(state, at, Measurable.FIRST_LEANS, str(leans), entered=str(leans))


def turn(state: State, at: datetime) -> Mark:
    """The saw has been turned to the side of the place in hand, standing at its reach."""
    now = state.front
    place = now.place
    return make(
        state,
        Did.TURNED,
        at,
        stage=place.stage if place else None,
        side=now.side,
        tooth=place.tooth if place and now.reach else None,
        round=place.round if place and place.round > 1 else None,
    )


def shift(state: State, at: datetime) -> Mark:
    """The saw has been shifted in the vise to the reach of the place in hand."""
    return at_place(state, Did.SHIFTED, at)


def check(state: State, at: datetime, counted: int) -> Mark:
    """A check point: the person counted ``counted`` as the last tooth worked."""
    place = state.front.place
    if place is None:
        raise ValueError("no check point is open")
    return make(state, Did.CHECKED, at, **place.fields(), value=counted, unit="tooth")


def confirm(state: State, at: datetime, how: str) -> Mark:
    """After an interruption the place was found on the saw; ``how`` is "yes", "back" or "set"."""
    fields = state.place.fields() if state.place else {}
    return make(state, Did.CONFIRMED, at, **fields, what=how)


def pause(state: State, at: datetime) -> Mark:
    """Work pauses."""
    return make(state, Did.PAUSED, at, **(state.place.fields() if state.place else {}))


def resume(state: State, at: datetime, *, after: str, seconds: float) -> Mark:
    """Work goes on ``after`` a "pause", a "restart", or "no key" for long; ``seconds`` is how long it rested."""
    return make(state, Did.RESUMED, at, what=after, value=half_up(max(0.0, seconds), 1), unit="s")


def measure(
    state: State,
    at: datetime,
    what: str,
    value: float | int | str,
    *,
    unit: str | None = None,
    entered: str | None = None,
) -> Mark:
    """Something was measured at the place in hand; ``entered`` is the text as typed."""
    return at_place(state, Did.MEASURED, at, what=what, value=value, unit=unit, entered=entered)


def decide(state: State, at: datetime, stage: Stage, take_in: bool, reason: str) -> Mark:
    """The person takes an optional stage into the plan, or out of it."""
    return make(state, Did.DECIDED, at, stage=stage, value=take_in, reason=reason)


def add(
    state: State,
    at: datetime,
    stage: Stage,
    *,
    side: int = 0,
    passes: int = 1,
    at_once: bool = False,
    reason: str | None = None,
    strip: bool = False,
) -> Mark:
    """One more leveling pass, or a short extra stage before the close; for leveling, 0 passes grade the flats, and with
    ``strip`` tell each of them against the strip as well.

    Once filing has begun, a leveling pass belongs to a leveling of its own, which brings the filing of its flats.
    at_once: where the set was measured wrong, setting or dressing once more right after it.
    """
    round_ = leveling_round(state) if stage is Stage.LEVEL else 1
    return make(
        state,
        Did.ADDED,
        at,
        stage=stage,
        side=side or None,
        step=MEASURE_STEP if at_once else None,
        round=round_ if round_ > 1 else None,
        value=passes,
        unit="passes",
        reason=reason,
        what=ON_STRIP if strip else None,
    )


def add_work(
    state: State,
    at: datetime,
    stage: Stage,
    *,
    side: int = 0,
    passes: int = 1,
    reason: str | None = None,
    strip: bool = False,
) -> tuple[Mark, ...]:
    """The same, and the dressing of the burr that its filing leaves, where the plan dresses (in print: ROSS; KING)."""
    first = add(state, at, stage, side=side, passes=passes, reason=reason, strip=strip)
    if why_not(state, first) is not None:
        return (first,)
    after = state.after(first)
    if not wants_dressing(state, after):
        return (first,)
    dressed = add(after, at, Stage.DRESS, passes=state.plan.dress_passes, reason=reason)
    return first, replace(dressed, of=first.seq)


def spare(state: State, at: datetime) -> tuple[Mark, ...]:
    """The trial cut is good: what was added and not begun is taken back, the last addition first."""
    marks = enumerate(not_begun(state), state.next_seq)
    return tuple(Mark(seq=seq, at=at, did=Did.TOOK_BACK, of=of, reason=CUT_IS_GOOD) for seq, of in marks)


def finish(state: State, at: datetime) -> Mark:
    """The sharpening is finished: the last mark of a log."""
    return make(state, Did.FINISHED, at)


def give_up(state: State, at: datetime, reason: str = "") -> Mark:
    """The sharpening is given up as it stands: the last mark of a log that is never finished."""
    return make(state, Did.GAVE_UP, at, reason=reason or None)


def look_again(state: State, at: datetime, place: Place) -> Mark:
    """The flagged ``place`` is gone back to: what was marked of it is taken back, and nothing else."""
    return make(state, Did.TOOK_BACK, at, of=state.outcomes[place].seq, reason=LOOK_AGAIN)


def put_back(state: State, at: datetime, again: Mark) -> Mark:
    """The flagged place that ``again`` went back to is as it was before."""
    return make(state, Did.PUT_BACK, at, of=again.seq)
