"""The words at the plan: each stage in or out, what is advised and why, and less and more beside it."""

from __future__ import annotations

from typing import Final

from session.advice.look_over import named as named_work
from session.advice.look_over import neighbors, side_to_stone
from session.advice.look_over import told as told_work
from session.advice.look_words import LOOK_WORDS
from session.advice.printed_choices import choices as in_print
from session.advice.tools_needed import laid_out
from session.advice.untouched_plan import asked_by_recipe, own_plan, shown_plan, waits_for_yes
from session.advice.work import BY_HAND, Piece, What
from session.sentences.asked_words import Asked
from session.sentences.instruction import ROOM
from session.sentences.moment_numbers import MomentNumbers
from session.texts.guidance import Level
from session.texts.steps import Step
from session.walk.front_question import Ask
from session.walk.stages import PLAN_STEP, Stage, facts_of

#: What the name does not say.
_TOUCH_UP: Final = "Touch up: no work but file, the same one or two light strokes in every gullet."

#: What the rows of less and more work are.
_NEIGHBORS: Final = "Less work and more work: the next smaller and larger plan that could do; its digit takes it whole."

#: Before what printed practice disagrees on: which of it is followed here.
_IN_PRINT: Final = "Where print disagrees: first what this plan does, by the recipe, then what others do."

#: The looks that show whether a file may touch the saw at all, by what is looked for.
_BEFORE_A_FILE: Final = {"crack": "a crack", "hard teeth": "hard teeth"}


def _moves(stages: int, rows: int) -> str:
    """How a row of the plan is changed: one of its first ``stages``, and one of the others, which are whole plans."""
    whole = [str(row) for row in range(stages + 1, rows + 1)]
    which = " or ".join(part for part in (", ".join(whole[:-1]), *whole[-1:]) if part)
    beside = f"; {which} takes that whole plan" if which else ""
    return f"1 to {stages} moves a stage in or out{beside}."


def _work_in_row(work: tuple[Piece, ...]) -> str:
    """Work in the row that takes it, where there is no room for what its name does not say."""
    return ", ".join(f"{one.what} (light filing)" if one.what is What.TOUCH_UP else str(one.what) for one in work)


def _not_looked(at: MomentNumbers) -> tuple[str, ...]:
    """The looks passed over that show whether a file may touch the saw at all; nothing where they were taken."""
    passed = at.state.passed_steps().get(Stage.LOOK_OVER, ())
    missed = [told for look, told in _BEFORE_A_FILE.items() if look in passed]
    return (f"Not looked for today: {' or '.join(missed)}. Look before the first stroke.",) if missed else ()


def _proved(at: MomentNumbers) -> str:
    """That a proof follows the work that is advised; empty where none does."""
    return ", then prove" if any(one.stage is Stage.PROVE and one.take_in for one in at.advice) else ""


def _row(at: MomentNumbers, stage: Stage) -> str:
    """A stage in or out as going on takes it, and beside it where that is otherwise than planned or than advised."""
    told = _IN[stage in shown_plan(at.state, at.against)]
    side = side_to_stone(at.judged.work, at.state) if stage is Stage.DRESS and told == _IN[False] else 0
    if side and not own_plan(at.state):
        return f"{stage}: side {side} alone, as advised"
    if stage not in {one.stage for one in at.against}:
        return f"{stage}: {told}"
    return f"{stage}: {told}, {'not as advised' if own_plan(at.state) else 'as advised'}"


def _unseen(at: MomentNumbers) -> tuple[str, ...]:
    """What is advised and done without the program, before it goes on; wax only once the planned work is done."""
    by_hand = [one.what for one in at.judged.work if one.what in BY_HAND]
    waits = What.WAX in by_hand and bool(shown_plan(at.state, at.against) & _WORKED)
    first = ", ".join(str(what) for what in by_hand if not (waits and what is What.WAX))
    told = [f"Before you go on, yourself: {first}"] if first else []
    told += ["Wax it yourself when the filing is done, before a cut"] if waits else []
    return (f"{'. '.join(told)}. No screen follows for that.",) if told else ()


