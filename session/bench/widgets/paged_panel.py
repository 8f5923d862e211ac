"""The panel on the bench: words and picture of the moment, a page at a time."""

from __future__ import annotations

from session.bench.widgets.drawing import Drawing
from session.desk.key_names import shown
from session.pictures.panel_layout import Panel, panel
from session.pictures.picture_rows import Rows
from session.sentences.moment import Moment


class PagedPanel(Drawing):
    """Remembers which page of the words is shown; another place, title or question begins with the first."""

    def __init__(self, key: str, *, ascii_only: bool = False) -> None:
        super().__init__(id="panel")
        # Drawn in ASCII, an arrow downward would be read as the letter.
        key = "Down" if ascii_only and key == "down" else shown(key)
        self._turns = (f"{key} reads on", f"{key} from the top")
        self._ascii = ascii_only
        self._moment: Moment | None = None
        self._about: tuple[object, ...] = ()
        self._number = 0
        #: The furthest page that was shown.
        self._furthest = 0

    def tell(self, moment: Moment, wider: int = 0) -> None:
        """Draw this moment, in so many columns more (or, below 0, fewer) than there are now: what stands beside it is
        about to go or to come, and a press is answered in one frame."""
        # An answer may leave place and title as they were, and ask something else.
        about = (moment.said.title, moment.place, moment.said.choices, moment.said.lines)
        if about != self._about:
            self._about, self._number, self._furthest = about, 0, 0
        self._moment = moment
        self.draw(self._page, wider)

    def read_on(self) -> bool:
        """Show the next page; False where there is only one. Nothing is touched by it: it is only looked at."""
        pages = len(self._paged(*self.size).pages)
        if pages < 2:
            return False
        self._number = (self._number + 1) % pages
        self._furthest = max(self._furthest, self._number)
        self.draw(self._page)
        return True

    @property
    def unread(self) -> bool:
        """Whether there is a page that was not shown yet."""
        return self._furthest + 1 < len(self._paged(*self.size).pages)

    def _page(self, width: int, height: int) -> Rows:
        return self._paged(width, height).page(self._number)

    def _paged(self, width: int, height: int) -> Panel:
        return (
            Panel(())
            if self._moment is None
            else panel(self._moment, width, height, ascii=self._ascii, turns=self._turns)
        )
