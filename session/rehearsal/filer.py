"""A simulated filer: reads what the program says, does it to a simulated plate, and answers.

It goes by the words alone (`session.sentences.saying.Saying`) and by what it sees on its own plate; it never looks
at the state. So it finds out when the words lead a person astray.
"""

from __future__ import annotations

from random import Random
from typing import Final

from session.advice.flats_verdict import GO_ON, offered_as
from session.desk.question import Question
from session.rehearsal.cut_judgment import no_steel
from session.rehearsal.diary import Deed, Kept
from session.rehearsal.eyes import Eyes
from session.rehearsal.filer_hands import Hands
from session.rehearsal.filer_move import (
    FLAG_IN,
    FREE_FIRST_IN,
    GRADES_SHARE,
    MOST_MORE,
    MOST_REMEDIES,
    RESHAPES_IN,
    SLIP_IN,
    Move,
    offered,
)
from session.rehearsal.hand_habits import Habit, habit_of
from session.rehearsal.own_count import OwnCount
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.stroke_shares import named_shares, usual_shares
from session.rehearsal.worn_plate import worn_plate
from session.sentences.flat_words import STRIP_TITLE
from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.texts.steps import step
from session.trade.saw import Saw
from session.trade.strip_readings import key_of
from session.walk.front_question import Ask
from session.walk.measurables import BIG_AND_SMALL, GOOD, GRADE_ON_STRIP
from session.walk.stages import PLAN_STEP, Stage

SETTLE: Final = step(Stage.LOOK_OVER, PLAN_STEP).title
_SIZES: Final = offered_as(BIG_AND_SMALL)


