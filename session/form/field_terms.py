"""The trade's terms that a page of the form uses, each with its meaning: for whoever meets the word there first."""

from __future__ import annotations

from session.form.own_saw_form import FieldPage
from session.texts import terms


def field_terms(page: FieldPage) -> tuple[str, ...]:
    """A line for each term of ``page``, its title's and its question's first."""
    words = page.words
    text = " ".join((words.title, words.asks, *words.how, words.follows, page.stands, *page.choices))
    return tuple(f"{one.name}: {one.meaning} ({one.source})" for one in terms.within(text))
