"""Which flat is told anew, of those that a scan measured: that one alone, and the others stay as they are."""

from __future__ import annotations

from collections.abc import Sequence

from session.desk.desk import Desk
from session.desk.question import Question
from session.walk.place import Place


def told_anew(desk: Desk, places: Sequence[Place]) -> Question:
    """Asks which of the flats at ``places``, all told by the scan, the eye is to tell instead."""
    known = {str(place.tooth): place for place in places}

    def wrong(text: str) -> str | None:
        return None if text in known else f'"{text[:12]}": the scan told no flat of that tooth'

    return Question(
        "Which tooth's flat is told anew, by eye?",
        ("It alone is graded then; all others stay as the scan measured them.",),
        hint="the number alone",
        check=wrong,
        then=lambda text: desk.set_place(known[text]),
    )
