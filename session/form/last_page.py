"""The form's last page in words: what Enter does there, and what of the saw was not measured, or is changed."""

from __future__ import annotations

from session.form.own_saw_form import OwnSawForm


def asked_last(form: OwnSawForm) -> str:
    """What Enter does on the last row."""
    if (wrong := form.first_wrong()) is not None:
        return f"Not yet: “{form.page(wrong).words.title}” is still to be told or put right. Enter goes there."
    if form.kept is not None:
        return "Enter changes its file and shows it; all that is not named here stays as it is."
    return "Enter hangs it up: its recipe is written into the till and shown."


def told_so_far(form: OwnSawForm) -> str:
    """For the title of the last row: whether all is told that has to be."""
    return "all told" if form.first_wrong() is None else "not all told"


def told_last(form: OwnSawForm) -> tuple[str, ...]:
    """Of a new saw the figures that nobody measured; of a changed one each change, from what to what."""
    if form.kept is not None:
        changes = (f"{title}: {was} → {will}" for title, was, will in form.changes())
        return tuple(changes) or ("Nothing is changed so far.",)
    titles = (form.page(name).words.title for name in form.reading.usual if not form.answers.text(name))
    listed = ", ".join(titles)
    return (f"Usual, not measured: {listed}.",) if listed else ()
