"""The scanner's scale measured by a rule that was scanned, for `toothline scan --calibrate`."""

from __future__ import annotations

import argparse

from session.commands.output.option_values import length_option
from session.commands.output.plain_data import write
from session.commands.output.printed_width import wrapped_lines
from session.commands.output.standard_streams import say
from session.commands.scanning.picture_options import dots_per_inch, picture_libraries, picture_path
from session.machine.clock import SystemClock
from session.machine.refusal import Refusal
from session.machine.untrusted_text import shown
from session.till.kept_scanner import kept_scale, write_scanner
from session.till.till_folder import Till, till_folder
from session.trade.rounding import decimals
from session.value_class import replace


def calibrate(args: argparse.Namespace) -> int:
    """Measure the scanner's scale by a rule, keep it in the till, and say it."""
    if args.length is None:
        raise Refusal('--length is missing: of the rule from its first tick to its last, such as --length "150 mm"')
    with picture_libraries():
        from session.scan.rule_file import rule_in
    length = length_option("--length", args.length)
    found = rule_in(picture_path(args.calibrate), length.mm, dots_per_inch(args.dpi), say)
    till, today = Till(till_folder(args.till)), SystemClock().now().date()
    scale = kept_scale(till)
    share, se = found.share, found.se
    if found.upright:
        scale = replace(scale, down=share, se_down=se, down_on=today)
    else:
        scale = replace(scale, along=share, se_along=se, along_on=today)
    path = write_scanner(till, scale)
    way, other = ("down", scale.along) if found.upright else ("along", scale.down)
    off, unsure = decimals((share - 1.0) * 1000.0, 2), decimals(se * 1000.0, 2)
    told = [
        f"{found.spaces} spaces of {decimals(found.spacing_mm, 3)} mm {way} the picture: "
        f"{decimals(found.dots_per_mm, 4)} dots in a millimeter, {off} in 1,000 off the scanner's word, ± {unsure}. "
        f"Kept in {shown(path)}"
    ]
    if other is None:
        told.append(
            f"The other way is not measured yet: turn the rule and scan it {'along' if found.upright else 'across'}."
        )
    write(wrapped_lines(told))
    return 0
