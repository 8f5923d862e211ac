"""The first row of the bench as a test reads it: the stage, and which side is up and which comes."""

from __future__ import annotations

import re

#: The stage, its side now, and the side that comes where the saw waits to be turned.
HEAD = re.compile(r"  ([A-Z][A-Z ]+?)(?:  (?:now )?side (\d)(?: of \d)?(?:, then side (\d))?)?  (?:handle ▶|◀ handle)")
