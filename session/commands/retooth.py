"""`toothline retooth SAW`: what other teeth, or another rake, would cost, whether it is worth it, and the strip."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any, Final

from session.commands.output.option_values import recipe_argument
from session.commands.output.page_folder import paper_arguments
from session.machine.refusal import Refusal

if TYPE_CHECKING:
    from session.advice.retooth_advice import RetoothAdvice
    from session.files.recipe import Recipe
    from session.trade.saw import Saw

HELP = "say what other teeth or another rake would cost a saw, whether it is worth it, and print the strip for it"
EXAMPLE = 'toothline retooth crosscut-panel --count "10 points" --to pages'

#: The keys of a recipe that tell how fine its teeth are, of which it has one.
_COUNTS: Final = ("points_per_inch", "teeth_per_inch", "points_per_25mm", "pitch")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument("--like", metavar="RECIPE", help="the teeth of that saw: count or zones, rake, fleam and slope")
    parser.add_argument(
        "--count", metavar="COUNT", help='how fine they are to be: "10 points", "9 tpi", "31 in 4 in", "3 mm"'
    )
    parser.add_argument("--rake", metavar="DEG", help="rake on the guide block, degrees back from square")
    parser.add_argument("--fleam", metavar="DEG", help="fleam, degrees from square across")
    parser.add_argument(
        "--may-lose", metavar="LENGTH", help='what the line may come down in all its life, such as "5 mm"'
    )
    parser.add_argument("--json", action="store_true", help="as JSON, lengths in mm, angles in degrees, steel in mm³")
    parser.add_argument("--to", metavar="DIR", help="print the strip of the new line into this folder too")
    paper_arguments(parser)


def run(args: argparse.Namespace) -> int:
    """Work it out, print it, and write the strip where that is asked for."""
    from session.advice.retooth_advice import retooth_advice
    from session.commands.output.plain_data import print_json
    from session.commands.output.plan_steel import limit
    from session.commands.output.standard_streams import say
    from session.files.recipe import load_recipe
    from session.files.supplied import find_recipe
    from session.till.known_saws import saw_named
    from session.till.learned_bite import learned_bite
    from session.till.saw_history import history
    from session.till.set_loss import set_wear
    from session.till.till_folder import Till, till_folder
    from session.trade.leveling import line_loss
    from session.trade.trade_error import TradeError

    till = Till(till_folder(args.till, waits=say))
    recipe = load_recipe(find_recipe(args.recipe, till.saws(), till.retired()))
    like = None if args.like is None else load_recipe(find_recipe(args.like, till.saws(), till.retired()))
    if like is None and args.count is None and args.rake is None and args.fleam is None:
        raise Refusal("retooth: to what? allowed: --like RECIPE, --count, --rake or --fleam, one or more of them")
    finished = history([till], saw_named(till, recipe.saw.name)).finished
    may_lose = limit(args.may_lose)
    off = [one.off_mm for one in finished if one.off_mm]
    left = None if may_lose is None else line_loss(off, may_lose.mm).left_mm
    try:
        wished = _wished(recipe, like, args)
        told = retooth_advice(recipe.saw, wished.saw, learned_bite(finished), set_wear(finished).each_mm, left)
    except TradeError as wrong:
        raise Refusal(f"retooth: {wrong}") from None
    if args.json:
        print_json(_plain(told))
    else:
        _tables(told, recipe)
    if args.to is not None:
        _strip(told, recipe, args)
    return 0


def _wished(recipe: Recipe, like: Recipe | None, args: argparse.Namespace) -> Recipe:
    """The recipe with other teeth, checked as any other. Raises Refusal for what it cannot have."""
    from session.files.recipe import recipe_from_values
    from session.trade.lengths import by_inches, parse_length
    from session.trade.told_amounts import told_count, told_degrees
    from session.trade.trade_error import TradeError

    unit = "in" if by_inches(recipe.saw.unit) else "mm"
    teeth = dict(recipe.values["teeth"])
    if like is not None:
        # How the teeth lean is the saw's own.
        teeth = {**like.values["teeth"], "first_leans": teeth["first_leans"]}
        # A zone that begins beyond this saw's toe is none of it.
        length = recipe.saw.toothed_length.mm
        teeth["zone"] = [zone for zone in teeth.get("zone") or () if parse_length(zone["begins"]).mm < length]
    try:
        if args.count is not None:
            count = told_count(args.count, unit)
            teeth = {key: value for key, value in teeth.items() if key not in (*_COUNTS, "zone")}
            teeth[count.key] = str(count.value) if count.key == "pitch" else count.value
    except TradeError as wrong:
        raise Refusal(f"--count: {wrong}") from None
    for name, told in (("rake", args.rake), ("fleam", args.fleam)):
        if told is not None:
            try:
                teeth[name] = told_degrees(told)
            except TradeError as wrong:
                raise Refusal(f"--{name}: {wrong}") from None
    saw = {key: value for key, value in recipe.values["saw"].items() if key != "points_counted"}
    if like is not None:
        saw["cut"] = like.values["saw"]["cut"]
    rest = {key: value for key, value in recipe.values.items() if key not in ("saw", "teeth", "file")}
    return recipe_from_values({**rest, "saw": saw, "teeth": teeth}, "retooth")


def _plain(told: RetoothAdvice) -> dict[str, Any]:
    made = told.made
    values: dict[str, Any] = {figure.key: figure.value for figure in told.figures}
    values["leveled_mm3"], values["filed_mm3"] = made.leveled_mm3, made.filed_mm3
    values["points_mm"] = list(made.places_mm)
    values["worth"] = told.worth
    values["reasons"] = [{"text": reason.text, "source": reason.source} for reason in told.reasons]
    values["how"] = list(told.how)
    values["why"] = {figure.key: {"formula": figure.formula, "source": figure.source} for figure in told.figures}
    return values


def _tables(told: RetoothAdvice, recipe: Recipe) -> None:
    from session.commands.output.printed_tables import print_heading, print_line, print_table

    unit = recipe.saw.unit
    old, new = map(_teeth, (recipe.saw, told.new))
    heading = f"{recipe.saw.name}, {old}: to {new}"
    print_heading(heading)
    print_line("Worth doing." if told.worth else "Not worth it.")
    for reason in told.reasons:
        print_line(f"{reason.text} ({reason.source})")
    rows = [[figure.words, figure.shown(unit), figure.doubt] for figure in told.figures]
    print_table("What it comes to", ["", "", ""], rows)
    for number, step in enumerate(told.how, 1):
        print_line(f"{number}. {step}")


def _teeth(saw: Saw) -> str:
    zones = f" at the heel, {len(saw.zones)} zones" if saw.zones else ""
    return f"{saw.count_as}{zones}, rake {saw.rake:g}°, fleam {saw.fleam:g}°"


def _strip(told: RetoothAdvice, recipe: Recipe, args: argparse.Namespace) -> None:
    from session.advice.retooth_advice import mark_one
    from session.commands.output.page_folder import paper_stock, write_pages
    from session.prints.printables import PageFormat, page_files
    from session.prints.strip_sheets import strip_sheets
    from session.texts.page_words import page_words
    from session.till.saw_file_name import slug
    from session.trade.lengths import in_unit

    saw, places = recipe.saw, told.made.places_mm
    spaces = tuple(place - places[0] for place in places)
    line = f"{_teeth(told.new)}, {len(places)} points over {in_unit(spaces[-1], saw.unit)}; {mark_one(saw, told.made)}"
    pages = strip_sheets(saw.name, line, spaces, paper_stock(args), page_words("strip to retooth by"))
    write_pages("--to", args.to, page_files(slug(saw.name), {"retooth-strip": pages}, [*PageFormat]))
