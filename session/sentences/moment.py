"""One moment: all that a front end shows, prints or acts on in one state, each part of it worked out once."""

from __future__ import annotations

from functools import cached_property

from session.sentences.moment_numbers import MomentNumbers
from session.sentences.saying import Saying, say


class Moment(MomentNumbers):
    """The numbers of one moment and the words made of them.

    The screen, the line-by-line mode, the desk and the simulated filer read this, and ask nothing of the state
    themselves.
    """

    @cached_property
    def said(self) -> Saying:
        """All that is said."""
        return say(self)
