"""`toothline plan RECIPE`: the numbers of a saw and the stages of its sharpening, with reasons."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from session.commands.output.option_values import recipe_argument
from session.commands.output.standard_streams import say

if TYPE_CHECKING:
    from session.advice.stage_list import PlannedStage
    from session.commands.output.plan_told import Told
    from session.trade.printed_rows import Agreement
    from session.trade.set_rules import SetRule

HELP = "show the numbers of a saw and the stages of its sharpening, with reasons"
EXAMPLE = "toothline plan crosscut-panel --why"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument("--json", action="store_true", help="as JSON, lengths in mm and angles in degrees")
    parser.add_argument("--tools", action="store_true", help="one page before the start: what to lay out, by its size")
    parser.add_argument(
        "--without", metavar="TOOL", action="append", default=[], help="with --tools: it is missing; may be repeated"
    )
    parser.add_argument("--why", action="store_true", help="say of each number how it follows and who says so")
    parser.add_argument(
        "--rake-on-plate",
        type=float,
        metavar="DEG",
        help="also say at which rake the guide block leaves this rake on the plate",
    )
    parser.add_argument(
        "--may-lose",
        metavar="LENGTH",
        help='also say how much is left of what the line may come down in all its life, such as "5 mm"',
    )


#: What stands where a file is not to be used.
UNUSED: Final = "–"


def run(args: argparse.Namespace) -> int:
    """Compute, and print as a table or as JSON."""
    from session.commands.output.plain_data import print_json
    from session.commands.output.plan_told import told_of
    from session.till.till_folder import Till, till_folder

    told = told_of(Till(till_folder(args.till, waits=say)), args.recipe, args.rake_on_plate, args.may_lose)
    if args.tools or args.without:
        _tools(told, args)
    elif args.json:
        print_json(_plain(told))
    else:
        _tables(told, args.why)
    return 0


def _tools(told: Told, args: argparse.Namespace) -> None:
    from session.commands.output.plain_data import write
    from session.commands.output.plan_tools import missing_tools, tools_page
    from session.commands.output.printed_width import wrapped_lines

    figures = [figure for _, group in told.groups for figure in group]
    page = tools_page(told.recipe.saw, told.plan.taken_in, told.drawer, missing_tools(args.without), figures)
    write(wrapped_lines(page))


def _plain(told: Told) -> dict[str, Any]:
    from session.commands.output.due_output import due_data
    from session.commands.output.history_data import teeth_filed
    from session.commands.output.plan_zones import as_data

    every = [figure for _, group in told.groups for figure in group]
    values: dict[str, Any] = {"saw": told.recipe.saw.name}
    values |= {figure.key: figure.value for figure in every}
    values["reaches"] = [list(reach) for reach in told.plan.reaches]
    values["stages"] = [_stage(stage) for stage in told.stages if stage.taken_in]
    values["left_out"] = [_stage(stage) for stage in told.stages if not stage.taken_in]
    values["files"] = [
        {
            "name": choice.file.name,
            "face_mm": choice.file.face.mm,
            "fit": str(choice.fit),
            "ok": choice.ok,
            "reasons": [{"text": reason.text, "source": reason.source} for reason in choice.reasons],
            **teeth_filed(worn),
            "corner": corner.corner,
            "corner_teeth_left": corner.left,
            "turn_after_teeth": corner.turn_after,
            "done": corner.corner is None,
            "corner_words": {"text": corner.text, "source": corner.source},
        }
        for choice, worn, corner in zip(told.choices, told.worn, told.corners, strict=True)
    ]
    values["printed_files"] = [
        {
            "saws": one.row.saws,
            "file": one.row.file,
            "source": one.row.source,
            "agrees": one.agrees,
            "words": one.words,
        }
        for one in told.printed
    ]
    values["set_in_print"] = [
        {"low_mm": rule.low_mm, "high_mm": rule.high_mm, "says": rule.says, "source": rule.source}
        for rule in told.printed_set
    ]
    values["zones"] = as_data(told.zones, told.of_zones)
    values["due"] = due_data(told.due)
    values["warnings"] = list(told.warnings)
    values["why"] = {figure.key: {"formula": figure.formula, "source": figure.source} for figure in every}
    return values


def _stage(stage: PlannedStage) -> dict[str, Any]:
    return {
        "stage": str(stage.stage),
        "places": stage.places,
        "why": stage.why,
        "source": stage.source,
        "sides": [{"side": side or None, "places": places} for side, places in stage.sides],
        "notes": list(stage.notes),
    }


def _tables(told: Told, why: bool) -> None:
    from session.commands.output.due_output import due_line
    from session.commands.output.plan_zones import COLUMNS, NOTE, as_rows
    from session.commands.output.printed_tables import print_heading, print_line, print_table

    saw = told.recipe.saw
    print_heading(f"{saw.name}: {saw.kind}, {saw.cut}, {saw.count_as}, {saw.toothed_length}")
    for warning in told.warnings:
        print_line(f"Take care: {warning}")
    if len(told.zones) > 1:
        print_table("Zones of the line, from the heel", COLUMNS, as_rows(told.zones, saw.unit), right=COLUMNS)
        print_line(NOTE)
    for name, group in (*told.groups, *told.of_zones.values()):
        columns = ["number", "value", "how it follows", "who says so"] if why else ["", "", ""]
        rows = [[figure.words, figure.shown(saw.unit)] for figure in group]
        for row, figure in zip(rows, group, strict=True):
            row += [figure.formula, figure.source] if why else [figure.doubt]
        print_table(name, columns, rows, right=("value",))
    if why:
        rows = [[rule.says, _per_side(rule, saw.unit), rule.source] for rule in told.printed_set]
        print_table("Set per side, by whom", ["for", "a side", "who says so"], rows)
    file_choice = list(_files(told))
    if file_choice:
        print_table("Your files, the best first", ["file", "fit", "why", "corner"], file_choice)
    printed = [[one.row.saws, one.row.file, _agrees(one), one.row.source] for one in told.printed]
    print_table("Files in print", ["for", "file", "beside the advice", "who says so"], printed)
    print_table("Stages", ["stage", "places", "why", "who says so"], list(_stages(told)), right=("places",))
    for note in (note for stage in told.stages for note in stage.notes):
        print_line(note)
    reaches = ", ".join(f"{first}–{last}" for first, last in told.plan.reaches)
    print_line(due_line(told.due))
    print_line(f"Reaches in a vise of {saw.vise_jaw}, teeth counted from the heel: {reaches}.")


def _files(told: Told) -> Iterator[Sequence[str]]:
    from session.texts.wording import times

    for choice, worn, corner in zip(told.choices, told.worn, told.corners, strict=True):
        reasons = " ".join(f"{reason.text} ({reason.source})" for reason in choice.reasons)
        untold = f" {times(worn.untold, 'gullet')} more by a corner that was not told." if worn.untold else ""
        # Which corner of it to use matters only for a file that can cut this tooth.
        used = f"{corner.text}{untold}" if choice.ok else UNUSED
        yield choice.file.name, str(choice.fit) if choice.ok else f"no: {choice.fit}", reasons, used


def _per_side(rule: SetRule, unit: str) -> str:
    from session.advice.sourced_figure import amount

    if rule.low_mm is None or rule.high_mm is None:
        return "no number"
    low, high = amount(rule.low_mm, unit), amount(rule.high_mm, unit)
    return low if low == high else f"{low} to {high}"


def _agrees(one: Agreement) -> str:
    said = {True: "agrees: ", False: "asks for less: ", None: ""}[one.agrees]
    return f"{said}{one.words}"


def _stages(told: Told) -> Iterator[Sequence[str]]:
    from session.texts.wording import times

    for stage in told.stages:
        places = str(stage.places) if stage.taken_in else "left out"
        by_side = [f"{count} from side {side}" for side, count in stage.sides if side]
        by_side += [f"then {times(count, 'step')}" for side, count in stage.sides if by_side and not side]
        why = f"{stage.why} ({', '.join(by_side)})" if by_side else stage.why
        yield str(stage.stage), places, why, stage.source
