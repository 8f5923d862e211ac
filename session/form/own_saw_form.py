"""The form for one's own saw without a screen: answers kept as typed, and all that follows computed anew."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, Final

from session.advice.sourced_figure import amount
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.form.form_answers import Answers
from session.form.form_fields import BESIDE, CHOICES, KEYS_OF, OPTIONAL, FormField
from session.form.form_outlook import Outlook, outlook
from session.form.form_reading import Reading, read_answers, set_now_mm
from session.form.kept_recipe import KeptRecipe, place_new
from session.form.nearest_saw import Pattern, supplied_patterns
from session.form.saw_draft import SawDraft
from session.form.usual_answers import Usual
from session.form.written_recipe import recipe_text
from session.machine.clock import Clock
from session.machine.disk import REAL, Disk
from session.machine.refusal import Refusal
from session.texts.field_words import FieldWords, field_words
from session.till.begun_forms import EDIT, NEW
from session.till.known_saws import KnownSaw, known_saws
from session.till.saw_file_name import file_stem, slug
from session.till.till_folder import Till
from session.trade.gauge import thickness_mm
from session.trade.lengths import Length, by_inches
from session.trade.told_amounts import ToldCount
from session.value_class import dataclass


def new_saw_form(till: Till, clock: Clock, settings: Settings) -> OwnSawForm:
    """The form for a new saw of ``till``, as it was left. Raises Refusal when another program has it open."""
    return OwnSawForm(till, SawDraft.open(till.path, NEW), clock, unit="mm" if settings.units == "mm" else "in")


def change_form(till: Till, recipe: Path, clock: Clock) -> OwnSawForm:
    """The form for a saw of ``till`` whose recipe is to be changed, as it was left. Raises Refusal."""
    kept = KeptRecipe(recipe)
    unit = "in" if by_inches(kept.recipe.saw.unit) else "mm"
    return OwnSawForm(till, SawDraft.open(till.path, f"{EDIT}{recipe.stem}"), clock, unit=unit, kept=kept)


@dataclass(frozen=True, slots=True)
class FieldPage:
    """One field as it is shown. choices: what may be picked, by number. beside: what tells each from the others, where
    its name does not. typed: the answer as typed, else empty.

    understood: what the answer comes to; else what counts without one. told: whether it was answered so that it could
    be read. wrong: what is wrong with it, and what is allowed. doubt: that it is possible and unlikely. stands: what
    counts without an answer, with its heading and its source. enter: what Enter alone does; empty where nothing.
    """

    name: FormField
    words: FieldWords
    choices: tuple[str, ...]
    typed: str
    understood: str
    told: bool
    wrong: str
    doubt: str
    stands: str
    enter: str
    beside: tuple[str, ...] = ()

    @property
    def rows(self) -> tuple[str, ...]:
        """The choices as a list, each with its number and with what stands beside it, below one another."""
        wide = min(max(map(len, self.choices), default=0), 16) if self.beside else 0
        told = self.beside or ("",) * len(self.choices)
        rows = (f"{choice:<{wide}}  {what}".rstrip() for choice, what in zip(self.choices, told, strict=True))
        return tuple(f" {number:>2}  {row}" for number, row in enumerate(rows, 1))


class OwnSawForm:
    """A form over its draft: each answer is on the medium before anything shows it."""

    def __init__(
        self,
        till: Till,
        draft: SawDraft,
        clock: Clock,
        *,
        unit: str = "in",
        kept: KeptRecipe | None = None,
        disk: Disk = REAL,
    ) -> None:
        self._till: Final = till
        self._draft: Final = draft
        self.clock: Final = clock
        self._disk: Final = disk
        #: The recipe that is changed; None for a new saw.
        self.kept: Final = kept
        self._answers = draft.found or Answers(unit)
        #: How many answers were kept from before when the form was opened.
        self.begun_before: Final = sum(bool(one.text) for one in self._answers.typed.values())
        self._reading: Reading | None = None

    @property
    def answers(self) -> Answers:
        """The answers as typed."""
        return self._answers

    @property
    def unit(self) -> str:
        """The unit of a bare number: "in" or "mm"."""
        return self._answers.unit

    @property
    def unit_word(self) -> str:
        """The same in a word."""
        return "inches" if self.unit == "in" else "millimeters"

    @property
    def fields(self) -> tuple[FormField, ...]:
        """All fields in their order; of a saw that hangs already, those that stand in its recipe."""
        return tuple(name for name in FormField if self.kept is None or name in (FormField.UNITS, *KEYS_OF))

    @property
    def reading(self) -> Reading:
        """What the answers come to."""
        if self._reading is None:
            self._reading = self._read(self._answers)
        return self._reading

    @property
    def outlook(self) -> Outlook:
        """What follows from them."""
        return outlook(self.reading, self.unit)

    @cached_property
    def likes(self) -> Mapping[str, Pattern]:
        """The saws that one may start from: those of the till, then the supplied ones."""
        found = {}
        for file in self._till.saws():
            try:
                recipe = load_recipe(file)
            except Refusal:
                continue  # one that is not in order is no pattern
            if not recipe.saw.zones:
                found[recipe.saw.name] = Pattern(recipe.saw.name, recipe, {})
        for pattern in supplied_patterns():
            found.setdefault(pattern.chosen_by, pattern)
        return found

    def with_answer(self, name: FormField, text: str) -> Reading:
        """What the answers would come to with ``text`` for ``name``: while it is typed, nothing is kept."""
        return self._read(self._answers.answered(name, text))

    def _read(self, answers: Answers) -> Reading:
        if self.kept is None:
            return read_answers(answers, self.likes, taken=self._taken)
        own = Pattern("its recipe", self.kept.recipe, {})
        return read_answers(answers, {}, (self.kept.values, own), taken=self._taken)

    def answer(self, name: FormField, text: str) -> FieldPage:
        """Keep ``text`` as the answer, then give the field's page. Raises Refusal when it cannot be kept."""
        answers = self._answers.answered(name, text)
        if answers != self._answers:
            self._draft.keep(answers)
            self._answers, self._reading = answers, None
        return self.page(name)

    def page(self, name: FormField, reading: Reading | None = None) -> FieldPage:
        """The page of a field, by ``reading`` where it is another than that of the kept answers."""
        told = reading if reading is not None else self.reading
        usual = told.usual.get(name) if told.founded else None
        understood, is_told = "", name in told.told and name not in told.wrong
        if is_told:
            understood = in_words(name, told, self.unit)
        elif usual is not None:
            understood = usual.text if self.kept is not None else f"usual: {usual.text}"
        elif name is FormField.UNITS:
            understood = self.unit_word
        return FieldPage(
            name=name,
            words=field_words(
                _RIP_FLEAM if name is FormField.FLEAM and told.told.get(FormField.CUT) == "rip" else name
            ),
            choices=tuple(self.likes) if name is FormField.LIKE else CHOICES.get(name, ()),
            typed=self._answers.text(name),
            understood=understood,
            told=is_told,
            wrong=told.wrong.get(name, ""),
            doubt=told.doubt.get(name, ""),
            stands=self._stands(name, usual),
            enter=self._enter(name, usual),
            beside=self._beside if name is FormField.LIKE else BESIDE.get(name, ()),
        )

    @cached_property
    def _beside(self) -> tuple[str, ...]:
        saws = (one.recipe.saw for one in self.likes.values())
        return tuple(f"{saw.count_as.replace(' points', '')}, {saw.toothed_length}" for saw in saws)

    def changes(self) -> tuple[tuple[str, str, str], ...]:
        """What a saw of the till gets other than it is: each field's title, what stands there and what will.

        Nothing is changed by an answer that says again what stands there, nor of a saw that is new.
        """
        if self.kept is None:
            return ()
        reading, found = self.reading, []
        for name, paths in KEYS_OF.items():
            if name not in reading.told or name in reading.wrong:
                continue
            was, will = ([values.get(table, {}).get(key) for table, key in paths] for values in self._before_and_after)
            if was != will:
                before = reading.usual[name].text if name in reading.usual else "not told"
                found.append((field_words(name).title, before, in_words(name, reading, self.unit)))
        return tuple(found)

    @property
    def _before_and_after(self) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
        return (self.kept.values if self.kept is not None else {}), self.reading.values

    def first_open(self) -> FormField | None:
        """The first field without an answer, to go on at; None when every one has been answered or begun from."""
        return next((name for name in self.fields if name not in self._answers.typed), None)

    def first_wrong(self) -> FormField | None:
        """The first field that keeps the saw from being hung up; None when none does."""
        reading = self.reading
        return next((name for name in self.fields if name in reading.wrong or name in reading.missing), None)

    @property
    def words(self) -> tuple[str, str, str]:
        """What the form does, what its last row says, and what was done."""
        return ("Hang up a saw", "hang it up", "Hung up") if self.kept is None else _CHANGING

    def text(self) -> str:
        """The recipe as it will be written. The form has to be ready."""
        if self.kept is not None:
            told = {name: one for name, one in self.reading.told.items() if name in KEYS_OF}
            return self.kept.changed(told, self.reading.values)
        return recipe_text(self.reading, self._answers, self.clock.now().date())

    def hang_up(self) -> Path:
        """Write the recipe into the till, never over another file, and throw the draft away; the new file.

        Raises Refusal when something is missing or wrong, or when the disk will not take it: then nothing is lost.
        """
        if (name := self.first_wrong()) is not None:
            words = field_words(name)
            raise Refusal(f"{words.title}: {self.reading.wrong.get(name) or f'still to be told: {words.asks}'}")
        if self.kept is not None:
            return self._change(self.kept)
        path = place_new(self._till, file_stem(str(self.reading.values["saw"]["name"])), self.text(), self._disk)
        self._draft.throw_away()
        return path

    def _change(self, kept: KeptRecipe) -> Path:
        text = self.text()
        kept.write(text, self._disk)
        self._draft.throw_away()
        return kept.path

    def begin_anew(self) -> None:
        """Throw all answers away. Raises Refusal when the draft cannot be removed."""
        self._draft.throw_away()
        self._answers, self._reading = Answers(self.unit), None

    def close(self) -> None:
        """Let another program have the form; what was answered is kept."""
        self._draft.close()

    def _stands(self, name: FormField, usual: Usual | None) -> str:
        if name is FormField.UNITS:
            return f"Now: {self.unit_word}"
        if self.kept is not None:
            return f"Now: {usual.words}, as its recipe has it" if usual is not None else "Now: not told"
        if usual is not None:
            return f"Usual: {usual.words} ({usual.source})"
        return "It may be passed by." if name in OPTIONAL else "It has to be told."

    def _enter(self, name: FormField, usual: Usual | None) -> str:
        if name is FormField.UNITS or self.kept is not None:
            return "as it is"
        if usual is not None:
            return "usual"
        return "pass by" if name in OPTIONAL else ""

    def _taken(self, name: str) -> str:
        key, own = slug(name), None if self.kept is None else self.kept.path
        for saw in self._saws:
            if saw.recipe not in (None, own) and key in saw.slugs:
                return f'"{saw.called}" hangs in this till already; allowed: another name'
        return ""

    @cached_property
    def _saws(self) -> list[KnownSaw]:
        return known_saws([self._till])


#: The words of the fleam where it is that of a saw that has none as a rule.
_RIP_FLEAM: Final = "fleam of a rip saw"

#: The words of a form that changes a recipe.
_CHANGING: Final = ("Change a saw", "keep the changes", "Changed")


def _cut(reading: Reading) -> str:
    """The cut as told; else, of a saw that is like another or is changed, that one's; empty where nobody knows."""
    return str(reading.told.get(FormField.CUT) or (reading.alike and reading.pattern.recipe.saw.cut) or "")


def in_words(name: FormField, reading: Reading, unit: str) -> str:
    """What the answer of a field was understood as, lengths that follow from it in ``unit``."""
    told = reading.told[name]
    if isinstance(told, ToldCount):
        return told.words
    if isinstance(told, Length):
        over = set_now_mm(reading) if name is FormField.OVER_POINTS else None
        return told.text if over is None else f"{told}, a set of {amount(over, unit)} on each side now"
    if name is FormField.PLATE and isinstance(told, int):
        return f"{told} gauge, {amount(thickness_mm(told), unit)}"
    return f"{told:g}°" if isinstance(told, float) else f"{told}"
