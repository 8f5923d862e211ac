"""Places in lists: those left out, each with its reason, and the flagged ones that one key leads back to."""

from __future__ import annotations

from typing import Final

from session.texts.wording import times
from session.trade.tooth_numbers import numbers_in_words
from session.walk.flagged_places import flags_asked, open_flags
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.tally import unfiled

#: Names of looks that stand in one line, at most: so that one is a row of the smallest screen, and short where it
#: is read aloud or by a pipe.
LOOKS_A_LINE: Final = 4


def left_out(state: State) -> tuple[str, ...]:
    """The places left out, one a line, each with its reason; or that there are none."""
    left = [(place, mark.reason) for place, mark in state.left_out()]
    left += [(place, why) for place, why in state.left_by_itself()]
    if not left:
        return ("No place was left out.",)
    left.sort(key=lambda one: state.route.index[one[0]])
    return (f"Left out: {len(left)}", *(f"  {_brief(place)} – {why}" for place, why in left))


def steps_passed(state: State) -> tuple[str, ...]:
    """What was gone past without an answer, in one line; nothing where all was answered.

    Looks at the saw as it came are not among them, as it is too late for them: `looks_skipped` names those.
    """
    steps = {stage: names for stage, names in state.passed_steps().items() if stage is not Stage.LOOK_OVER}
    told = "; ".join(f"{stage}: {', '.join(names)}" for stage, names in steps.items())
    return (f"Skipped: {told}.",) if told else ()


def looks_skipped(state: State) -> tuple[str, ...]:
    """The looks at the saw as it came that were not taken, some of them a line; nothing where all were."""
    skipped = state.passed_steps().get(Stage.LOOK_OVER, ())
    rows = [", ".join(skipped[first : first + LOOKS_A_LINE]) for first in range(0, len(skipped), LOOKS_A_LINE)]
    told = ",\n  ".join(rows)
    return tuple(f"Not looked at: {told}.".split("\n")) if rows else ()


def told_past(state: State) -> tuple[str, ...]:
    """The gullets that were gone past without a stroke, as they were told to be, in one line; nothing where none was.

    They are done and not left out; whoever reads what was not filed looks for them.
    """
    past = sorted({place.tooth for place, mark in state.outcomes.items() if unfiled(place, mark)})
    return (
        (f"No stroke, as told: {'gullet' if len(past) == 1 else 'gullets'} {numbers_in_words(tuple(past))}.",)
        if past
        else ()
    )


def flags_listed(state: State) -> tuple[str, ...]:
    """The flagged places that nobody went back to, one a line; nothing where none is."""
    still = open_flags(state)
    return (
        (f"Flags still open: {len(still)}", *(f"  {_brief(place)}{_word(state, place)}" for place in still))
        if still
        else ()
    )


def flag_choices(state: State) -> tuple[str, ...]:
    """The flagged places that are asked about now, as choices: one key goes back to one of them.

    At the check that ends a side the choice after them goes on with all of them open, as a yes looks at the first.
    """
    choices = tuple(f"look again: {_brief(place)}{_word(state, place)}" for place in flags_asked(state))
    if not choices or state.front.ask is not Ask.CHECK:
        return choices
    return *choices, f"the place agrees: go on, {times(len(choices), 'flag')} left open"


def _word(state: State, place: Place) -> str:
    """The word that was put on the flag of ``place``, so that two flags are told apart."""
    word = state.flags[place].reason
    return f" – {word}" if word else ""


def _brief(place: Place) -> str:
    side = f", side {place.side}" if place.side else ""
    return f"{place.stage}{side}: {place}"
