"""Whether a source names works that are known, for tests of everything that is said to come from one."""

from __future__ import annotations

import re

from session.texts.sources import all_works


def works(source: str) -> dict[str, str]:
    """The works named in a source such as "KING 64; ROSS p. 9", by short name, in the order named.

    Raises KeyError for a part that is neither a known work nor what may stand in place of one.
    """
    known = all_works()
    named = [part if part in known else re.split(r"\s", part, maxsplit=1)[0] for part in source.split("; ")]
    return {name: known[name] for name in named}