class Filer:
    """Works through one sharpening of ``saw``; everything follows from ``seed``.

    plate: what the work has done; a worn one of the seed unless given, with ``points`` teeth or the recipe's count.
    differed, doubted: a sentence for each place where the program's count and its own did not agree, and for each
    gullet in which it saw a flat and the program nothing to take. habit: what its hands do wrong until a trial cut has
    told it; None for that of the seed. strip: whether it has a printed strip, to tell by it where the flats lie.
    diary: what it did, in order. remedies: those that it added. tally: its own count along the line.
    """

    def __init__(
        self,
        saw: Saw,
        seed: int,
        *,
        points: int | None = None,
        habit: Habit | None = None,
        strip: bool = False,
        plate: SimulatedPlate | None = None,
    ) -> None:
        self._rng: Final = Random(seed)
        self.saw: Final = saw
        self.plate: Final = worn_plate(saw, self._rng, points) if plate is None else plate
        self.differed: Final[list[str]] = []
        self.doubted: Final[list[str]] = []
        self.diary: Final[list[Deed]] = []
        self.remedies: Final[list[str]] = []
        self._hands = Hands(self.plate, self._rng, habit_of(seed) if habit is None else habit)
        self._eyes = Eyes(self.plate)
        self.tally: Final = OwnCount(saw, frozenset(self.plate.broken()))
        self._grades = self._rng.random() < GRADES_SHARE
        self._strip: Final = strip
        self._way = GRADE_ON_STRIP if strip else "grade them"
        self._pauses_at: Final = self._rng.randrange(1, max(2, self.plate.points // 3))
        self._rests_s = self._rng.uniform(90.0, 400.0)
        self._paused = self._advised = self._graded = self._counted = self._measured = self._proved = False
        # Some want their teeth of one size, whatever is advised; some try what costs no steel before anything else.
        self._reshapes = seed % RESHAPES_IN == RESHAPES_IN - 1
        self._free_first: Final = seed % FREE_FIRST_IN == 1
        self._more, self._last_grade, self._mended_set = 0, -1, False
        # What was told at the place stood at, the flagged place, and the gullet of a wrong digit.
        self._here: tuple[object, ...] = ()
        self._told: Move | None = None
        self._flagged: tuple[object, ...] = ()
        self._slip: int | None = None

    def next(self, saying: Saying) -> Move | None:
        """What is done on hearing ``saying``; None once the sharpening is finished."""
        slipped, self._slip = self._slip, None
        if slipped is not None and saying.previous.startswith(f"done {slipped} ") and offered(saying, Act.TAKE_BACK):
            # The wrong digit was pressed: the mark is taken back, and the place then gets the right one.
            return self._move(Act.TAKE_BACK, 1.5, 4)
        match saying.ask:
            case Ask.FINISHED:
                return None
            case Ask.PAUSED:
                return self._move(Act.PAUSE, self._rests_s, self._rests_s)
            case Ask.CAUTION:
                return self._move(Act.AGREE, 3, 7)
            case Ask.TURN:
                if saying.instruction.startswith("Turn the saw"):
                    self._keep(Kept.TURN, None, 1 if "to your right" in saying.instruction else 2)
                return self._move(Act.AGREE, 4, 15)
            case Ask.FIT:
                return self._fit(saying)
            case Ask.SHIFT:
                self._keep(Kept.SHIFT, saying.stage, 0 if saying.stage is Stage.DRESS else saying.side)  # laid flat
                return self._move(Act.DONE, 10, 25)
            case Ask.END:
                return self._move(Act.DONE, 2, 4)
            case Ask.CHECK:
                return self._check(saying)
            case Ask.CONFIRM:
                return self._confirm(saying)
            case Ask.WORK:
                return self._work(saying)

    def _fit(self, saying: Saying) -> Move:
        """Put the guides on as told; of the lean of tooth 1 say what the plate shows, whatever is expected."""
        if (leans := self._eyes.lean_asked(saying.instruction)) is None:
            return self._move(Act.AGREE, 5, 20)
        self._keep(Kept.TOLD, saying.stage, text=leans)
        agrees = self._eyes.leans_as_told(saying.instruction, saying.side)
        return self._move(Act.AGREE if agrees else Act.DIFFER, 5, 15)

    def choose(self, question: Question) -> str:
        """What it answers to a question that its last act opened: a lean, a wrong set, or the fault that it saw."""
        if question.title.startswith("Which way"):
            return next(one for one in question.choices if one.startswith(self._eyes.first_leans()))
        if question.title.startswith("The set is too"):
            # Once what is offered against it, then it is left.
            chosen, self._mended_set = question.choices[-1 if self._mended_set else 1], True
            if "once more" in chosen:
                self._keep(Kept.ASKED, None, text=chosen)
            return chosen
        fault = self._eyes.fault
        if fault is None or len(self.remedies) >= MOST_REMEDIES:
            return question.choices[-1]
        free = no_steel(question.choices) if self._free_first and not self.remedies else None
        chosen = free or fault.pick(question.choices)
        if chosen != question.choices[-1]:
            self.remedies.append(chosen)
            self._keep(Kept.ASKED, None, text=chosen)
        if free is None:
            # The cut has told the hands what they did wrong.
            self._hands.habit = Habit.STEADY
        return chosen

    def _keep(self, kept: Kept, stage: Stage | None, *numbers: int, text: str = "") -> None:
        self.diary.append(Deed(kept, stage, numbers, text))

    def _check(self, saying: Saying) -> Move:
        """Compare the last place that the program names with the own count."""
        own = self.tally.last
        if own is not None:
            self._keep(Kept.CHECK, saying.stage, own)
        return self._compare(saying, saying.lines[0], own, (own,)).or_last_choice(saying)

    def _confirm(self, saying: Saying) -> Move:
        """Find the place again: the one after the last, or the last itself when its mark was not made yet."""
        own = self.tally.expected(saying)
        return self._compare(saying, saying.instruction, own, (own, self.tally.named)).or_last_choice(saying)

    def _compare(self, saying: Saying, place: str, own: int | None, agree: tuple[int | None, ...]) -> Move:
        named, after = self._eyes.number_in(place), self.tally.following()
        if own is None or after is None or named is None or named in agree:
            return self._move(Act.AGREE, 4, 12)
        self.differed.append(f"{saying.stage}, side {saying.side}: {named} on screen, {own} by count")
        self.tally.place_set()
        # Whatever was told last was told of another place.
        self._here, self._told = (), None
        return self._move(Act.DIFFER, 10, 30, text=str(after))

    def _work(self, saying: Saying) -> Move:
        here = (saying.stage, saying.side, saying.numeral, saying.title, saying.of)
        if here == self._here and self._told is not None:
            # The mark did not come about, or was taken back: the steel is as it was left, so only tell again.
            told = self._told
            return Move(told.act, told.digit, told.text, round(self._rng.uniform(2.0, 5.0), 1))
        self._here, self._told = here, None
        if self.tally.is_tooth(saying):
            return self._at_tooth(saying)
        move = self._at_step(saying)
        # Agreeing to the advice, a cut's numbers, a stage moved and sizes told leave the step to be answered once more.
        sizes = _SIZES in saying.choices and move.digit == saying.choices.index(_SIZES) + 1
        answered = move.act is Act.AGREE or (move.act is Act.ANSWER and bool(saying.choices))
        stays = answered or sizes or saying.title == SETTLE
        self._told = None if stays else move
        self._measured = stays
        return move

    def _at_tooth(self, saying: Saying) -> Move:
        if self._pauses_now(saying):
            self._paused = True
            self._keep(Kept.PAUSE, None)
            return self._move(Act.PAUSE, 2, 5)
        if saying.stage is Stage.FILE and self._flagged != self._here and self._rng.randrange(FLAG_IN) == 0:
            self._flagged = self._here
            self._keep(Kept.FLAG, saying.stage, int(saying.numeral))
            return self._move(Act.FLAG, 1, 3)
        filing = saying.stage is Stage.FILE
        tooth = self.tally.stand(saying, self._eyes.nothing_at) if filing else self.tally.stand(saying)
        match saying.stage:
            case Stage.SET:
                move = self._set(tooth, saying.side)
            case Stage.LEVEL:
                move = self._place(tooth) if saying.title == STRIP_TITLE else self._grade(tooth)
            case _:
                move = self._file(saying, tooth)
        self._told = move
        if saying.stage is Stage.FILE and move.act is Act.STROKES and self._rng.randrange(SLIP_IN) == 0:
            self._slip = int(saying.numeral)
            return Move(move.act, move.digit % 9 + 1, takes_s=move.takes_s)
        return move

    def _pauses_now(self, saying: Saying) -> bool:
        return not self._paused and saying.stage is Stage.FILE and saying.done >= self._pauses_at % max(1, saying.total)

    def _set(self, tooth: int, side: int) -> Move:
        if tooth in self.plate.broken():
            return self._leave_out(Stage.SET, tooth, "broken tooth")
        if not self.plate.leans_away(tooth, side):
            return self._leave_out(Stage.SET, tooth, "leans the other way")
        self._hands.bend(tooth, side, self.saw)
        self._keep(Kept.BEND, Stage.SET, tooth, side)
        return self._move(Act.DONE, 1.5, 4)

    def _leave_out(self, stage: Stage | None, tooth: int, reason: str) -> Move:
        self._keep(Kept.LEFT_OUT, stage, tooth, text=reason)
        return self._move(Act.LEAVE_OUT, 3, 6, text=reason)

    def _grade(self, tooth: int) -> Move:
        if tooth in self.plate.broken():
            return self._leave_out(Stage.LEVEL, tooth, "broken tooth")
        grade = self._eyes.grade(tooth)
        self._keep(Kept.GRADE, Stage.LEVEL, tooth, grade)
        as_before, self._last_grade = grade == self._last_grade, grade
        return self._move(Act.DONE, 0.8, 2) if as_before else self._move(Act.STROKES, 1, 2.5, digit=grade)

    def _place(self, tooth: int) -> Move:
        quarters = self._eyes.place_on_strip(tooth, self._rng)
        self._keep(Kept.PLACE, Stage.LEVEL, tooth, quarters)
        return self._move(Act.STROKES, 1, 3, digit=key_of(quarters))

    def _file(self, saying: Saying, gullet: int) -> Move:
        nothing, heel = self._eyes.nothing_at(gullet), self._eyes.first_back_in(saying.lines)
        # Told where the flats lie, it takes the program's word for it that a gullet gives nothing.
        spared = self._strip and self._eyes.forbids(saying.instruction)
        if not self._strip and not nothing and self._eyes.forbids(saying.instruction):
            self.doubted.append(f"{saying.stage}: nothing to take in gullet {gullet} on screen, a flat on the saw")
        if nothing and not (heel and self._eyes.sees(1)):
            return self._leave_out(saying.stage, gullet, self._eyes.why_not(gullet))
        strokes, named = 0, self._eyes.shares_in(saying)
        if not spared:
            half = self._eyes.half_in(saying.instruction)
            usual = usual_shares(saying, gullet, half=half, from_toe=self.tally.from_toe)
            behind, ahead = named_shares(saying, named, self._rng) if named else usual
            # A share that was named says what goes of each flat, however the file is pressed.
            lean = "" if named else self._eyes.lean_in(saying.instruction)
            strokes = self._hands.file(gullet, saying.side, behind=behind, ahead=ahead, lean=lean)
        if heel:
            strokes = max(strokes, self._hands.file_heel(0.5 if saying.side < saying.sides else 1.0))
        if (spared or named) and not strokes:
            self._keep(Kept.FILE, saying.stage, gullet, saying.side, 0)
            return self._move(Act.DONE, 1, 3)
        self._keep(Kept.FILE, saying.stage, gullet, saying.side, strokes)
        return self._move(Act.STROKES, 1 + strokes, 2 + 1.3 * strokes, digit=max(1, strokes))

    def _at_step(self, saying: Saying) -> Move:
        """A pass, or a named step: looked at, measured, or simply done."""
        if saying.of.startswith("pass"):
            if saying.stage is Stage.DRESS:
                self._hands.dress(saying.side)
                self._keep(Kept.STONE, saying.stage, saying.side)
                return self._move(Act.DONE, 8, 20)
            self._hands.level()
            self._keep(Kept.PASS, saying.stage)
            self._graded = self._counted = False
            self._last_grade = -1
            return self._move(Act.DONE, 15, 35)
        if saying.stage is Stage.LEVEL:
            return self._after_leveling(saying)
        self._more = 0
        otherwise = any("as advised" in choice for choice in saying.choices)
        if offered(saying, Act.AGREE) and otherwise and not self._advised and self._eyes.advised(saying.lines):
            self._advised = True
            return self._move(Act.AGREE, 10, 30)
        stages = [choice.partition(",")[0] for choice in saying.choices]  # what is advised of it may stand behind
        if self._reshapes and "reshape: out" in stages and "level: in" in stages:
            self._reshapes, self._advised = False, True  # whoever wants it so does not take the advice after it
            return self._move(Act.STROKES, 3, 8, digit=stages.index("reshape: out") + 1)
        if saying.stage is Stage.PROVE and self._measured and GOOD in saying.choices:
            self._proved = True
            fault = self._eyes.fault
            return self._chosen(saying, GOOD if fault is None else fault.name, 3, 8)
        answer = self._eyes.answer(saying, self._rng)
        if answer is None:
            self._keep(Kept.STEP, saying.stage, text=saying.title)
            return self._move(Act.DONE, 5, 25)
        if answer in saying.choices:
            return self._chosen(saying, answer, 5, 20)
        self._keep(Kept.TOLD, saying.stage, text=answer)
        if not saying.choices:
            self._keep(Kept.STEP, saying.stage, text=saying.title)
        return self._move(Act.ANSWER, 20, 55, text=answer)

    def _chosen(self, saying: Saying, answer: str, least_s: float, most_s: float) -> Move:
        """Answer with one of the choices, which ends the step."""
        self._keep(Kept.TOLD, saying.stage, text=answer)
        self._keep(Kept.STEP, saying.stage, text=saying.title)
        return self._move(Act.STROKES, least_s, most_s, digit=saying.choices.index(answer) + 1)

    def _after_leveling(self, saying: Saying) -> Move:
        """Tell how many points have no flat, and do what that is answered with; perhaps grade the flats; then good."""
        patient = self._hands.habit is not Habit.IMPATIENT
        if patient and not self._proved and not self._counted:
            self._counted = True
            text = str(self._hands.untouched())
            self._keep(Kept.TOLD, saying.stage, text=text)
            return self._move(Act.ANSWER, 8, 20, text=text)
        # Once a cut told of heights, a line is leveled until its teeth agree; before it, as the program answers.
        more = self._eyes.heights_differ() if self._proved else patient and self._eyes.more_in(saying.lines)
        if more and self._more < MOST_MORE and offered(saying, Act.MORE):
            self._more += 1
            self._keep(Kept.ASKED, None)
            return self._move(Act.MORE, 5, 12)
        way = self._way
        if self._grades and not self._graded and way in saying.choices:
            self._graded = True
            self.tally.begin_anew()
            self._keep(Kept.ASKED, None, text=way)
            return self._move(Act.STROKES, 4, 8, digit=saying.choices.index(way) + 1)
        self._more = 0
        if _SIZES in saying.choices and self._eyes.big_and_small():
            self._keep(Kept.TOLD, saying.stage, text=BIG_AND_SMALL)
            return self._move(Act.STROKES, 4, 10, digit=saying.choices.index(_SIZES) + 1)
        if GO_ON in saying.choices:
            self._keep(Kept.STEP, saying.stage, text=saying.title)
            return self._move(Act.STROKES, 4, 10, digit=saying.choices.index(GO_ON) + 1)
        return self._chosen(saying, "good", 4, 10)

    def _move(self, act: Act, least_s: float, most_s: float, *, digit: int = 0, text: str | None = None) -> Move:
        return Move(act, digit, text, round(self._rng.uniform(least_s, most_s), 1))
