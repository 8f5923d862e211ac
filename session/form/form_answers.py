"""The answers of a form as they were typed, each with the unit that the form showed then."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from session.form.form_fields import ALSO, OPTIONAL, UNIT_WORDS, FormField
from session.machine.clean_text import clean
from session.trade.told_amounts import FORM_UNITS, LONGEST_ANSWER, told_choice
from session.trade.trade_error import TradeError
from session.value_class import dataclass, field, replace

#: What says that nobody knows: then the usual counts.
DONT_KNOW: Final = frozenset(
    {
        *("?", "usual", "i don't know", "i dont know", "don't know", "dont know", "do not know", "unknown", "no idea"),
        *(
            "not known",
            "not measured",
            "unmeasured",
            "not sure",
            "i do not know",
            "idk",
            "the usual",
            "as usual",
            "skip",
        ),
        *("pass", "n/a", "-", "not counted", "not yet", "don't know yet"),
    }
)

#: What passes by a field that may be left out.
_NOTHING: Final = frozenset({"none", "no", "nothing"})


@dataclass(frozen=True, slots=True)
class Typed:
    """One answer as it was typed, and the unit that a bare number in it is in."""

    text: str
    unit: str


@dataclass(frozen=True, slots=True)
class Answers:
    """All answers so far, none of them changed by being read.

    unit: "in" or "mm", what the form shows now. typed: an empty text for a field that was passed by, or of which the
    usual is to count.
    """

    unit: str = "in"
    typed: Mapping[FormField, Typed] = field(default_factory=dict)

    def text(self, name: FormField) -> str:
        """What was typed; empty where nothing was, and where the usual is to count."""
        return self.typed[name].text if name in self.typed else ""

    def answered(self, name: FormField, text: str) -> Answers:
        """With ``text`` as the answer; an empty one, or one that says "I don't know", leaves it to what is usual."""
        text = " ".join(clean(text[: 4 * LONGEST_ANSWER]).split())[: LONGEST_ANSWER + 1]
        said = text.casefold().replace("’", "'").rstrip(".!")
        if said in DONT_KNOW or (name in OPTIONAL and said in _NOTHING):
            text = ""
        return replace(self, typed={**self.typed, name: Typed(text, self.unit)}, unit=_unit(name, text, self.unit))

    def to_dict(self) -> dict[str, Any]:
        """Plain values for a draft."""
        answers = {str(name): {"typed": told.text, "unit": told.unit} for name, told in self.typed.items()}
        return {"unit": self.unit, "answers": answers}

    @classmethod
    def from_dict(cls, values: Mapping[str, Any]) -> Answers:
        """The answers of a draft; what makes no sense in it is left out, as if it had not been typed."""
        unit, told = values.get("unit"), values.get("answers")
        typed = {}
        for name, one in told.items() if isinstance(told, Mapping) else ():
            text, of = (one.get("typed"), one.get("unit")) if isinstance(one, Mapping) else (None, None)
            if name in list(FormField) and isinstance(text, str) and of in FORM_UNITS:
                typed[FormField(name)] = Typed(clean(text)[: LONGEST_ANSWER + 1], str(of))
        return cls(unit if unit in FORM_UNITS else "in", typed)


def _unit(name: FormField, text: str, unit: str) -> str:
    if name is not FormField.UNITS or not text:
        return unit
    try:
        return UNIT_WORDS[told_choice(text, UNIT_WORDS, ALSO[FormField.UNITS])]
    except TradeError:
        return unit
