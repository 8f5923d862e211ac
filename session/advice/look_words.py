"""What to look at, in words that follow "Look first:"."""

from __future__ import annotations

from typing import Final

from session.trade.observation import Look

LOOK_WORDS: Final = {
    Look.FIRST_LEANS: "which way tooth 1, at the heel, leans with the handle on your right",
    Look.IN_AN_INCH: "how many points stand in one inch, both ends counted",
    Look.IN_25MM: "how many points stand in 25 mm, both ends counted",
    Look.IN_LINE: "how many points the whole line has",
    Look.PLATE: "the plate: straight or bent when you sight along it, clean or rusty or gummed",
    Look.CRACK: "whether the plate is cracked, and where",
    Look.HARD_TEETH: "whether the tips are dark and a file skates on one at the heel",
    Look.HANDLE: "whether the handle is tight",
    Look.LINE: "the line under a straight edge: straight, crowned or hollow",
    Look.LINE_GAP: "how deep the hollow is under a straight edge",
    Look.SIZES: "the sizes of the teeth along the line: even, or big and small",
    Look.HIGH: "teeth that stand higher than their neighbors",
    Look.LOW: "teeth that stand lower than their neighbors",
    Look.BROKEN: "broken teeth",
    Look.BRIGHT: "how many points shine when tilted in the light: none, some or most",
    Look.OVER_POINTS: "the width over the points of two neighbors, at up to five places",
    Look.LAST_CUT: "how it cut when last used; a trial cut tells",
    Look.WANDERS_TO: "to which side the cut wanders",
    Look.CUT: "whether it was used across the grain or along it",
    Look.WOOD: "the wood it was used in: damp or dry, hard or soft",
    Look.LAST_SHARPENED: "when it was last sharpened",
}

#: A figure that is asked again, by name.
AGAIN_WORDS: Final = {
    Look.FIRST_LEANS: "the lean of tooth 1",
    Look.IN_AN_INCH: "the points in an inch",
    Look.IN_25MM: "the points in 25 mm",
    Look.IN_LINE: "the points of the line",
    Look.CRACK: "the place of the crack",
    Look.LINE: "the line under a straight edge",
    Look.LINE_GAP: "the depth of the hollow",
    Look.HIGH: "the high teeth",
    Look.LOW: "the low teeth",
    Look.BROKEN: "the broken teeth",
    Look.OVER_POINTS: "the width over the points",
    Look.LAST_SHARPENED: "the day of the last sharpening",
}
