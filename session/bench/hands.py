"""From an act to its marks: the one way of a key press, shared by the screen and the line-by-line mode.

Hands knows no screen. It answers what to say of the act, and what to open when the act needs words first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Final

from session.bench.guards import Guards, span
from session.bench.replies import Opens, Reply
from session.counsel.answers import Answer
from session.counsel.faults import Extra
from session.counsel.guidance import Level
from session.counsel.looked import against
from session.counsel.offers import Act, offers
from session.counsel.saying import Saying, say
from session.counsel.steps import Asks
from session.counsel.steps import step as step_of
from session.counsel.whereabouts import told
from session.records.journal import JournalFault
from session.records.sitting import Refused, Sitting
from session.trade.grades import USUAL
from session.walk import acts
from session.walk.mark import Did, Mark
from session.walk.pace import idle_limit_s
from session.walk.place import Place
from session.walk.rules import Ask, allowed, front
from session.walk.stages import FACTS, Kind, Stage

#: The step that proves the saw, and the verdict that ends it (session/counsel/steps.toml).
TRIAL_CUT: Final = "trial cut"
GOOD: Final = "good"

#: Acts that move on, and so are guarded against a key or pedal that repeats (bench rule 19).
_ADVANCES: Final = frozenset({Act.DONE, Act.STROKES, Act.AGREE})


class Hands:
    """Takes acts for one sitting.

    guard_s: seconds within which a second advance is ignored. idle_s: the least silence after which the
    place is confirmed again. fault: why the disk would not take the last mark, and what to note by hand.
    """

    def __init__(
        self, sitting: Sitting, *, guard_s: float = 0.3, idle_s: float = 60.0, level: Level = Level.TAUGHT
    ) -> None:
        self.sitting: Final = sitting
        self.guards: Final = Guards(sitting.clock, guard_s)
        self.idle_s: Final = idle_s
        self.level = level
        self.fault = ""

    def saying(self) -> Saying:
        """The words of this moment."""
        return say(self.sitting.state, self.sitting.saw, self.level)

    def act(self, act: Act, digit: int = 0) -> Reply:
        """Do ``act`` (with ``digit`` for STROKES)."""
        if self.fault:
            return self._after_fault(act)
        silence = self.guards.silence_s()
        if act in _ADVANCES and self.guards.repeats():
            return Reply(f"Ignored: a second press within {self.guards.guard_s * 1000:.0f} ms.", refused=True)
        state = self.sitting.state
        now = front(state)
        working = now.ask not in (Ask.PAUSED, Ask.CONFIRM, Ask.FINISHED, Ask.END) and bool(state.marks)
        if act in _ADVANCES and working and silence > idle_limit_s(state.marks, floor=self.idle_s):
            resumed = acts.resume(state, self._at(), after="no key", seconds=silence)
            return self._make([resumed], f"{span(silence)} without a key: find the place on the saw first.")
        match act:
            case Act.DONE:
                return self._done(now.ask, now.place)
            case Act.STROKES:
                return self._digit(now.place, now.ask, digit)
            case Act.AGREE:
                return self._agree(now.ask, now.name, now.place)
            case Act.DIFFER | Act.SET_PLACE:
                usable = now.ask in (Ask.CHECK, Ask.CONFIRM, Ask.WORK) and state.place is not None
                return Reply(opens=Opens.SET_PLACE) if usable else self._no(act)
            case Act.TAKE_BACK:
                return self._take_back()
            case Act.FLAG:
                return (
                    self._make([acts.flag(state, self._at())], f"Flagged {state.place}.")
                    if state.place
                    else self._no(act)
                )
            case Act.LEAVE_OUT:
                may = any(offer.act is act for offer in offers(state, now))
                return Reply(opens=Opens.REASON) if may else self._no(act)
            case Act.PAUSE:
                return self._pause(now.ask)
            case Act.ANSWER:
                step = now.ask is Ask.WORK and now.place is not None and now.place.kind is Kind.STEP
                return Reply(opens=Opens.ANSWER) if step and self._asks() is not None else self._no(act)
            case Act.MORE:
                return self._more(now.place)
            case Act.LOOK_BACK:
                return Reply(opens=Opens.LOOK_BACK)
            case Act.GUIDANCE:
                levels = list(Level)
                self.level = levels[(levels.index(self.level) + 1) % len(levels)]
                return Reply(f"Guidance: {self.level}.")
            case Act.TERMS:
                return Reply(opens=Opens.TERMS)
            case Act.HELP:
                return Reply(opens=Opens.HELP)
            case Act.QUIT:
                return Reply(opens=Opens.LEAVE)

    def leave_out(self, reason: str) -> Reply:
        """Leave the place in hand out for ``reason``."""
        state = self.sitting.state
        return self._make([acts.leave_out(state, self._at(), reason)], f"Left out {state.place}: {reason}")

    def answer(self, answers: Iterable[Answer]) -> Reply:
        """Record what was measured at the step in hand, then the step as done."""
        place = self.sitting.state.place
        shown = []
        for one in answers:
            state = self.sitting.state
            mark = acts.measure(state, self._at(), one.what, one.value, unit=one.unit, entered=one.entered)
            reply = self._make([mark], "")
            if reply.refused:
                return reply
            shown.append(f"{one.what}: {one.entered}")
        if place is not None and place.step == TRIAL_CUT:
            # The numbers of a cut do not say whether it was good; the person does, by digit.
            return Reply(f"Noted {', '.join(shown)}. Now how it cut, by digit.")
        reply = self._make([acts.done(self.sitting.state, self._at())], f"Noted {', '.join(shown)}.")
        return reply if reply.refused or place is None else Reply(reply.note)

    def decide(self, stage: Stage, take_in: bool, reason: str) -> Reply:
        """Take a stage into the plan or out of it."""
        word = "in" if take_in else "out"
        return self._make([acts.decide(self.sitting.state, self._at(), stage, take_in, reason)], f"{stage}: {word}.")

    def add(self, stage: Stage, *, side: int = 0, passes: int = 1, reason: str | None = None) -> Reply:
        """Add a pass or a short extra stage."""
        mark = acts.add(self.sitting.state, self._at(), stage, side=side, passes=passes, reason=reason)
        where = f", side {side}" if side else ""
        what = "the flats, tooth by tooth" if passes == 0 else f"{stage}{where}"
        return self._make([mark], f"Added: {what}.")

    def set_place(self, target: Place) -> Reply:
        """Make ``target`` the place in hand, close the check point or confirm the place."""
        state = self.sitting.state
        now = front(state)
        try:
            marks = list(acts.set_place(state, self._at(), target))
        except ValueError as wrong:
            return Reply(f"{wrong}.", refused=True)
        if now.ask is Ask.CHECK and now.place is not None:
            counted = target.tooth or target.number
            marks = [acts.check(state, self._at(), counted), *(replace(mark, seq=mark.seq + 1) for mark in marks)]
        reply = self._make(marks, f"The place is now {target}.")
        if not reply.refused and front(self.sitting.state).ask is Ask.CONFIRM:
            self._make([acts.confirm(self.sitting.state, self._at(), "set")], "")
        return reply

    def _done(self, ask: Ask, place: Place | None) -> Reply:
        state, at = self.sitting.state, self._at()
        match ask:
            case Ask.WORK if place is not None and _graded(place):
                grade = self._last_grade()
                return self._make([acts.grade(state, at, grade)], f"Graded tooth {place.tooth}: {grade}, as before.")
            case Ask.WORK if place is not None:
                strokes = 1 if place.kind is Kind.GULLET else None
                return self._make([acts.done(state, at, strokes=strokes)], f"Marked {_what(place, strokes)}.")
            case Ask.SHIFT:
                return self._make([acts.shift(state, at)], "Marked: the saw is shifted.")
            case Ask.END:
                return self._make([acts.finish(state, at)], "Finished. All is saved.")
            case Ask.FINISHED:
                return Reply(opens=Opens.TILL)
            case Ask.PAUSED:
                return Reply("Paused: Esc goes on.", refused=True)
            case _:
                return Reply("This one is answered by its own key: y says yes.", refused=True)

    def _digit(self, place: Place | None, ask: Ask, digit: int) -> Reply:
        if ask is not Ask.WORK or place is None:
            return Reply("A digit counts strokes; nothing is being filed now.", refused=True)
        state, at = self.sitting.state, self._at()
        if _graded(place):
            return self._make([acts.grade(state, at, digit)], f"Graded tooth {place.tooth}: {digit}.")
        if digit == 0:
            return Reply("0 grades a flat; nothing is graded now.", refused=True)
        if place.kind is Kind.GULLET:
            return self._make([acts.done(state, at, strokes=digit)], f"Marked {_what(place, digit)}.")
        choices = self.saying().choices
        if digit > len(choices) or not choices:
            allowed = f"allowed: 1 to {len(choices)}" if choices else "there is nothing to choose or count here"
            return Reply(f"{digit}: {allowed}.", refused=True)
        if place.step == "plan":
            stage = [s for s in state.plan.order if FACTS[s].optional][digit - 1]
            return self.decide(stage, stage not in state.taken_in, "decided at the look over")
        asks = self._asks()
        if asks is None:
            return Reply("There is nothing to answer here.", refused=True)
        chosen = choices[digit - 1]
        if place.step == TRIAL_CUT:
            return self._verdict(asks.what, chosen)
        if place.stage is Stage.LEVEL and digit > 1:
            return self.add(Stage.LEVEL, passes=1 if digit == 2 else 0, reason=chosen)
        return self.answer([Answer(asks.what, chosen, None, chosen)])

    def _verdict(self, what: str, chosen: str) -> Reply:
        """How the trial cut went: good ends the step, a fault leads to its causes and their remedies."""
        reply = self._make([acts.measure(self.sitting.state, self._at(), what, chosen, entered=chosen)], "")
        if reply.refused:
            return reply
        if chosen != GOOD:
            return Reply(f"Not good yet ({chosen}): choose what to do about it.", opens=Opens.REMEDY)
        return self._make([acts.done(self.sitting.state, self._at())], "Proved: the cut is good.")

    def remedy(self, extras: Iterable[Extra], reason: str) -> Reply:
        """Add the short extra stages of a remedy, none for going on as it is, and end the trial cut."""
        for extra in extras:
            for side in extra.sides if len(extra.sides) == 1 else (0,):
                reply = self.add(extra.stage, side=side, passes=max(1, extra.passes), reason=reason)
                if reply.refused:
                    return reply
        return self._make([acts.done(self.sitting.state, self._at())], reason)

    def _last_grade(self) -> int:
        """The grade given last, or the usual one before any was given."""
        last = self.sitting.state.last_act
        return last.value if last is not None and last.unit == "grade" and isinstance(last.value, int) else USUAL

    def _agree(self, ask: Ask, name: str, place: Place | None) -> Reply:
        state, at = self.sitting.state, self._at()
        match ask:
            case Ask.CAUTION:
                return self._make([acts.acknowledge(state, at)], f"Understood: {name}.")
            case Ask.TURN if name:
                return self._make([acts.acknowledge(state, at)], "Yes: one thing after the other.")
            case Ask.TURN:
                turned = self._make([acts.turn(state, at)], "")
                return turned if turned.refused else Reply(f"Turned. Side {self.sitting.state.side} is in hand.")
            case Ask.CHECK if place is not None:
                return self._make([acts.check(state, at, place.tooth or place.number)], f"Checked: {place} agrees.")
            case Ask.WORK if place is not None and place.step == "plan":
                return self._as_advised()
            case Ask.CONFIRM:
                return self._make([acts.confirm(state, at, "yes")], f"Found again: {state.place or 'the end'} is next.")
            case _:
                return Reply("Nothing is asked that y would answer.", refused=True)

    def _as_advised(self) -> Reply:
        """Take the advice: one decision for each stage on which the plan differs."""
        advised = against(self.sitting.state, self.sitting.saw)
        for one in advised:
            reply = self.decide(one.stage, one.take_in, one.why)
            if reply.refused:
                return reply
        changed = ", ".join(f"{one.stage} {'in' if one.take_in else 'out'}" for one in advised)
        return Reply(f"As advised: {changed}." if advised else "The plan is as advised already.")

    def _take_back(self) -> Reply:
        state = self.sitting.state
        last = state.last_act
        if last is None:
            return Reply("There is nothing to take back.", refused=True)
        return self._make([acts.take_back(state, self._at())], f"Took back: {told(last)}.")

    def _pause(self, ask: Ask) -> Reply:
        state = self.sitting.state
        if ask is Ask.PAUSED:
            since = next(m.at for m in reversed(state.marks) if m.did is Did.PAUSED)
            seconds = (self._at() - since).total_seconds()
            return self._make(
                [acts.resume(state, self._at(), after="pause", seconds=seconds)], f"Rested {span(seconds)}."
            )
        if ask is Ask.FINISHED:
            return self._no(Act.PAUSE)
        return self._make([acts.pause(state, self._at())], "Paused. All is saved.")

    def _more(self, place: Place | None) -> Reply:
        if place is None or Did.ADDED not in allowed(self.sitting.state):
            return self._no(Act.MORE)
        if place.stage is Stage.LEVEL:
            return self.add(Stage.LEVEL)
        return Reply(opens=Opens.MORE)

    def _asks(self) -> Asks | None:
        place = self.sitting.state.place
        return step_of(place.stage, place.step).asks if place is not None and place.step else None

    def _no(self, act: Act) -> Reply:
        return Reply(f"“{act}” is not possible here.", refused=True)

    def _make(self, marks: Iterable[Mark], note: str) -> Reply:
        """Write the marks one by one; what the disk refuses is told and stops the walk."""
        for mark in marks:
            try:
                self.sitting.make(mark)
            except Refused as refused:
                return Reply(f"{refused}.", refused=True)
            except JournalFault as fault:
                self.fault = f"{fault} Note by hand: {told(mark)}."
                return Reply(self.fault, refused=True)
        return Reply(note)

    def _after_fault(self, act: Act) -> Reply:
        if act is Act.QUIT:
            return Reply(opens=Opens.LEAVE)
        if act is not Act.AGREE:
            return Reply(self.fault, refused=True)
        try:
            self.sitting.read_again()
        except (JournalFault, OSError, ValueError) as still:
            self.fault = f"The disk still refuses: {still}"
            return Reply(self.fault, refused=True)
        self.fault = ""
        state = self.sitting.state
        return self._make(
            [acts.resume(state, self._at(), after="no key", seconds=0.0)],
            "The log was read again from disk. Find the place.",
        )

    def _at(self) -> datetime:
        return self.sitting.clock.now()


def _graded(place: Place) -> bool:
    """Whether what is done at this place is to grade a flat."""
    return place.stage is Stage.LEVEL and place.tooth > 0


def _what(place: Place, strokes: int | None) -> str:
    if strokes is None:
        return str(place)
    return f"{place} (1 stroke)" if strokes == 1 else f"{place} ({strokes} strokes)"
