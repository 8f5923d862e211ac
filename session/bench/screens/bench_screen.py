"""The bench screen: one sharpening, from the look over to the close."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from concurrent.futures import Future
from functools import partial
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical

from session.bench.drawn_app import in_one_frame
from session.bench.one_frame import Frame
from session.bench.screens.asking_screen import AskingScreen
from session.bench.screens.takes_acts import TakesActs
from session.bench.terminal_driver import WatchedDriver
from session.bench.voice import Speaker
from session.bench.widgets.drawing import INKS, Drawing
from session.bench.widgets.far_panel import ROOMY, FarPanel
from session.bench.widgets.paged_panel import PagedPanel
from session.bench.widgets.too_small import TooSmall
from session.bench.widgets.touch_bar import TouchBar
from session.bench.widgets.words import Words
from session.desk.act_reply import Reply
from session.desk.countdown import WARNS_AT_S
from session.desk.desk import Desk
from session.desk.key_table import ACTS, ROWS, USUAL_KEYS
from session.desk.save_thread import SaveThread
from session.pictures.large_number import large_number
from session.pictures.line_below import line_below, signs_told
from session.pictures.panel_layout import places_row, whole_parts
from session.pictures.side_sign import side_sign
from session.sentences.moment import Moment
from session.sentences.offers import Act, Offer
from session.sentences.saying import Saying
from session.walk.front_question import Ask
from session.walk.place import looks_at_flats
from session.walk.stages import Stage

_SAVING = "Saving …"

#: Cells between what came of a press and what the signs on the line mean.
_APART = 3

#: All that can be done while the disk would not take a mark.
_AFTER_A_FAULT = (Offer(Act.AGREE, "read again"), Offer(Act.QUIT, "leave"))


#: The group under which Textual lists each act's keys.
_GROUPS = {row.act: Binding.Group(str(row.group)) for row in ACTS}


class BenchScreen(TakesActs, AskingScreen):
    """Shows what the desk says and gives it what the keys mean. Holds nothing that the log does not say.

    Closes with "till" or "quit".
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = set(INKS.values())

    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(digit), f"act('{Act.STROKES}', {digit})", show=False) for digit in range(10)),
        *(
            Binding(",".join(keys), f"act('{act}')", ROWS[act].told, show=False, id=str(act), group=_GROUPS[act])
            for act, keys in USUAL_KEYS.items()
        ),
    ]

    def __init__(
        self,
        desk: Desk,
        keymap: Mapping[Act, tuple[str, ...]],
        saving: SaveThread,
        *,
        ascii_only: bool = False,
        most_rows: int = 9,
        sound: bool = False,
        note: str = "",
        terminal: WatchedDriver | None = None,
        speaker: Speaker | None = None,
    ) -> None:
        super().__init__(desk, keymap, speaker)
        self._unspoken = ""
        self._terminal = terminal
        self._first_note = note
        self._most_rows = most_rows
        self._sound = sound
        self._asked: Ask | None = None
        self._note = note
        #: What the row of notes says, which may be more than came of the last press.
        self._noted = note
        #: Columns of the large number, as long as it has been shown.
        self._columns = 0
        #: Work that writes is on its way; until it is done, no other is begun.
        self.waits = False
        self._saving = saving
        self.ascii_only = ascii_only

    def compose(self) -> ComposeResult:
        """Header, side and number and panel, the line, the places, what to do, cautions, acts."""
        # Known before there is a widget, lest all of them be styled twice.
        self.set_class(self.ascii_only, "ascii", update=False)
        self.set_class(self.app.size.height < ROOMY, "low", update=False)
        with Horizontal(id="head"):
            yield Words(id="saw")
            yield Words(id="stage")
        with Horizontal(id="main"):
            yield Drawing(id="sign-left")
            yield Drawing(id="number")
            yield PagedPanel(self.keymap[Act.READ_ON][0], ascii_only=self.ascii_only)
            yield Drawing(id="sign-right")
        yield FarPanel(ascii_only=self.ascii_only)
        yield Drawing(id="line")
        with Vertical(id="told"):
            yield Words(id="places")
            yield Words(id="instruction")
            yield Words(id="effect")
            yield Words(id="note")
        yield TouchBar(self.keymap)
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        """Show the first moment, and begin to look at the countdown."""
        self.show(self._first_note)
        self.set_interval(0.25, self.tick)

    def on_resize(self, event: events.Resize) -> None:
        """Ask for room when there is too little; the layout itself is the style sheet's matter."""
        enough = self.query_one(TooSmall).fit(event.size)
        if not enough and not self.has_class("small"):
            self.voice.words(TooSmall.WORDS)
        self.set_class(not enough, "small")
        self.set_class(event.size.height < ROOMY, "low")
        self._say_rows(self.desk.moment.said)
        self._say_note(self._noted)

    def tick(self) -> None:
        """Time has passed: the countdown may have something to say."""
        if self.app.screen is not self or self.waits:
            return
        if self.has_class("small") and self.desk.countdown.seconds is not None:
            # Nothing is marked of a place that there is no room to show.
            self.desk.countdown.hold()
            self.show("The countdown is held: the window was too small.")
            return
        if self.desk.countdown.seconds is not None:
            shown = self._terminal is None or self._terminal.shown
            self.do(lambda: self.desk.tick(shown=shown))
        elif looks_at_flats(self.desk.moment.place):
            # A scan read meanwhile is offered as soon as the till holds it.
            self.records_told()

    def _count_down(self) -> None:
        """The seconds left, in the large numerals, with the place beside them."""
        countdown = self.desk.countdown
        saying = self.desk.moment.said
        left = countdown.left_s()
        what = "s, then it marks" if countdown.warns else "s left"
        self._draw_number(saying, counting=(str(left), what))
        self.query_one(FarPanel).count(left)
        warned = f"In {left} s: {saying.now} is marked by the timer. Any key holds it." if countdown.warns else ""
        if warned:
            self._say_note(warned)
        if left == WARNS_AT_S and not self.query_one("#stage").has_class("rung"):
            self.voice.words(warned)
            self.signal()

    def on_key(self, event: events.Key) -> None:
        """Any key at all holds a countdown, not only one that means something here."""
        if self.desk.countdown.seconds is not None:
            event.stop()
            event.prevent_default()
            if self.waits:
                self.desk.countdown.hold()
                self._say_note(f"{_SAVING} The countdown is held.")
            else:
                self.do(lambda: self.desk.act(Act.HELP))

    def take(self, act: Act, digit: int = 0) -> None:
        """Do an act and show what came of it. Nothing is marked of a place that there is no room to show."""
        if act is not Act.QUIT and self.has_class("small"):
            return
        if act is Act.FAR:
            self._turn_far()
            return
        if act is Act.READ_ON:
            if not self.query_one(PagedPanel).read_on():
                self._say_note("There is no more to read here.")
            return
        if self.waits:
            self._say_note(untaken := f"{_SAVING} That press was not taken.")
            self.voice.words(untaken)
            return
        if act is Act.DONE and self._asked is Ask.FINISHED and not self.desk.guards.repeats():
            # What was done stands until it is left by another key than the one that led here.
            panel = self.query_one(PagedPanel)
            panel.read_on()
            self._say_note("" if panel.unread else f"All is read: {self.keymap[Act.AGREE][0]} leads to the till.")
            return
        self.do(lambda: self.desk.act(act, digit))

    def do(self, work: Callable[[], Reply | None]) -> None:
        """Do what may write to disk, and show what came of it; while a slow disk writes, say so (bench rule 17)."""
        begun = self._saving.begin(work)
        if begun.done():
            self._did(begun.result())
        else:
            self.waits = True
            self._say_note(_SAVING)
            self.voice.words(_SAVING)
            self.run_worker(self._saved(begun))

    async def _saved(self, begun: Future[Reply | None]) -> None:
        reply = await asyncio.wrap_future(begun)
        self.waits = False
        self._did(reply)

    def _did(self, reply: Reply | None) -> None:
        with in_one_frame(self):
            if reply is not None:
                self._answer(reply)
            elif self.desk.countdown.seconds is not None:
                self._count_down()

    def records_told(self) -> None:
        """The records were read beside the screen: what they add stands here now."""
        if not self.waits and self.desk.told_more() and self.app.screen is self:
            self.show(self._note)

    def show(self, note: str = "", *, refused: bool = False, again: bool = False) -> None:
        """Show this moment and say it, and ``note`` about what was just done. again: a question has interrupted it."""
        with in_one_frame(self) as frame:
            self._show(frame, note, refused, again)

    def _show(self, frame: Frame, note: str, refused: bool, again: bool) -> None:
        moment, fault = self.desk.moment, self.desk.fault
        self._note = note
        self.voice.moment(moment, note, fault, refused=refused, again=again)
        saying = moment.said
        self._asked = saying.ask
        wider = self._draw_number(saying)
        self._draw_saw(moment)
        self.query_one(PagedPanel).tell(moment, wider)
        self._say_rows(saying)
        self.query_one("#instruction", Words).say(fault or saying.instruction)
        effect = " · ".join(saying.in_effect)
        self.query_one("#effect", Words).say(f"IN EFFECT: {effect}" if effect else "")
        self._say_note(" ".join(part for part in (self._unspoken, note) if part))
        self._unspoken = ""
        far = self.query_one(FarPanel)
        self.query_one(TouchBar).offers = _AFTER_A_FAULT if fault else far.offers(saying.offers)
        left = self.desk.countdown.left_s() if self.desk.countdown.seconds is not None else None
        # What is asked, and a fault, have the ordinary screen.
        shown = far.tell(moment, fault, left)
        if shown != self.has_class("far"):
            self.set_class(shown, "far")
            frame.moves = True
        # A class of the screen would have every widget styled anew, twice a press.
        self.query_one("#instruction").set_class(bool(fault), "fault")
        if self.desk.countdown.seconds is not None and self._terminal is not None:
            # Before the timer marks this place, the terminal has to say that it shows it.
            self.call_after_refresh(self._terminal.ask_shown)

    def _say_note(self, text: str) -> None:
        """Say what came of a press; in a low window, which has no legend, what the signs on the line mean beside it."""
        self._noted = text
        room = self.size.width - 2 - len(text) - _APART
        signs = signs_told(self.desk.moment.line, room, ascii=self.ascii_only) if self.has_class("low") else ""
        self.query_one("#note", Words).say(f"{text}{signs.rjust(room + _APART)}" if signs else text)

    def _draw_number(self, saying: Saying, counting: tuple[str, str] | None = None) -> int:
        """Draw the number in hand; columns that the panel gains by its going, below 0 those it loses."""
        number = self.query_one("#number", Drawing)
        before = number.display
        self._columns = number.size.width if before else self._columns
        # A step is known by its name: the room goes to its words.
        number.display = saying.counted
        told = tuple(text for text in (saying.of, saying.between, saying.where) if text)
        picture = partial(
            large_number, saying.numeral, told, most_rows=self._most_rows, ascii=self.ascii_only, counting=counting
        )
        number.draw(picture)
        return self._columns * (before - saying.counted)

    def _draw_saw(self, moment: Moment) -> None:
        """The sign at the edge where the handle is, and the line as the person sees it."""
        handle, line, ascii_only = moment.said.handle, moment.line, self.ascii_only
        for edge in ("left", "right"):
            sign = self.query_one(f"#sign-{edge}", Drawing)
            sign.display = handle == edge
            if handle == edge:
                sign.draw(partial(side_sign, moment.said.side, handle, comes=moment.said.comes, ascii=ascii_only))
        side = 1 if handle == "right" else 2
        self.query_one("#line", Drawing).draw(partial(line_below, line, side, ascii=ascii_only))

    def _turn_far(self) -> None:
        """Turn the far view on or off; it is only looked at, so no mark, question or countdown is touched."""
        self.show(self.query_one(FarPanel).turn())

    def on_far_panel_touched(self) -> None:
        """A touch leads back."""
        self._turn_far()

    def unspoken(self, why: str) -> None:
        """Tell what keeps the bench from being spoken: at once, and with what the next press has to say."""
        self._unspoken = f"Not spoken: {why}."
        self._say_note(self._unspoken)

    def signal(self) -> None:
        """Ring, where sound is wanted, and reverse the stage's name until the next act: the bell's visible twin."""
        self.query_one("#stage").add_class("rung")
        if self._sound:
            self.app.bell()

    def _say_rows(self, saying: Saying) -> None:
        """The rows that are cut to the screen's width."""
        # Not "finished" before the last word is given (bench rule 16).
        stage = str(saying.stage or ("finished" if saying.ask is Ask.FINISHED else Stage.CLOSE)).upper()
        side = f"  {saying.side_words}" if saying.side_words else ""
        handle = "handle ▶" if saying.handle == "right" else "◀ handle"
        where = f"{stage}{side}  {handle}"
        self.query_one("#stage", Words).say(where)
        self.query_one("#saw", Words).say(whole_parts(saying.saw, self.size.width - len(where) - 4))
        self.query_one("#places", Words).say(places_row(saying, self.size.width - 2))

    def _answer(self, reply: Reply) -> None:
        self.query_one("#stage").remove_class("rung")
        # Asked anew, it is marked until it is answered.
        self.query_one("#instruction").set_class(reply.unread, "unread")
        before = self._asked
        self.show(reply.note, refused=reply.refused)
        # Four signals at most: a press that did nothing, a turn, a check, and the countdown about to mark.
        if reply.refused or (self._asked is not before and self._asked in (Ask.TURN, Ask.CHECK)):
            self.signal()
        if reply.shows:
            self.show()
        self.open_sheet(reply)
