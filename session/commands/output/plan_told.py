"""All that `toothline plan` has to tell, before it is put in a form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from session.advice.corner_advice import CornerCounsel
    from session.advice.saw_figures import Group
    from session.advice.stage_list import PlannedStage
    from session.advice.zone_figures import ZoneFigures
    from session.files.recipe import Recipe
    from session.till.corner_ledger import FileWear
    from session.till.drawer import Drawer
    from session.till.due_date import Due
    from session.trade.file_choice import FileChoice
    from session.trade.printed_rows import Agreement
    from session.trade.set_rules import SetRule
    from session.walk.work_plan import Plan


@dataclass(frozen=True, slots=True)
class Told:
    """Everything that the command has to tell.

    worn, corners: of each of ``choices``, what it has filed and which corner to use.
    """

    recipe: Recipe
    groups: tuple[Group, ...]
    plan: Plan
    zones: tuple[ZoneFigures, ...]
    of_zones: Mapping[int, Group]
    stages: tuple[PlannedStage, ...]
    choices: tuple[FileChoice, ...]
    worn: tuple[FileWear, ...]
    corners: tuple[CornerCounsel, ...]
    printed: tuple[Agreement, ...]
    printed_set: tuple[SetRule, ...]
    warnings: tuple[str, ...]
    drawer: Drawer
    due: Due
