"""How a saw is scanned so that the picture can be read, for `toothline scan --how`."""

from __future__ import annotations

from typing import Final

#: A line for each thing to heed, in the order of the work.
HOW: Final = (
    "Wipe filings off the saw first: they scratch glass. Points are sharp: lower the saw, and never slide it.",
    "Lay the plate flat, its teeth clear of the glass's rim and along it, the handle hanging over the edge.",
    "Leave the lid open, lay plain dark cloth behind the saw, and scan in gray, 8 bit, in its usual tones (not "
    "raw or linear ones), without sharpening or other mending.",
    "What a picture's file says of its tones is heeded; where it says nothing, the edges tell where they can. Where "
    "they do not, usual ones are taken, and the ± of flats says what is in doubt: --tones usual or --tones linear, as "
    "the scanner was set, settles it.",
    "1200 dots per inch tell a tooth's height to a hundredth of a millimeter and a flat to two, but one of under two "
    "dots not from a sharp point: then the table says under how much it lies. 600 tell to twice that; 300 tell the "
    "pitch, and now and then call a good tooth low, high or broken (all from rendered scans, no real one).",
    "A scanner with lens and mirrors sees what stands a little over the glass; one with a contact sensor blurs it.",
    "To even the line by it, scan after leveling and before filing: the bench offers the flats of such a scan. A scan "
    "is as old as its picture files say: where you copy them, keep their dates.",
    "A saw longer than the glass: up to five scans from heel to toe, each with eight teeth of the one before, the same "
    "side down. Strong set: scan both sides, and believe neither to less than they differ by.",
    "Measure the scanner first: scan a steel rule along the glass, then across, each with --calibrate and --length, "
    'such as --length "150 mm" from its first tick to its last. Without it all lengths may be off alike by 2 in 1,000; '
    "measure ten spaces with calipers, and compare.",
    "Heights in the table are counted from a bent line through most of the points: what the whole line is crowned or "
    "hollow by is told apart, and is in no tooth's height.",
    "To tell a crown of less than a tenth of a millimeter scan the saw once more, turned half round: half of what the "
    "two differ by is the scanner's own bow.",
    "The scanner stays closed and plugged in as its maker left it: nothing of it is taken apart.",
)
