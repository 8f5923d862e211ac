"""All fields of the form below one another, each with its answer, or with what counts in its place."""

from __future__ import annotations

from session.form.form_reading import Reading
from session.form.own_saw_form import OwnSawForm


def field_rows(form: OwnSawForm, reading: Reading) -> tuple[str, ...]:
    """A row for each field by ``reading``, and one for what the form does in the end.

    "!" stands before an answer that is wrong, "…" where one is missing, "→" before one that changes a saw of the till.
    """
    rows = []
    for name in form.fields:
        page = form.page(name, reading)
        answer = page.understood
        if page.wrong:
            answer = f"! {page.typed or 'not understood'}"
        elif name in reading.missing:
            answer = "…"
        elif page.told and form.kept is not None:
            answer = f"→ {page.understood}"
        rows.append(f" {page.words.title:<14} {answer}")
    return (*rows, f" {form.words[1]}")
