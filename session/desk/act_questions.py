"""The questions that an act may open over the bench, and what is done with each answer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.advice.cut_remedies import ALL_TRIED, cut_remedies
from session.advice.gullet_advice import taught_bite
from session.advice.look_over import doubt_of
from session.advice.own_files import by_name
from session.desk.act_reply import QuestionKind, Reply
from session.desk.answers import AnswerError, example, read, told_face
from session.desk.counted_questions import strokes, timer
from session.desk.desk import Desk
from session.desk.key_names import shown
from session.desk.key_table import ACTS
from session.desk.place_questions import place_question
from session.desk.question import Question
from session.desk.records_kept import all_round
from session.desk.rest_of_flats import rest_question
from session.sentences.mark_words import told
from session.sentences.offers import Act
from session.sentences.own_words import file_choices
from session.sentences.saying import Saying
from session.sentences.step_words import action
from session.sentences.whereabouts import newest_first
from session.texts import terms
from session.texts.faults import RemedyStage, fault
from session.texts.guidance import reasons
from session.texts.steps import AskKind, Asks
from session.texts.steps import step as step_of
from session.trade.saw import Leans, Saw
from session.value_class import replace
from session.walk.added_work import fault_to_mend
from session.walk.first_fitting import lean_of
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.seen_marks import SeenAnswer
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: Marks told at most when looking back.
LOOKS_BACK: Final = 200


def questions(desk: Desk, opens: QuestionKind, keymap: Mapping[Act, tuple[str, ...]]) -> Question:
    """The question that ``opens`` stands for."""
    match opens:
        case QuestionKind.REASON:
            return _reason(desk)
        case QuestionKind.ANSWER:
            return _answer(desk)
        case QuestionKind.FLAG_WORD:
            return Question(f"A word for the flag at {desk.moment.place}", hint="", then=desk.flag)
        case QuestionKind.REST:
            return rest_question(desk)
        case QuestionKind.STROKES:
            return strokes(desk)
        case QuestionKind.SET_PLACE:
            return place_question(desk)
        case QuestionKind.LEAN:
            return _lean(desk)
        case QuestionKind.WRONG_SET:
            return _wrong_set(desk)
        case QuestionKind.MORE:
            return _more(desk)
        case QuestionKind.REMEDY:
            return _remedy(desk)
        case QuestionKind.CUT_DOUBT:
            return desk.steps.cut.doubt()
        case QuestionKind.LOOK_BACK:
            return looking_back(desk.moment.state)
        case QuestionKind.TIMER:
            return timer(desk)
        case QuestionKind.TERMS:
            return _terms(desk.moment.said)
        case _:
            return _guide(desk.moment.said, keymap)


def looking_back(state: State, most: int = LOOKS_BACK) -> Question:
    """The last ``most`` marks that still stand, and how many stand before them."""
    marks = tuple(newest_first(state))
    rows = [f"{mark.seq:>5}  {mark.at:%H:%M:%S}  {told(mark)}" for mark in marks[:most]]
    if len(marks) > most:
        rows.append(f"and {len(marks) - most} earlier, in the log")
    return Question("Looking back, newest first", () if rows else ("Nothing was marked yet.",), tuple(rows))


def _reason(desk: Desk) -> Question:
    place = desk.moment.state.place
    stage = place.stage if place else Stage.FILE
    return Question(f"Leave out {place}: why?", choices=reasons(stage), hint="", then=desk.leave_out)


def _answer(desk: Desk) -> Question:
    place, saw = desk.moment.state.place, desk.moment.saw
    step = step_of(place.stage, place.step) if place and place.kind is Kind.STEP else None
    asks = desk.steps.asks()
    if place is None or asks is None:
        return Question("Nothing is asked here")
    if asks.kind is AskKind.FILE:
        return _file(desk, asks)
    if step is None:
        return Question("Nothing is asked here")

    def wrong(text: str) -> str | None:
        try:
            answers = read(asks, text, saw)
        except AnswerError as error:
            return str(error)
        if asks.what in (Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END):
            # A width that cannot be is none after setting either.
            answers = read(Asks(Measurable.OVER_POINTS), text, saw)
        return doubt_of(answers, saw) if place.stage is not Stage.PROVE else None

    def understood(text: str) -> str:
        try:
            told = ", ".join(one.entered for one in read(asks, text, saw) if one.what is not Measurable.WIDTHS)
        except AnswerError:
            return ""
        return f"= {told}" if asks.kind in _OF_LENGTHS and told != text else ""

    choices = desk.moment.said.choices if asks.kind in (AskKind.CHOICE, AskKind.CHOICES, AskKind.NAME) else ()
    return Question(
        action(step, saw),
        (step.how,),
        choices=choices,
        hint=example(asks, saw),
        check=wrong,
        then=lambda text: desk.steps.answer(all_round(desk.moment, read(asks, text, saw))),
        several=lambda text: _another_count(read(asks, text, saw), saw),
        understood=understood,
    )


#: Answers that hold lengths, whose unit may go without saying.
_OF_LENGTHS: Final = frozenset({AskKind.LENGTH, AskKind.WIDTHS, AskKind.CUT, AskKind.CRACK})


def _another_count(answers: tuple[SeenAnswer, ...], saw: Saw) -> str:
    """What is to be agreed to before a line of another count is made anew; empty where it is as expected."""
    counted = next((one.value for one in answers if one.what == Measurable.POINTS and one.unit == IN_THE_LINE), None)
    if counted is None or counted == saw.points:
        return ""
    return f"{counted} points, {saw.points} expected: teeth, sides and reaches are numbered anew by {counted}."


def _file(desk: Desk, asks: Asks) -> Question:
    """Which file works from here on, and which of its corners; those of one's own that serve by digit."""
    saw, owned = desk.moment.saw, desk.asked.own_files(desk.moment.saw)

    told = Measurable.FILE in desk.sitting.state.measured
    before = " What was filed before stays with the file before." if told else ""

    def wrong(text: str) -> str | None:
        try:
            read(asks, text, saw)
        except AnswerError as error:
            return str(error)
        return None

    def then(text: str) -> Reply:
        answers = read(asks, text, saw)
        reply = desk.steps.answer(answers)
        mine = by_name(owned, str(answers[0].value))
        face = told_face(text, saw)
        more = [mine.against] if mine is not None and mine.against else []
        more += [f"Its face of {face} is not kept."] if face else []
        return reply if reply.refused or not more else replace(reply, note=" ".join((reply.note, *more)))

    return Question(
        "Which file works from here on?",
        (f"Its name, then its corner, 1 to 3; its face is not kept.{before}",),
        choices=file_choices(owned),
        hint=example(asks, saw),
        check=wrong,
        then=then,
    )


