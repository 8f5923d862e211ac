"""`toothline cut SAW`: record a trial cut made between sharpenings."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Final

from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal
from session.trade.rounding import whole_number

if TYPE_CHECKING:
    from session.till.known_saws import KnownSaw
    from session.till.till_folder import Till

HELP = "record a trial cut between sharpenings"
EXAMPLE = (
    'toothline cut netloft-panel-saw --length "12 in" --thickness "3/4 in" --strokes 40 --wander "1/32 in" --to right'
)

_NEEDED: Final = {
    "length": 'how far you cut, such as --length "12 in"',
    "thickness": 'how thick the board is, such as --thickness "3/4 in"',
    "strokes": "how many strokes it took, such as --strokes 40",
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", help="a saw of the till")
    parser.add_argument("--length", metavar="LENGTH", help='how far you cut, such as "12 in"')
    parser.add_argument("--thickness", metavar="LENGTH", help='how thick the board is, such as "3/4 in"')
    parser.add_argument("--strokes", metavar="N", help="how many strokes it took")
    parser.add_argument("--wander", metavar="LENGTH", help="how far the cut left the line; without it, straight")
    parser.add_argument("--to", choices=("left", "right"), help="to which side of you it left the line")
    parser.add_argument("--wood", metavar="TEXT", help="the wood (default: the one in the saw's recipe)")
    parser.add_argument("--note", metavar="TEXT", default="", help="your own words")


def run(args: argparse.Namespace) -> int:
    """Write the cut into the till and say what it comes to."""
    from session.commands.output.option_values import length_option
    from session.commands.output.plain_data import write
    from session.files.cut_file import LONGEST_NOTE, RecordedCut
    from session.machine.clean_text import clean
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown
    from session.texts.wording import off_line
    from session.till.kept_cuts import write_cut
    from session.till.known_saws import find_saw, known_saws
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, must_exist=True))
    saw = find_saw(known_saws([till]), args.saw)
    missing = [f"--{name} is missing: {words}" for name, words in _NEEDED.items() if getattr(args, name) is None]
    if missing:
        raise Refusal("\n".join(missing))
    wander = None if args.wander is None else length_option("--wander", args.wander)
    if wander is not None and wander.mm > 0 and args.to is None:
        raise Refusal("--to is missing: to which side it wandered; allowed: left, right")
    if args.to is not None and (wander is None or wander.mm == 0):
        raise Refusal(f'--wander is missing: how far it went {args.to}, such as --wander "1/32 in"')
    note = " ".join(clean(args.note).split())
    if len(note) > LONGEST_NOTE:
        raise Refusal(f"--note: {len(note)} characters; allowed: at most {LONGEST_NOTE}")
    cut = RecordedCut(
        at=SystemClock().now(),
        saw=saw.name,
        length=length_option("--length", args.length),
        thickness=length_option("--thickness", args.thickness),
        strokes=_strokes(args.strokes),
        wander=wander,
        to=args.to,
        wood=_wood(till, saw) if args.wood is None else " ".join(clean(args.wood).split())[:LONGEST_NOTE],
        note=note,
    )
    trial = cut.trial(0.0)
    if trial.unlikely is not None:
        say(trial.unlikely)
    path = write_cut(till, saw, cut)
    straight = "straight"
    if trial.wander_mm:
        straight = f"{off_line(trial.wander_per_100_mm, cut.length.unit)} to the {trial.wander_side}"
    write(f"{saw.name}: {whole_number(trial.area_mm2)} mm² a stroke, {straight}; kept in {shown(path)}\n")
    return 0


def _strokes(text: str) -> int:
    from session.files.cut_file import MOST_STROKES
    from session.machine.clean_text import clean

    if not (text.isascii() and text.isdigit() and len(text) <= 9 and 1 <= int(text) <= MOST_STROKES):
        raise Refusal(f'--strokes: "{clean(text)[:20]}" is no number of strokes; allowed: 1 to {MOST_STROKES:,}')
    return int(text)


def _wood(till: Till, saw: KnownSaw) -> str:
    """The wood that the saw's recipe, or else its last sharpening, is for: only cuts in one wood compare."""
    from session.files.recipe import load_recipe
    from session.till.saw_history import history

    if saw.recipe is not None:
        try:
            return load_recipe(saw.recipe).saw.wood
        except Refusal:
            pass
    return next((one.saw.wood for one in reversed(history([till], saw).sharpenings) if one.saw is not None), "")
