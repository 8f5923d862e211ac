"""From an act to its marks: the one way of a key press, shared by the screen and the line-by-line mode.

The desk knows no screen. It answers what to say of the act, and what to open when the act needs words first.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.advice.saw_records import SawRecords
from session.desk.act_reply import QuestionKind, Reply
from session.desk.asked_records import AskedRecords
from session.desk.countdown import UNSEEN_S, Countdown
from session.desk.flag_answers import FlagAnswers
from session.desk.flat_answers import FlatAnswers, of_a_flat
from session.desk.gullet_answers import filed, gone_on
from session.desk.key_table import Group, of_group
from session.desk.mark_writer import MarkWriter
from session.desk.pauses import pause
from session.desk.place_setting import set_place
from session.desk.press_guards import Guards, span
from session.desk.records_kept import known_still, left_out, skipped
from session.desk.seen_looks import record_seen
from session.desk.silence_answers import SilenceAnswers
from session.desk.step_answers import StepAnswers
from session.desk.take_backs import take_back
from session.desk.timed_marks import can_time, timed
from session.desk.turn_answers import turned
from session.log.sitting import Sitting
from session.sentences.moment import Moment
from session.sentences.offers import Act, not_here
from session.sentences.whereabouts import stood
from session.sentences.work_words import none_advised
from session.texts.guidance import Level
from session.trade.rounding import whole_number
from session.walk import acts
from session.walk.added_work import fault_to_mend
from session.walk.flagged_places import flags_left
from session.walk.front_question import Ask, Front, kind_of
from session.walk.known_bites import KnownBites
from session.walk.mark import Did
from session.walk.place import Place
from session.walk.silence import after_silence
from session.walk.stages import LEAN_ITEM, PLAN_STEP, Kind, Stage

#: Acts that move on, and so are guarded against a key or pedal that repeats (bench rule 19).
ADVANCES: Final = of_group(Group.ADVANCE)

#: Acts that mark something of the place in hand, or open the question that does.
_OF_A_PLACE: Final = of_group(Group.ADVANCE, Group.PLACE)

#: Acts that only show something: no state forbids them.
_SHOWS: Final = {
    Act.LOOK_BACK: QuestionKind.LOOK_BACK,
    Act.TERMS: QuestionKind.TERMS,
    Act.HELP: QuestionKind.HELP,
    Act.QUIT: QuestionKind.LEAVE,
}

#: Where the place can be set by hand: not before the saw is turned, nor before the guides are on.
_PLACE_SET: Final = frozenset({Ask.CHECK, Ask.CONFIRM, Ask.WORK, Ask.SHIFT})

#: What is asked when a long silence does not matter: the place is confirmed already, there is none, or it is counted on
#: the saw in any case.
_AT_REST: Final = frozenset({Ask.PAUSED, Ask.CONFIRM, Ask.CHECK, Ask.FINISHED, Ask.END})


class Desk:
    """Takes acts for one sitting.

    guard_s: seconds within which a second advance is ignored. idle_s: the least silence after which the
    place is confirmed again. level: how much is said beside the instruction. next_visit, account: what the records say
    to the next sharpening, and what this one came to, asked once it is finished. bites: what they teach of the strokes,
    asked once, at the first gullet. records: what they add to what is seen at the look over, asked once as well.
    """

    def __init__(
        self,
        sitting: Sitting,
        *,
        guard_s: float = 0.3,
        idle_s: float = 60.0,
        level: Level = Level.TAUGHT,
        next_visit: Callable[[], tuple[str, ...]] = tuple,
        bites: Callable[[], KnownBites] = KnownBites,
        records: Callable[[], SawRecords] = SawRecords,
        account: Callable[[], tuple[str, ...]] = tuple,
    ) -> None:
        self.sitting: Final = sitting
        self.making: Final = MarkWriter(sitting)
        self.steps: Final = StepAnswers(self.making)
        self.flats: Final = FlatAnswers(self.making)
        self.flags: Final = FlagAnswers(self.making)
        self.silences: Final = SilenceAnswers(self.making)
        self.guards: Final = Guards(sitting.clock, guard_s)
        self.countdown: Final = Countdown(sitting.clock)
        self.idle_s: Final = idle_s
        self.level = level
        self.asked: Final = AskedRecords(next_visit, bites, records, account)
        self._silence = 0.0
        self._moment: Moment | None = None

    @property
    def fault(self) -> str:
        """Why the disk would not take the last mark, and what to note by hand; empty when all is well."""
        return self.making.fault

    @property
    def moment(self) -> Moment:
        """This moment, made once after each change of state or guidance."""
        state, made = self.sitting.state, self._moment
        if made is None or made.state is not state or made.level is not self.level:
            made = self._moment = Moment(
                state,
                self.sitting.saw,
                self.level,
                self.asked.bites(state),
                self.asked.next_words(state),
                self.idle_s,
                self.asked.of_saw(state),
                self.asked.account(state),
                self.silences.strokes,
            )
        return made

    def told_more(self) -> bool:
        """Whether records that were read meanwhile say more at this moment than was known when it was made."""
        before, self._moment = self._moment, None
        now = self.moment
        return before is not None and (now.records, now.next_time) != (before.records, before.next_time)

    def act(self, act: Act, digit: int = 0) -> Reply:
        """Do ``act`` (with ``digit`` for STROKES)."""
        if self.fault and act is not Act.QUIT:
            return self.making.read_again() if act is Act.AGREE else Reply(self.fault, refused=True)
        silence = self.guards.silence_s()
        if self.countdown.seconds is not None:
            if self.countdown.over_s() >= UNSEEN_S:
                self._silence = max(self._silence, silence)
            self.countdown.hold()
            return Reply("The countdown is held; nothing was marked.", refused=True)
        if act in ADVANCES and self.guards.repeats():
            return Reply(f"Ignored: a second press within {whole_number(self.guards.guard_s * 1000)} ms.", refused=True)
        state, now = self.sitting.state, self.moment.front
        if act in ADVANCES and self.guards.meant_for_another(act, kind_of(now)):
            asked = self.moment.said.title
            return Reply(f"Ignored: something else is asked now: {asked}.", refused=True, unread=True)
        # A look at the help does not end a silence: the place is found again before anything is marked of it.
        silence = self._silence = max(self._silence, silence)
        if act in _OF_A_PLACE:
            self._silence = 0.0
        away = act in _OF_A_PLACE and now.ask not in _AT_REST and bool(state.marks)
        # A look over takes its time: it is no silence.
        away = away and (state.place is None or state.place.stage is not Stage.LOOK_OVER)
        # The limit is never under the least silence, so that most keys need not know the pace.
        if away and silence > self.idle_s and silence > self.moment.silence_limit_s:
            counted = {Act.STROKES: max(digit, 0), Act.AS_ADVISED: self.moment.advised or 0}.get(act, 0)
            self.silences.ask(now.place if now.ask is Ask.WORK else None, counted)
            resumed = acts.resume(state, self.making.at(), after="no key", seconds=silence)
            return self.making.make(resumed, note=f"{span(silence)} without a key: find the place on the saw first.")
        if act in _SHOWS:
            return Reply(opens=_SHOWS[act])
        return self.steps.with_flats(self._act(act, now, digit))

    def _act(self, act: Act, now: Front, digit: int) -> Reply:
        match act:
            case Act.DONE:
                return self._done(now)
            case Act.STROKES:
                return self._digit(now, digit)
            case Act.AS_ADVISED:
                strokes = self.moment.advised if now.ask is Ask.WORK else None
                return self.filed(strokes) if strokes else Reply(none_advised(self.moment), refused=True)
            case Act.AGREE:
                return self._agree(now)
            case Act.TAKE_BACK:
                return take_back(self.making, self.moment)
            case Act.PAUSE:
                return pause(self.making, now.ask)
            case Act.GUIDANCE:
                levels = list(Level)
                self.level = levels[(levels.index(self.level) + 1) % len(levels)]
                return Reply(f"Guidance: {self.level}.")
            case Act.MORE if now.place is not None and now.place.stage is Stage.LEVEL:
                return self.steps.add(Stage.LEVEL)
        if (opens := self._opens(act, now)) is not None:
            return Reply(opens=opens)
        if act is Act.FLAG and self._offered(act):
            known = now.place in flags_left(self.sitting.state)
            return Reply(opens=QuestionKind.FLAG_WORD) if known else self.flag()
        if act is Act.SET_PLACE and now.ask.holds:
            return Reply("First answer this; the place can be set after it.", refused=True)
        return Reply(not_here(act, now), refused=True)

    def _opens(self, act: Act, now: Front) -> QuestionKind | None:
        """What has to be asked before ``act`` can be made, or None when it is not possible or asks nothing."""
        state = self.sitting.state
        match act:
            case Act.DIFFER if now.ask is Ask.FIT and now.name == LEAN_ITEM:
                return QuestionKind.LEAN
            case Act.DIFFER | Act.SET_PLACE if state.place is not None or now.ask is Ask.CHECK:
                return QuestionKind.SET_PLACE if now.ask in _PLACE_SET else None
            case Act.LEAVE_OUT if self._offered(act):
                return QuestionKind.REASON
            case Act.ANSWER if now.place is not None and of_a_flat(now.place) and self._offered(act):
                return QuestionKind.REST
            case Act.ANSWER if now.ask is Ask.WORK and self.steps.asks() is not None:
                return QuestionKind.ANSWER
            case Act.MORE if Did.ADDED in self.moment.allowed:
                return QuestionKind.REMEDY if fault_to_mend(state) else QuestionKind.MORE
            case Act.TIMER if can_time(now):
                return QuestionKind.TIMER
        return None

    def _offered(self, act: Act) -> bool:
        return any(offer.act is act for offer in self.moment.offers)

    def touched(self) -> None:
        """Keys were pressed that are no acts, such as typing an answer: that was no silence."""
        self.guards.silence_s()

    def leave_out(self, reason: str) -> Reply:
        """Leave the place in hand out for ``reason``."""
        return left_out(self.making, self.moment, reason)

    def flag(self, word: str | None = None) -> Reply:
        """Flag the place in hand; a ``word`` tells its flag from others."""
        state, about = self.sitting.state, f": {word}" if word else "; once more: a word for it."
        return self.making.make(acts.flag(state, self.making.at(), word), note=f"Flagged {state.place}{about}")

    def set_place(self, target: Place) -> Reply:
        """Make ``target`` the place in hand, close the check point or confirm the place."""
        return set_place(self.making, target)

    def time(self, seconds: int) -> Reply:
        """Begin hands-free work, each place after so many seconds."""
        self.countdown.start(seconds)
        return Reply(f"Hands-free: {seconds} s for each place. Any key holds it.")

    def tick(self, *, shown: bool = True) -> Reply | None:
        """Time has passed: mark the place when its countdown is over; None while there is nothing to say.

        shown: whether the place in hand has really been shown. Nothing is marked of a place that nobody could see, nor
        when its time was up long ago: then the program was not running, as while the machine sleeps.
        """
        if self.countdown.seconds is None:
            return None
        reply = timed(self.making, self.moment, self.countdown, shown=shown)
        if reply is not None and self.countdown.seconds is not None:
            # The clock counts as a hand here, or the next real press would be taken for one after a long silence.
            self.guards.silence_s()
        return reply

    def _done(self, now: Front) -> Reply:
        state, at, place = self.sitting.state, self.making.at(), now.place
        match now.ask:
            case Ask.WORK if place is not None and of_a_flat(place):
                return self.flats.done(place)
            case Ask.WORK if place is not None and place.step == PLAN_STEP:
                return self.steps.plan.settle(self.moment.judged, self.moment.against)
            case Ask.WORK if (verdict := self.moment.verdict) is not None:
                return self.steps.by_verdict(verdict.asks)
            case Ask.WORK if place is not None and self.moment.unanswered:
                # The looks are skipped one after the other; what is measured after work is easily gone past unread.
                if place.stage is not Stage.LOOK_OVER and self.guards.hardly_read((place, state.next_seq)):
                    return Reply(f"Not answered yet: {self.moment.said.title}. Once more skips it.", refused=True)
                return skipped(self.making, self.moment, place)
            case Ask.WORK if place is not None:
                return gone_on(self.making, self.moment, place)
            case Ask.SHIFT:
                return self.making.make(acts.shift(state, at), note=f"Marked: the saw is {stood(state)}.")
            case Ask.END:
                return self.making.make(acts.finish(state, at), note="Finished. All is saved.")
            case Ask.PAUSED:
                return Reply("Paused: go on first.", refused=True)
            case Ask.CONFIRM if after_silence(state):
                return self.silences.undecided()
            case _:
                return Reply("This waits for a yes by its own key, not for the one that moves on.", refused=True)

    def _digit(self, now: Front, digit: int) -> Reply:
        place = now.place
        if (flagged := self.flags.digit(digit)) is not None:
            return flagged
        if now.ask is Ask.CONFIRM and after_silence(self.sitting.state):
            return self.silences.answer(digit)
        if now.ask is not Ask.WORK or place is None:
            return Reply("A digit answers nothing here.", refused=True)
        if of_a_flat(place):
            return self.flats.digit(place, digit)
        if place.kind is Kind.GULLET:
            return self.filed(digit) if digit else Reply(opens=QuestionKind.STROKES)
        # A look all round that finds nothing new saves the looks for broken and low teeth, and mends none.
        return self.steps.choose(place, digit, self.moment, known_still(self.moment))

    def filed(self, strokes: int) -> Reply:
        """The gullet in hand is done with so many strokes, besides those that a look again finds counted there."""
        return filed(self.making, self.moment, strokes)

    def _agree(self, now: Front) -> Reply:
        state, at, place = self.sitting.state, self.making.at(), now.place
        match now.ask:
            case Ask.CAUTION:
                reply = self.making.make(acts.acknowledge(state, at), note=f"Understood: {now.name}.")
                return reply if reply.refused else self._seen_before() or reply
            case Ask.TURN:
                return turned(self.making, now)
            case Ask.FIT:
                return self.steps.fitted(now.name)
            case Ask.CHECK:
                return self.flags.checked()
            case Ask.WORK if place is not None and place.step == PLAN_STEP:
                return self.steps.plan.as_advised(self.moment.judged, self.moment.against)
            case Ask.FINISHED:
                return Reply(opens=QuestionKind.TILL)
            case Ask.CONFIRM if after_silence(state):
                return self.silences.undecided()
            case Ask.CONFIRM:
                note = f"Found again: {state.place or 'the end'} is next."
                return self.making.make(acts.confirm(state, at, "yes"), note=note)
            case _:
                return Reply("Nothing is asked that a yes would answer.", refused=True)

    def _seen_before(self) -> Reply | None:
        """What was seen before the bench was opened is recorded as soon as the first look is asked for."""
        seen, state = self.sitting.seen, self.sitting.state
        if seen is None or state.front.ask is not Ask.WORK or state.place is None:
            return None
        self.sitting.seen = None
        return record_seen(self.making, seen) if state.place.stage is Stage.LOOK_OVER and not state.measured else None
