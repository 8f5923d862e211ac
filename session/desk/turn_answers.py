"""A turn agreed to, item by item; where no tooth has to be found after the last item, the turn is made with it."""

from __future__ import annotations

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.guide_words import item_word
from session.walk import acts
from session.walk.front_question import Ask, Front


def item_done(item: str) -> str:
    """What is said to one item of several that are agreed to one by one."""
    return f"Done: {item_word(item)}."


def turned(making: MarkWriter, now: Front) -> Reply:
    """What ``now`` asks of a turn is done: the item in hand, or, after the last of them, all of it."""
    if now.name:
        reply = making.make(acts.acknowledge(making.state, making.at()), note=item_done(now.name))
        after = making.state.front
        # A saw that is dressed lies flat: once it is turned over there is nothing left to look for.
        ends = after.ask is Ask.TURN and not after.name and after.place is not None and not after.place.tooth
        if reply.refused or not ends:
            return reply
    return making.make(acts.turn(making.state, making.at()), note=f"Turned. Side {now.side} is in hand.")
