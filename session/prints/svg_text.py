"""A text of any origin inside an SVG document."""

from __future__ import annotations

import re
from typing import Final
from xml.sax.saxutils import escape

from session.machine.clean_text import clean

#: What XML 1.0 cannot hold at all, escaped or not, besides what `clean` takes out.
_NOT_XML: Final = re.compile("[\ufffe\uffff]")


def svg_text(text: str) -> str:
    """``text`` as the content of an element; what XML cannot hold is left out."""
    return escape(_NOT_XML.sub("", clean(text)))
