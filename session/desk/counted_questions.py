"""The questions that a number answers: the strokes of a gullet that no digit says, the seconds of a countdown."""

from __future__ import annotations

from statistics import median

from session.desk.countdown import LEAST_S, MOST_S
from session.desk.desk import Desk
from session.desk.question import Question
from session.trade.rounding import whole_number
from session.walk.flagged_places import strokes_before
from session.walk.pace import FEWEST, seconds_in
from session.walk.rules import MOST_STROKES


def strokes(desk: Desk) -> Question:
    """How many strokes the gullet in hand was given, where one digit does not say it."""

    before = strokes_before(desk.moment.state)
    most = max(1, MOST_STROKES - before)

    def wrong(text: str) -> str | None:
        fits = text.isascii() and text.isdecimal() and 1 <= int(text[:3]) <= most
        return None if fits else f'"{text[:12]}" strokes; allowed: 1 to {most}'

    return Question(
        f"How many{' more' if before else ''} strokes in {desk.moment.place}?",
        ("Each stroke in the gullet once, whichever of its flats was pressed.",),
        hint=f"1 to {most}",
        check=wrong,
        then=lambda text: desk.filed(int(text)),
    )


def timer(desk: Desk) -> Question:
    """How many seconds each place is given when the hands do not mark."""

    def wrong(text: str) -> str | None:
        fits = (text.isdecimal() and LEAST_S <= int(text) <= MOST_S) or (text.casefold() == "y" and bool(pace))
        return None if fits else f"allowed: {LEAST_S} to {MOST_S} seconds"

    place = desk.moment.place
    taken = () if place is None else seconds_in(place.stage, desk.moment.state.intervals)
    pace = [min(MOST_S, max(LEAST_S, whole_number(median(taken))))] if len(taken) >= FEWEST else []
    lines = (
        *(f"Your own pace in this stage: {seconds} s a place; y takes it." for seconds in pace),
        "Each place is marked when the countdown ends, as made by the timer.",
        "Any key holds it. Cautions, turns, shifts and checks wait for you.",
    )
    return Question(
        "Hands-free: seconds for each place?",
        lines,
        hint=f"{LEAST_S} to {MOST_S}",
        check=wrong,
        then=lambda text: desk.time(int(text) if text.isdecimal() else pace[0]),
    )
