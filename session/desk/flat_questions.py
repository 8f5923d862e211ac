"""Which flat is told anew, of a leveling that a scan measured: that one alone, and the others stay as they are."""

from __future__ import annotations

from collections.abc import Sequence

from session.desk.desk import Desk
from session.desk.flat_answers import of_a_flat
from session.desk.question import Question
from session.walk.place import Place


def told_anew(desk: Desk, places: Sequence[Place]) -> Question:
    """Asks which of the flats at ``places``, told by the scan or by eye, the eye is to tell anew; where one that the
    scan did not tell is in hand, that one will do too, as it is next."""
    here = desk.moment.state.place
    in_hand = here if here is not None and of_a_flat(here) else None
    known = {str(place.tooth): place for place in (*places, *((in_hand,) if in_hand else ()))}

    def wrong(text: str) -> str | None:
        if text in known:
            return None
        allowed = f"; allowed: one that was told, or {in_hand.tooth}, the one in hand" if in_hand else ""
        return f'"{text[:12]}": the scan told no flat of that tooth, and no eye did{allowed}'

    return Question(
        "Which tooth's flat is told anew, by eye?",
        ("It alone is graded then; all others stay as they were told.",),
        hint="the number alone",
        check=wrong,
        then=lambda text: desk.set_place(known[text]),
    )