def _lay_out(at: MomentNumbers) -> tuple[str, ...]:
    """What to lay out before the first work, of the plan that going on takes; nothing where no work is done."""
    stages = shown_plan(at.state, at.against)
    if not stages & _WORKED:
        return ()
    return (f"Lay out: {', '.join(one.title for one in laid_out(at.saw, stages, at.files))}.",)


#: Stages that want tools laid out.
_WORKED: Final = frozenset({Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.FILE, Stage.DRESS})

_IN: Final = {True: "in", False: "out"}


def next_by_plan(at: MomentNumbers) -> str:
    """The stage that comes after the plan, where going on takes the advice and the plan as it stands is another."""
    state, place = at.state, at.place
    settles = at.front.ask is Ask.WORK and place is not None and place.step == PLAN_STEP
    if not settles or not at.against or own_plan(state) or waits_for_yes(state, at.judged, at.against):
        return ""
    shown = shown_plan(state, at.against)
    stages = [stage for stage in state.plan.order if stage is not Stage.LOOK_OVER]
    stays = (stage for stage in stages if not facts_of(stage).optional or stage in shown)
    return str(next(stays, ""))


def settle(at: MomentNumbers, told: Step) -> Asked:
    """The plan with the advice on it: what is advised and why, less and more beside it, then each stage in or out.

    A learner also hears where printed practice is otherwise than the recipe.
    """
    state, saw, advised = at.state, at.saw, at.judged
    unit = saw.unit
    stages = [stage for stage in state.plan.order if facts_of(stage).optional]
    choices = [_row(at, stage) for stage in stages]
    # Beside a plan of one's own less and more are still those of the advice.
    than = "than advised" if own_plan(state) else "work"
    choices += [f"{name} {than}: {_work_in_row(work)}" for name, work in neighbors(advised)]
    if by_recipe := asked_by_recipe(state, at.against):
        choices.append(f"all of the recipe: {', '.join(by_recipe)}")
    lines = [
        f"{'Stop' if advised.stop else 'Advised'}: {named_work(advised.work)}{_proved(at)}.",
        *_unseen(at),
        *(_not_looked(at) if not advised.stop else ()),
        *_lay_out(at),
        _moves(len(stages), len(choices)),
    ]
    if any(one.what is What.TOUCH_UP for one in (*advised.work, *advised.less, *advised.more)):
        lines.append(_TOUCH_UP)
    lines += [f"Look again: {LOOK_WORDS[one.look]}. {one.seen}: {one.why}." for one in advised.doubts]
    asked = [look for look in advised.looks if look not in [one.look for one in advised.doubts]]
    lines += [f"Not looked at, and it would decide: {LOOK_WORDS[look]}." for look in asked]
    lines += [told_work(one, unit) for one in advised.work]
    lines += advised.notes
    if neighbors(advised) and at.level is Level.TAUGHT:
        lines.append(_NEIGHBORS)
    lines += [f"{one.stage} {'in' if one.take_in else 'out'}: {one.why}" for one in at.advice if not one.take_in]
    shown = shown_plan(state, at.against)
    if Stage.FILE not in shown and shown & {Stage.LEVEL, Stage.RESHAPE}:
        lines.insert(0, "As it stands, what is leveled or reshaped is not filed: it leaves flat or blunt points.")
    if at.level is Level.TAUGHT:
        lines += [_IN_PRINT, *(line for one in in_print(saw) for line in one.told)]
    work = named_work(advised.work)
    if not at.against:
        words = f"Go on: this plan, as advised: {work}."
    elif waits_for_yes(state, advised, at.against):
        words = f"Yes: what is advised: {work}. Or move a stage."
    elif own_plan(state):
        words = f"Go on: your plan, as it stands. Yes: what is advised: {work}."
    else:
        words = f"Go on: the plan that is advised: {work}. Or move a stage."
    doing = words if len(words) <= ROOM else told.do
    return Asked(told.title, tuple(lines), doing, choices=tuple(choices), source=told.source)
