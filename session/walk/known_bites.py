"""The bites that a saw's records taught, by file, as the bench starts from them."""

from __future__ import annotations

from collections.abc import Mapping

from session.trade.file_names import called
from session.trade.strokes import DEFAULT_BITE, Bite
from session.value_class import dataclass, field


@dataclass(frozen=True, slots=True)
class KnownBites:
    """What is known before the first stroke.

    any_file: of this saw, whatever the file; the default, from memory, when no record teaches one.
    by_file: of each file that records name, by its name as `session.trade.file_names.called` has it.
    """

    any_file: Bite = DEFAULT_BITE
    by_file: Mapping[str, Bite] = field(default_factory=dict)

    def of(self, file: str | None) -> Bite:
        """The bite to start from with ``file`` in hand; None for a file that was not told."""
        return self.any_file if file is None else self.by_file.get(called(file), self.any_file)
