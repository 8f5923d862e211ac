"""The signals that end the program, or stop it for a while, as each system has them.

Apart from the system's other calls: who only prints waits for none of them. Never run on Windows, as those.
"""

from __future__ import annotations

import signal
import sys
from typing import Final

if sys.platform == "win32":
    #: What ends the program: Ctrl+Break, and the window's closing, the user's leaving and the machine's end, all one.
    ENDING: Final = (signal.SIGTERM, signal.SIGBREAK)

    #: What stops the program and lets it go on: nothing.
    STOPPING: Final[tuple[signal.Signals, signal.Signals] | None] = None
else:
    ENDING: Final = (signal.SIGTERM, signal.SIGHUP)
    STOPPING: Final[tuple[signal.Signals, signal.Signals] | None] = (signal.SIGTSTP, signal.SIGCONT)
