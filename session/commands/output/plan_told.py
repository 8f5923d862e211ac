"""All that `toothline plan` has to tell, gathered before it is put in a form."""

from __future__ import annotations

from collections.abc import Mapping

from session.advice.corner_advice import CornerCounsel
from session.advice.own_files import own_files
from session.advice.saw_figures import Group, figure_groups, zone_groups
from session.advice.stage_list import PlannedStage, stages
from session.advice.zone_figures import ZoneFigures, zone_figures
from session.commands.output.plan_steel import limit, steel
from session.commands.output.standard_streams import say
from session.files.recipe import Recipe, load_recipe
from session.files.supplied import find_recipe
from session.machine.clock import SystemClock
from session.machine.refusal import Refusal
from session.till.corner_ledger import FileWear
from session.till.drawer import Drawer, drawer_of
from session.till.due_date import Due, due
from session.till.known_saws import KnownSaw, saw_named
from session.till.learned_bite import learned_bite
from session.till.learned_pace import pace_kept
from session.till.saw_history import history
from session.till.set_loss import set_wear
from session.till.till_folder import Till
from session.trade import file_choice
from session.trade.file_choice import FileChoice
from session.trade.lengths import by_inches
from session.trade.printed_rows import Agreement, agreements
from session.trade.saw import Saw
from session.trade.set_rules import SetRule, set_advice
from session.trade.trade_error import TradeError
from session.value_class import dataclass
from session.walk.work_plan import Plan, make_plan


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


def told_of(till: Till, named: str, rake_on_plate: float | None = None, may_lose: str | None = None) -> Told:
    """What there is to tell of the saw that is ``named``, by its recipe and by what its records in ``till`` teach.

    rake_on_plate: asked for beside it, in degrees. may_lose: as written with --may-lose. Raises Refusal for a saw that
    is not found, for a recipe that is not in order, and for what is asked beside it and cannot be.
    """
    recipe = load_recipe(find_recipe(named, till.saws(), till.retired()))
    saw = recipe.saw
    allowed = limit(may_lose)
    made = file_choice.tooth_to_fit(saw)
    records = history([till], saw_named(till, saw.name))
    finished = records.finished
    worn, pace, bite = set_wear(finished), pace_kept(finished), learned_bite(finished)
    plan = make_plan(saw)
    staged = stages(saw, plan)
    places = sum(stage.places for stage in staged)
    try:
        groups = figure_groups(
            saw,
            worn=worn,
            rake_on_plate=rake_on_plate,
            bite=bite,
            minutes=pace.minutes_for(places),
            minutes_of=max(1, pace.known),
            minutes_range=pace.range_for(places),
        )
    except TradeError as wrong:
        # A recipe was checked when it was read, so only the rake asked for can be at fault.
        raise Refusal(f"--rake-on-plate: {wrong}") from None
    drawer = drawer_of(till)
    for complaint in drawer.complaints:
        say(complaint)
    ledger = {one.file.name: one for one in drawer.worn}
    own_ranked = own_files((one.file for one in drawer.worn), saw, drawer.limit)
    choices = tuple(one.choice for one in own_ranked)
    needs = file_choice.face_needs(made)
    unit = "in" if by_inches(saw.unit) else "mm"
    own = []
    if choices and not any(choice.ok for choice in choices):
        own.append("None of your files can cut this tooth without leaving a ridge (derived).")
    return Told(
        recipe=recipe,
        groups=(*groups, ("Steel", tuple(steel(finished, allowed)))),
        plan=plan,
        zones=zone_figures(saw),
        of_zones=dict(zone_groups(saw, worn=worn, bite=bite)),
        stages=staged,
        choices=choices,
        worn=tuple(ledger[choice.file.name] for choice in choices),
        corners=tuple(one.corner for one in own_ranked),
        printed=agreements(saw.kind, needs, unit),
        printed_set=set_advice(saw.kind, saw.cut, saw.wood, saw.plate.mm, saw.pitch_mm).rules,
        warnings=(*recipe.warnings, *own, *_by_scan(till, records.saw, saw)),
        drawer=drawer,
        due=due(records, SystemClock().now()),
    )


def _by_scan(till: Till, known: KnownSaw, saw: Saw) -> tuple[str, ...]:
    """How the newest scan of the saw contradicts its recipe, a sentence each: the plan rests on the recipe."""
    if not till.has_lines:
        return ()  # what reads scans is not loaded for those who never made one
    from session.advice.scan_contradictions import contradictions
    from session.till.kept_scans import newest_scan

    scan = newest_scan(till, known)
    if scan is None:
        return ()
    told = contradictions(scan.line, saw, known.slug)
    return tuple(f"By the scan of {scan.at:%Y-%m-%d}: {one.told}" for one in told)
