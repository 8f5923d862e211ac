"""Named steps: what is measured, chosen and decided at the look over, the flats, the proof and the close."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from session.advice import flats_verdict
from session.advice.flats_offer import FlatsOffer, teeth_in_words
from session.advice.flats_verdict import FlatsAsk
from session.advice.set_by_flats import set_comes_in
from session.desk.act_reply import QuestionKind, Reply
from session.desk.answers import AnswerError, read
from session.desk.cut_verdict import CutVerdict
from session.desk.mark_writer import MarkWriter
from session.desk.plan_answers import PlanAnswers
from session.desk.set_answers import SetAnswers
from session.desk.turn_answers import item_done
from session.sentences.instruction import ROOM
from session.sentences.mark_words import lean_told
from session.sentences.moment import Moment
from session.texts.faults import RemedyStage
from session.texts.steps import AskKind, Asks
from session.texts.steps import step as step_of
from session.texts.wording import lowered
from session.trade.saw import Leans
from session.trade.sides import teeth_leaning_away
from session.value_class import replace
from session.walk import acts
from session.walk.corner_work import FILED_IN
from session.walk.first_fitting import lean_of
from session.walk.mark import Did
from session.walk.measurables import (
    ANOTHER_PASS,
    BY_THE_SCAN,
    GOOD,
    GRADE_ON_STRIP,
    GRADE_THEM,
    NOTHING_TO_SEE,
    Measurable,
)
from session.walk.place import Place, looks_at_flats
from session.walk.scanned_marks import take_scan
from session.walk.seen_marks import SeenAnswer
from session.walk.stages import LEAN_ITEM, PLAN_STEP, TRIAL_CUT_STEP, Kind, Stage
from session.walk.work_plan import Plan


def passed_by(place: Place) -> str:
    """What is said of a step whose question was passed over."""
    return f"Skipped, not answered: {_in_words(place)}."


def marked(place: Place) -> str:
    """What is said of a place that is done: a step has a title in words, a tooth or pass its number."""
    return f"Marked as done: {_in_words(place)}." if place.kind is Kind.STEP else f"Marked {place}."


def _in_words(place: Place) -> str:
    return lowered(step_of(place.stage, place.step).title)


#: What is typed and may begin with a digit.
_BEGINS_WITH_A_DIGIT: Final = frozenset({AskKind.COUNT, AskKind.LENGTH, AskKind.WIDTHS, AskKind.CRACK, AskKind.TEETH})


class StepAnswers:
    """Answers steps through one `MarkWriter`."""

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making
        self.cut: Final = CutVerdict(making)
        self.plan: Final = PlanAnswers(making)
        self.set: Final = SetAnswers(making, self.plan)

    def asks(self) -> Asks | None:
        """The question of the step in hand, or None; in a gullet, which file works from there on."""
        place = self._making.state.place
        if place is not None and place.kind is Kind.GULLET and place.stage in FILED_IN:
            return Asks(Measurable.FILE)
        return step_of(place.stage, place.step).asks if place is not None and place.kind is Kind.STEP else None

    def answer(self, answers: Iterable[SeenAnswer]) -> Reply:
        """Record what was measured at the step in hand, then the step as done: one answer, taken back as one."""
        making = self._making
        first = making.state.next_seq
        place = making.state.place
        answers = tuple(answers)
        if [one.what for one in answers] == [Measurable.FLATS]:
            return self._flats(Measurable.FLATS, str(answers[0].value))
        shown, before = [], making.state.plan
        for one in answers:
            mark = acts.measure(making.state, making.at(), one.what, one.value, unit=one.unit, entered=one.entered)
            reply = making.make(acts.of_answer(mark, first))
            if reply.refused:
                return reply
            leans = one.what == Measurable.FIRST_LEANS
            if one.what is not Measurable.WIDTHS:  # the one before tells them all
                shown.append(lean_told(str(one.value)) if leans else f"{one.what}: {one.entered}")
        if place is not None and place.step == TRIAL_CUT_STEP:
            # What each is stands in its unit; which way it went has how far in it.
            way = any(one.what is Measurable.CUT_WANDER_TO for one in answers)
            shown = [one.entered for one in answers if not (way and one.what is Measurable.CUT_WANDER)]
        noted = self._turned_about(before) or f"Noted {', '.join(shown)}."
        if place is not None and place.kind is Kind.GULLET:
            # The gullet is still to be filed, with what was just taken up.
            return Reply(f"From here on {', '.join(shown)}.")
        if place is not None and place.step == TRIAL_CUT_STEP:
            # The numbers of a cut do not say whether it was good; the person does, by digit.
            return Reply(f"{noted} Now how it cut, by digit.")
        if looks_at_flats(place):
            return self._by_flats(noted, first)
        if (told := self.set.measured()) is not None:
            # What it says of the set is not cut off for the number that was just typed.
            both = f"{noted} {told.text}".rstrip()
            noted = both if not told.text or len(both) <= ROOM else told.text
            if told.again or told.wrong is not None:
                return Reply(noted, opens=None if told.again else QuestionKind.WRONG_SET)
        return making.make(acts.of_answer(acts.done(making.state, making.at()), first), note=noted)

    def fitted(self, item: str) -> Reply:
        """``item`` of the first fitting is as it was said."""
        making = self._making
        if item == LEAN_ITEM:
            return self.lean(lean_of(making.state.plan, making.state.measured))
        return making.make(acts.fit(making.state, making.at()), note=item_done(item))

    def lean(self, leans: Leans) -> Reply:
        """Tooth 1 was seen to lean so, before the first bend or stroke."""
        making = self._making
        before = making.state.plan
        reply = making.make(acts.lean(making.state, making.at(), leans))
        return reply if reply.refused else Reply(self._turned_about(before) or f"Noted: {lean_told(leans)}.")

    def _turned_about(self, before: Plan) -> str:
        """That every side is another one, after an answer that the ``before`` plan did not expect; else empty."""
        plan = self._making.state.plan
        first = [teeth_leaning_away(1, plan.points, leans)[:2] for leans in (before.leans, plan.leans)]
        if first[0] == first[1]:
            return ""
        now = ", ".join(str(tooth) for tooth in first[1])
        return f"Tooth 1 leans {plan.leans}: sides swap, {now} … lean away on side 1. Mend the recipe."

    def choose(self, place: Place, digit: int, at: Moment, known: tuple[SeenAnswer, ...] = ()) -> Reply:
        """Choice number ``digit`` of those offered at ``place``, in hand at the moment ``at``.

        known: what is known of teeth that are not looked at one by one where the saw shows nothing all round.
        """
        choices, asks = at.said.choices, self.asks()
        if not choices and asks is not None:
            # What can only be typed is begun by its first digit, so that a "10" is never taken for a 1.
            return Reply(opens=QuestionKind.ANSWER, typed=str(digit) if asks.kind in _BEGINS_WITH_A_DIGIT else "")
        if not 1 <= digit <= len(choices):
            allowed = f"allowed: 1 to {len(choices)}" if choices else "there is nothing to choose or count here"
            return Reply(f"{digit}: {allowed}.", refused=True)
        if place.step == PLAN_STEP:
            return self.plan.choose(digit, at.judged, at.against)
        chosen = choices[digit - 1]
        if asks is None:
            return Reply("There is nothing to answer here.", refused=True)
        if place.step == TRIAL_CUT_STEP:
            return self.cut.told(chosen)
        if place.stage is Stage.LEVEL:
            chosen = flats_verdict.meant_by(chosen)
            scan = at.flats_offer if chosen == BY_THE_SCAN else None
            return self._flats(asks.what, chosen) if scan is None else self._scanned(scan)
        if asks.kind in (AskKind.FILE, AskKind.TEETH, AskKind.COUNT, AskKind.LENGTH):
            # What a scan offers to a look is read as if it had been typed.
            try:
                return self.answer(read(asks, chosen, self._making.sitting.saw))
            except AnswerError as wrong:
                return Reply(f"{wrong}.", refused=True)
        more = known if chosen == NOTHING_TO_SEE else ()
        return self.answer([SeenAnswer(asks.what, chosen, None, chosen), *more])

    def _scanned(self, scan: FlatsOffer) -> Reply:
        """The flats are as the scan measured them."""
        making = self._making
        marks = take_scan(making.state, making.at(), scan.flats, scan.name)
        return making.make_all(marks, f"From the scan: {teeth_in_words(scan)}.")

    def _flats(self, what: Measurable, chosen: str) -> Reply:
        """What was answered to the look at the flats."""
        match chosen:
            case _ if chosen in (ANOTHER_PASS, GRADE_THEM, GRADE_ON_STRIP):
                passes, strip = int(chosen == ANOTHER_PASS), chosen == GRADE_ON_STRIP
                return self.add(Stage.LEVEL, passes=passes, reason=chosen, strip=strip)
            case flats_verdict.GO_ON:
                return self._flats_done("Reshaping follows.", self._making.state.next_seq)
            case flats_verdict.LEAVE_OUT:
                return self.plan.decide(Stage.RESHAPE, False, "left out at the flats")
        making, first = self._making, self._making.state.next_seq
        reply = making.make(acts.measure(making.state, making.at(), what, chosen, entered=chosen))
        if reply.refused:
            return reply
        noted = f"Noted {what}: {chosen}."
        return self._by_flats(noted, first) if chosen != GOOD else self._flats_done(noted, first)

    def by_verdict(self, asks: FlatsAsk) -> Reply:
        """Go on as the flats ``asks`` for it by what was told of them: one more pass, or what comes after leveling."""
        if asks is FlatsAsk.MORE:
            return self.add(Stage.LEVEL, reason=ANOTHER_PASS)
        reshapes = asks is FlatsAsk.RESHAPE and Stage.RESHAPE in self._making.state.taken_in
        return self._flats_done("Reshaping follows." if reshapes else "Gone on.", self._making.state.next_seq)

    def _flats_done(self, noted: str, first: int) -> Reply:
        """The flats are as they shall be; setting comes in by itself where the passes that were made ask for it.

        first: the seq of the first mark of the answer that says so.
        """
        making = self._making
        told = set_comes_in(making.state, making.sitting.saw)
        if told is not None:
            reply = self.plan.decide(Stage.SET, True, told.why, first=first)
            if reply.refused:
                return reply
            noted = f"{noted} Setting comes in. {told.why}"
        return making.make(acts.of_answer(acts.done(making.state, making.at()), first), note=noted)

    def _by_flats(self, noted: str, first: int) -> Reply:
        """Say what the flats ask for by what was just told of them; reshaping comes in by itself."""
        making = self._making
        told = flats_verdict.in_hand(making.state, making.sitting.saw)
        reply = self.after_flats(first)
        said = f"{noted} {told.asks}" if told is not None else noted
        return reply if reply is not None and reply.refused else Reply(said)

    def with_flats(self, reply: Reply) -> Reply:
        """``reply`` to an act, and what the flats ask for once the last of them was graded."""
        last = self._making.state.last_act
        first = last.seq if last is not None and last.did is Did.DONE else 0
        follows = None if reply.refused or reply.opens is not None else self.after_flats(first)
        return reply if follows is None else replace(follows, note=f"{reply.note} {follows.note}".strip())

    def after_flats(self, first: int) -> Reply | None:
        """Take reshaping in where the flats as told or graded ask for it; None where they do not, or once did.

        first: the seq of the first mark of the answer that told so, which it is taken back with.
        """
        making = self._making
        told = flats_verdict.comes_in(making.state, making.sitting.saw)
        return None if told is None else self.plan.decide(Stage.RESHAPE, True, told.why, first=first)

    def add(
        self, stage: Stage, *, side: int = 0, passes: int = 1, reason: str | None = None, strip: bool = False
    ) -> Reply:
        """Add a pass or a short extra stage; for leveling, 0 passes grade the flats, with ``strip`` against a strip."""
        making = self._making
        marks = acts.add_work(making.state, making.at(), stage, side=side, passes=passes, reason=reason, strip=strip)
        where = f", side {side}" if side else ""
        flats = f"the flats, tooth by tooth{' on the strip' if strip else ''}"
        what = flats if passes == 0 else f"{stage}{where}"
        dressed = ", then a light pass of the stone on both sides" if len(marks) > 1 else ""
        return making.make_all(marks, f"Added: {what}{dressed}.")

    def remedy(self, extras: Iterable[RemedyStage], reason: str) -> Reply:
        """Add the short extra stages of a remedy, none for going on as it is. Nothing is marked by that."""
        for extra in extras:
            for side in extra.sides if len(extra.sides) == 1 else (0,):
                reply = self.add(extra.stage, side=side, passes=max(1, extra.passes), reason=reason)
                if reply.refused:
                    return reply
        return Reply(reason)
