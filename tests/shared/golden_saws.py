"""Saws at the ends of what there is, as recipes: many fine teeth, and few coarse ones filed from one side."""

from __future__ import annotations

DOVETAIL = """\
format = 1
[saw]
name = "Sail-room dovetail saw"
kind = "dovetail"
cut = "rip"
toothed_length = "20 in"
plate_thickness = "0.02 in"
points_counted = 520
[teeth]
points_per_inch = 27
rake = 5
fleam = 0
first_leans = "away"
[set]
per_side = "0.003 in"
[work]
sides = 2
vise_jaw = "12 in"
"""

COARSE_RIP = """\
format = 1
[saw]
name = "Slipway rip saw"
kind = "rip"
cut = "rip"
toothed_length = "20 in"
plate_thickness = "0.049 in"
points_counted = 60
[teeth]
points_per_inch = 4
rake = 0
fleam = 0
first_leans = "toward"
[set]
per_side = "0.012 in"
[work]
sides = 1
vise_jaw = "14 in"
"""
