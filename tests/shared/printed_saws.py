"""Supplied saws with all that their printed pages are made of."""

from __future__ import annotations

from session.advice.saw_figures import figure_groups
from session.advice.stage_list import stages
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.prints.bench_card import CardMatter
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.printables import Printable, sheets
from session.trade.saw import Saw
from session.walk.work_plan import make_plan


def supplied(name: str) -> Saw:
    """A supplied saw."""
    return load_recipe(supplied_folder("recipes") / f"{name}.toml").saw


def matter(saw: Saw) -> CardMatter:
    """What the bench card of ``saw`` tells before any record."""
    plan = make_plan(saw)
    figures = tuple(figure for _, group in figure_groups(saw) for figure in group)
    return CardMatter(figures, stages(saw, plan), plan)


def pages_of(saw: Saw, what: Printable, stock: PaperStock) -> list[PageSheet]:
    """The pages of one thing."""
    return sheets(saw, what, stock, card=matter(saw))