#: What is answered when tooth 1 does not lean as the plan has it.
_LEANS: Final = {
    "away from you": Leans.AWAY,
    "toward you": Leans.TOWARD,
    "no tooth leans": Leans.UNSET,
}


def _lean(desk: Desk) -> Question:
    state = desk.moment.state
    expected = lean_of(state.plan, state.measured)
    return Question(
        "Which way does tooth 1, at the heel, lean?",
        (f"The handle on your {'right' if state.side == 1 else 'left'}, seen along the points.",),
        choices=tuple(words for words, leans in _LEANS.items() if leans is not expected),
        then=lambda text: desk.steps.lean(_LEANS[text]),
    )


def _wrong_set(desk: Desk) -> Question:
    """A set that was just measured as too much or too little, and what can be done about it."""
    told, ways = desk.steps.set.measured(), desk.steps.set.ways()
    if told is None or told.wrong is None:
        return Question("Nothing is wrong with the set")
    return Question(
        f"The set is {told.wrong}",
        tuple(line for line in (told.text, desk.steps.set.to_stone()[1]) if line),
        choices=tuple(ways),
        then=lambda text: ways[text](),
    )


_EXTRAS = (
    ("one more light dressing pass, side 1", Stage.DRESS, 1),
    ("one more light dressing pass, side 2", Stage.DRESS, 2),
    ("a touch more set, both sides", Stage.SET, 0),
    ("file lightly once more, both sides", Stage.FILE, 0),
    ("one more leveling pass, then file its flats", Stage.LEVEL, 0),
)


def _more(desk: Desk) -> Question:
    choices = tuple(words for words, _, _ in _EXTRAS)

    def then(text: str) -> Reply:
        words, stage, side = next(extra for extra in _EXTRAS if extra[0] == text)
        return desk.steps.add(stage, side=side, reason=words)

    return Question("A short extra stage, then the trial cut again", choices=choices, then=then)


def _remedy(desk: Desk) -> Question:
    """The causes of the fault seen in the trial cut, least steel first, each beside its remedy and its cost."""
    state = desk.moment.state
    if not (word := fault_to_mend(state)):
        return Question("No fault of a trial cut was told")
    at = desk.moment
    found = cut_remedies(state, at.saw, word, taught_bite(state, at.saw, at.known))
    offered: dict[str, tuple[RemedyStage, ...]] = {one.words: one.extras for one in found}
    offered[AS_IT_IS] = ()
    costly = [one for one in found if one.steel]
    nothing_helped = (ALL_TRIED,) if costly and all(one.tried for one in costly) else ()
    return Question(
        "What may be the cause, least steel first",
        (fault(word).sees, *nothing_helped),
        choices=tuple(offered),
        then=lambda text: desk.steps.remedy(offered[text], text),
    )


#: The last choice of every fault.
AS_IT_IS: Final = "No extra stage: go on as it is."

#: As many as there are digits.
_BY_DIGIT: Final = 9


def _terms(saying: Saying) -> Question:
    """Any term by its name; those that the screen uses by digit, for a hand that cannot type, the tenth on by name."""

    def wrong(text: str) -> str | None:
        return None if terms.search(text) else f'no term like "{text[:20]}"'

    def then(text: str) -> Reply:
        found = terms.search(text)[0]
        told = f"{found.meaning} ({found.source})"
        return Reply(f"{found.name}: {told}", shows=(found.name, told))

    on_screen = " ".join((saying.title, saying.instruction, *saying.lines, *saying.in_effect))
    used = tuple(term.name for term in terms.within(on_screen))
    by_digit, typed = used[:_BY_DIGIT], used[_BY_DIGIT:]
    lines = (*((f"To be typed: {', '.join(typed)}.",) if typed else ()), *(("On screen now:",) if used else ()))
    return Question("Look a term up", lines, choices=by_digit, hint="such as fleam", check=wrong, then=then)


def _guide(saying: Saying, keymap: Mapping[Act, tuple[str, ...]]) -> Question:
    """The help sheet for this moment."""
    says = [f"Who says so: {saying.source}."] if saying.source else []
    lines = [saying.title, *saying.lines, saying.instruction, *says, ""]
    for row in ACTS:
        keys = "0–9" if row.act is Act.STROKES else " ".join(shown(key) for key in keymap.get(row.act, ()))
        lines.append(f" {keys or '-':<18} {row.told}")
    lines += [
        "",
        "“toothline scan” measures every tooth from flatbed scans; “toothline scan --how” says how to make them.",
    ]
    lines += ["Ctrl+C, a closed window or a power cut lose nothing: each mark is on disk before it shows."]
    return Question("Help", tuple(lines))
