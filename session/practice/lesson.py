"""The practice: ten teeth graded, filed from one side, turned, filed from the other, and what was learned of it.

It knows the steel and tells it: whoever practices sees at once what a stroke did. Nothing is recorded anywhere.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.practice.lesson_end import Learned
from session.practice.practice_line import GULLETS, SAW, TEETH, PracticeLine
from session.sentences.offers import Act
from session.texts.wording import capital
from session.trade.evening import Lean
from session.trade.grades import WORDS
from session.trade.leveling import PASS_MM
from session.trade.rounding import decimals, percent, whole_number
from session.trade.sides import gullets_of_side
from session.value_class import dataclass, field, fields

#: Of a flat, the share gone within which a gullet of side 1 was left in time: half of it is meant to go.
IN_TIME: Final = (0.3, 0.7)

#: Of a flat, the share that may be left after side 2: what no eye at the bench would go back for.
MAY_STAY: Final = 0.1

_LEANS: Final = (Lean.HEEL, Lean.STRAIGHT, Lean.TOE)
_GRADES: Final = ", ".join(f"{n} {word}" for n, word in enumerate(WORDS))


class LessonAsks(StrEnum):
    """What is asked now."""

    GRADE = "grade"
    LEAN = "lean"
    STROKES = "strokes"
    GUIDE = "guide"
    FIRST = "first gullet"
    END = "end"


@dataclass(slots=True)
class Lesson:
    """One practice on the line of ``seed``. ``act`` does what a key means and gives a sentence on what came of it."""

    seed: int = 1
    line: PracticeLine = field(init=False)
    asks: LessonAsks = LessonAsks.GRADE
    side: int = 1
    learned: Learned = field(default_factory=Learned)
    tooth: int = 1
    _left: list[int] = field(default_factory=list)
    lean: Lean = Lean.STRAIGHT
    _strokes: int = 0
    _warned: bool = False
    told: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.line = PracticeLine(self.seed)

    @property
    def gullet(self) -> int:
        """The gullet in hand; while grading, the tooth."""
        return self._left[0] if self._left else self.tooth

    def act(self, act: Act, digit: int = 0) -> str:
        """Do ``act``; what came of it in words. What cannot be done now is said and changes nothing."""
        match self.asks, act:
            case LessonAsks.GRADE, Act.STROKES:
                return self._grade(digit)
            case LessonAsks.GRADE, Act.DONE if self.told:
                return self._grade(self.told[-1])
            case LessonAsks.GRADE, Act.TAKE_BACK if self.told:
                self.told.pop()
                self.tooth -= 1
                self.learned.grades.pop()
                return f"Tooth {self.tooth} is graded once more."
            case LessonAsks.LEAN, Act.STROKES if 1 <= digit <= len(_LEANS):
                return self._lean_to(_LEANS[digit - 1])
            case LessonAsks.STROKES, Act.STROKES if digit:
                return self._file(digit)
            case LessonAsks.STROKES, Act.MORE:
                return self._file(1, light=True)
            case LessonAsks.STROKES, Act.DONE:
                return self._leave()
            case ((LessonAsks.LEAN | LessonAsks.STROKES), Act.TAKE_BACK):
                return "At the bench Backspace takes back a mark. It never gives back steel."
            case LessonAsks.LEAN, Act.LEAVE_OUT:
                return self._leave()
            case LessonAsks.GUIDE, Act.STROKES if digit in (1, 2):
                return self._guide(digit)
            case LessonAsks.FIRST, Act.STROKES if 1 <= digit <= 3:
                return self._first(digit)
            case LessonAsks.END, Act.DONE:
                self._begin_anew()
                return "Another ten teeth."
        return "That key does nothing here."

    def _begin_anew(self) -> None:
        """Forget all and take the next ten teeth."""
        other = Lesson(self.seed + 1)
        for one in fields(self):
            setattr(self, one.name, getattr(other, one.name))

    def _grade(self, digit: int) -> str:
        if digit >= len(WORDS):
            return f"A grade is {_GRADES}."
        tooth, truth = self.tooth, self.line.grade(self.tooth)
        self.learned.grades.append((digit, truth))
        self.told.append(digit)
        if tooth < TEETH:
            self.tooth += 1
        else:
            self._begin_side(1)
        low = " It has no flat: a low tooth, nothing may come off it." if not truth else ""
        if digit == truth:
            return f"Tooth {tooth}: {WORDS[truth]}, as the plate has it.{low}"
        return f"Tooth {tooth}: the plate has {truth}, {WORDS[truth]}; you said {digit}, {WORDS[digit]}.{low}"

    def _begin_side(self, side: int) -> None:
        self.side, self._left = side, [k for k in gullets_of_side(side, TEETH, SAW.first_leans) if k in GULLETS]
        self._begin_gullet()

    def _begin_gullet(self) -> None:
        self.asks, self._strokes, self._warned = LessonAsks.LEAN, 0, False

    def _lean_to(self, lean: Lean) -> str:
        best = self.line.best_lean(self.gullet)
        self.learned.leans.append(lean is best)
        self.lean, self.asks = lean, LessonAsks.STROKES
        told = pressed(lean, self.gullet)
        if lean is best:
            return f"{capital(told)}: so print has it here."
        behind, ahead = self.line.grade(self.gullet), self.line.grade(self.gullet + 1)
        why = f"flat {self.gullet} is a {behind} and flat {self.gullet + 1} a {ahead}"
        return f"Print would say: {pressed(best, self.gullet)}, as {why}. You {told}; see what comes of it."

    def _file(self, strokes: int, *, light: bool = False) -> str:
        before = {tooth: self.line.lowered_mm(tooth) for tooth in self._pair()}
        for _ in range(strokes):
            self.line.stroke(self.gullet, self.lean, light=light)
        self._strokes += strokes
        if lowered := [t for t in self._pair() if self.line.lowered_mm(t) > max(before[t], PASS_MM)]:
            return f"Too far. {self._cost(max(lowered, key=self.line.lowered_mm))}"
        return self._gone()

    def _gone(self) -> str:
        told = [f"of flat {t} {percent(self.line.gone(t))} is gone" for t in self._pair() if self.line.leveled[t]]
        said = f"{self._strokes} so far: {', '.join(told)}."
        if self.side == 1 and any(self.line.gone(t) > IN_TIME[1] for t in self._pair() if self.line.leveled[t]):
            return f"{said} Too far: that is more than half, and side 2 finds too little."
        return said + (" Go on light, or leave it." if self._near() else "")

    def _near(self) -> bool:
        wanted = 0.35 if self.side == 1 else 0.8
        return any(self.line.gone(tooth) >= wanted for tooth in self._pair() if self.line.leveled[tooth])

    def _cost(self, tooth: int) -> str:
        """What it would cost to have ``tooth`` in the line again."""
        low = -self.line.plate.tooth(tooth).top
        passes = max(1, whole_number(low / PASS_MM))
        times = "1 pass" if passes == 1 else f"{passes} passes"
        return (
            f"Tooth {tooth} is {decimals(low, 2)} mm low: it idles until the others come down, or costs {times} of the "
            "flat file over every tooth, and all filed again."
        )

    def _leave(self) -> str:
        gullet = self.gullet
        if not self._strokes and any(self.line.grade(t) for t in self._pair()) and not self._warned:
            self._warned = True
            return "No stroke was given here. The same key again leaves it as it is."
        self.learned.stops.append(self._stopped())
        told = {"in time": "in time", "early": "early: steel is left standing", "far": "too far"}
        said = f"Gullet {gullet} was left {told[self.learned.stops[-1]]}."
        self._left.pop(0)
        if self._left:
            self._begin_gullet()
            return said
        if self.side == 1:
            self.asks = LessonAsks.GUIDE
            return f"{said} Side 1 is done."
        self.learned.low = {t: self._cost(t) for t in range(1, TEETH + 1) if self._was_lowered(t)}
        self.learned.standing = [t for t in range(2, TEETH) if self.line.gone(t) < 1.0 - MAY_STAY]
        self.asks = LessonAsks.END
        return f"{said} Both sides are done."

    def _was_lowered(self, tooth: int) -> bool:
        return self.line.lowered_mm(tooth) > PASS_MM

    def _stopped(self) -> str:
        teeth = [t for t in self._pair() if self.line.leveled[t]]
        shares = [self.line.gone(t) for t in teeth]
        past_half = self.side == 1 and any(share > IN_TIME[1] for share in shares)
        if past_half or any(map(self._was_lowered, self._pair())):
            return "far"
        # The first and the last tooth get the rest of theirs from a gullet beyond.
        inner = [self.line.gone(t) for t in teeth if 1 < t < TEETH]
        least = IN_TIME[0] if self.side == 1 else 1.0 - MAY_STAY
        return "early" if any(share < least for share in (shares if self.side == 1 else inner)) else "in time"

    def _guide(self, digit: int) -> str:
        if digit == 1:
            self.learned.guide_forgotten = True
            return (
                f"The trap: as it is, the block holds the file at {SAW.rake:g}° the other way, and every front comes "
                f"to lean forward {SAW.rake:g}°. It has a face for each side: turn it over."
            )
        self.asks = LessonAsks.FIRST
        return (
            f"Right: for this side the {SAW.rake:g}° are on the block's other face, and the fleam slants the other way."
        )

    def _first(self, digit: int) -> str:
        if digit % 2:
            self.learned.wrong_parity = True
            return (
                f"The trap: gullet {digit} was filed from side 1. Filed again, its flats lose twice, gullet 2 gives "
                "nothing, and the teeth come out big and small by turns."
            )
        self._begin_side(2)
        return "Right: every other gullet, and from this side those that were passed over."

    def _pair(self) -> tuple[int, int]:
        return self.gullet, self.gullet + 1

    @property
    def flats_beside(self) -> str:
        """The flats beside the gullet in hand, by their numbers; a low tooth has none."""
        found = [str(tooth) for tooth in self._pair() if self.line.leveled[tooth]]
        return f"flat{'s' if len(found) > 1 else ''} {' and '.join(found)}"


def pressed(lean: Lean, gullet: int) -> str:
    """How the file is held in ``gullet``, as a demand."""
    if lean is Lean.STRAIGHT:
        return "hold it straight"
    return f"press to the {lean}, on tooth {gullet if lean is Lean.HEEL else gullet + 1}"
