"""An answer that belongs to the next field is told so where it was typed."""

from __future__ import annotations

from collections.abc import Callable

from session.form.form_fields import FormField
from session.form.own_saw_form import OwnSawForm

NewForm = Callable[[], OwnSawForm]


def test_a_name_told_as_the_units_is_told_where_it_is_asked(new_form: NewForm) -> None:
    form = new_form()
    told = "is none of them: the name is asked next; allowed: 1 inches, 2 millimeters"
    assert form.answer(FormField.UNITS, "Boat-shed crosscut").wrong == f'"Boat-shed crosscut" {told}'
    assert "the name" not in form.answer(FormField.UNITS, "yd").wrong


def test_a_cut_told_as_a_kind_is_told_where_it_is_asked(new_form: NewForm) -> None:
    form = new_form()
    for cut in ("crosscut", "a cross-cut saw", "across"):
        wrong = form.answer(FormField.KIND, cut).wrong
        assert "is none of them: how it cuts is asked next; allowed: 1 rip, 2 half rip, 3 hand" in wrong
    assert form.answer(FormField.KIND, "a panel saw").understood == "panel"
    assert form.answer(FormField.KIND, "Carcase").understood == "carcass"
    assert form.answer(FormField.CUT, "along the grain").understood == "rip"
    assert form.answer(FormField.WOOD, "green oak").understood == "green or wet"
    assert form.answer(FormField.LEANS, "towards me").understood == "toward"
    for none in ("none", "I don’t know.", "skip"):
        assert not form.answer(FormField.FACE, none).told
