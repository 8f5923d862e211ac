"""A stand-in for Windows under the program alone: what only other systems have is hidden, and files behave as there.

`install` lets every module of `session` that is imported after it meet Windows as its documents describe it:

- no `fcntl`, `termios`, `pwd` and their like; of `os`, `signal` and `select` only what Windows has of them;
- `msvcrt.locking`: a lock of the kernel on bytes from the current position on, EACCES when another has one of them,
  gone with whoever held it;
- a file opened without O_BINARY has its line ends changed as it is written;
- an open file cannot be removed or renamed (sharing violation), by any process, and a rename never overwrites;
- names: no colon nor other sign that is not allowed there, no name of a device, no dot or space at the end, no path
  over 259 characters; "A.toml" is "a.toml".

Linux only. What it cannot tell: whether Windows does as its documents say, and how Textual drives its console.
"""
# ruff: noqa: A002, PTH100, PTH104, PTH105, PTH108, PTH112, PTH118, PTH120, PTH208 – it stands in for the system's own calls, with their names

from __future__ import annotations

import builtins
import errno
import fcntl
import importlib.util
import os
import re
import select
import signal
import struct
import sys
import types
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path, PurePath
from typing import Any

#: Modules that Windows has not.
ABSENT = frozenset(
    re.findall(
        r"\S+",
        """
    crypt curses fcntl grp nis posix pty pwd readline resource spwd syslog termios tty _curses _posixsubprocess
    """,
    )
)

#: Of `os`, what Windows has not, as far as a program of files and processes could ever want it.
HIDDEN_OF_OS = frozenset(
    re.findall(
        r"\S+",
        """
    O_ASYNC O_CLOEXEC O_DIRECT O_DIRECTORY O_DSYNC O_NDELAY O_NOATIME O_NOCTTY O_NOFOLLOW O_NONBLOCK O_PATH
    O_RSYNC O_SYNC O_TMPFILE POSIX_FADV_DONTNEED WEXITSTATUS WIFEXITED WIFSIGNALED WNOHANG WTERMSIG chown
    chroot confstr copy_file_range ctermid fchdir fchmod fchown fdatasync fork forkpty fpathconf fstatvfs fwalk
    getegid geteuid getgid getgroups getloadavg getpgid getpgrp getpriority getresgid getresuid getsid getuid
    initgroups killpg lchown lockf major makedev mkfifo mknod nice openpty pathconf pidfd_open pipe2
    posix_fadvise posix_fallocate posix_spawn pread preadv pwrite pwritev readv register_at_fork
    sched_getaffinity sched_yield sendfile setegid seteuid setgid setpgid setpriority setsid setuid splice
    statvfs sync sysconf tcgetpgrp tcsetpgrp ttyname uname wait wait3 wait4 waitid writev
    """,
    )
)

#: Of `signal`, all that Windows has.
SEEN_OF_SIGNAL = frozenset(
    re.findall(
        r"\S+",
        """
    SIGABRT SIGFPE SIGILL SIGINT SIGSEGV SIGTERM SIG_DFL SIG_IGN Handlers Signals default_int_handler getsignal
    raise_signal set_wakeup_fd signal strsignal valid_signals
    """,
    )
)

#: Bits that no flag of Linux has: those of Windows would mean other things there.
O_BINARY, O_TEXT, O_NOINHERIT = 1 << 40, 1 << 41, 1 << 42

_DEVICES = re.compile(r"(con|prn|aux|nul|com[1-9¹²³]|lpt[1-9¹²³]|conin\$|conout\$)(\..*)?", re.IGNORECASE)
_NOT_IN_NAMES = re.compile(r'[<>:"|?*\x00-\x1f]')
_LONGEST_PATH = 259

#: Whoever opens a file holds this byte for reading, so that the kernel knows of every process that has it open.
_OPEN_BYTE = 0x7FFE_0000

#: The descriptors that were opened as text.
_as_text: set[int] = set()


class Stand(types.ModuleType):
    """A module that passes on to a real one, but for what is hidden or put in its place."""

    def __init__(
        self, real: types.ModuleType, instead: Mapping[str, Any], hidden: Callable[[str], bool] = lambda name: False
    ) -> None:
        super().__init__(real.__name__, real.__doc__)
        self.__dict__.update(_real=real, _hidden=hidden, **instead)

    def __getattr__(self, name: str) -> Any:
        if self._hidden(name):
            raise AttributeError(f"module '{self._real.__name__}' has no attribute '{name}' on Windows")
        return getattr(self._real, name)

    def __setattr__(self, name: str, value: Any) -> None:
        setattr(self._real, name, value)

    def __delattr__(self, name: str) -> None:
        delattr(self._real, name)


def _byte_lock(fd: int, kind: int, start: int, length: int) -> None:
    """A lock of this opening of the file, as there, not of the process. OSError when another is in the way."""
    fcntl.fcntl(fd, fcntl.F_OFD_SETLK, struct.pack("hhqqi4x", kind, os.SEEK_SET, start, length, 0))


def _denied(path: Any, winerror: int) -> PermissionError:
    words = {
        5: "Access is denied",
        32: "The process cannot access the file because it is being used by another process",
    }
    refused = PermissionError(errno.EACCES, words[winerror], str(path))
    refused.winerror = winerror  # type: ignore[attr-defined, unused-ignore]
    return refused


def _name(path: Any) -> str:
    """The path as Windows takes it. OSError for one that cannot be there."""
    text = os.fspath(path)
    name = PurePath(text).name
    if _NOT_IN_NAMES.search(name) or name.endswith((".", " ")) or _DEVICES.fullmatch(name):
        raise OSError(errno.EINVAL, "The filename, directory name, or volume label syntax is incorrect", text)
    if len(os.path.abspath(text)) > _LONGEST_PATH:
        raise FileNotFoundError(errno.ENOENT, "The system cannot find the path specified", text)
    folder = os.path.dirname(text) or "."
    if not os.path.lexists(text) and os.path.isdir(folder):
        same = [entry for entry in os.listdir(folder) if entry.casefold() == name.casefold()]
        if same:
            return os.path.join(folder, same[0])
    return str(text)


def _open(path: Any, flags: int, mode: int = 0o777) -> int:
    text = _name(path)
    if os.path.isdir(text):
        raise _denied(text, 5)
    plain = flags & ~(O_BINARY | O_TEXT | O_NOINHERIT)
    if plain & os.O_ACCMODE == os.O_WRONLY:
        plain = plain & ~os.O_ACCMODE | os.O_RDWR
    try:
        fd = os.open(text, plain | os.O_CLOEXEC | os.O_NONBLOCK, mode)  # no pipe stands in a folder there
    except PermissionError:
        raise _denied(text, 5) from None
    _as_text.discard(fd)
    if not flags & O_BINARY:
        _as_text.add(fd)
    for _ in range(10_000):
        try:
            _byte_lock(fd, fcntl.F_RDLCK, _OPEN_BYTE, 1)
        except BlockingIOError:
            continue  # somebody looks whether it is open
        except OSError:
            pass  # nothing that bytes can be locked of
        return fd
    os.close(fd)
    raise _denied(text, 32)


def _refuse_while_open(path: Any) -> None:
    try:
        fd = os.open(path, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except OSError:
        return  # not there, or no file: the call itself says so
    try:
        _byte_lock(fd, fcntl.F_WRLCK, _OPEN_BYTE, 1)
    except BlockingIOError:
        raise _denied(path, 32) from None
    except OSError:
        pass
    finally:
        os.close(fd)


def _unlink(path: Any) -> None:
    text = _name(path)
    _refuse_while_open(text)
    os.unlink(text)


def _rename(source: Any, target: Any) -> None:
    old, new = _name(source), _name(target)
    _refuse_while_open(old)
    if os.path.lexists(new):
        raise FileExistsError(errno.EEXIST, "Cannot create a file when that file already exists", str(new))
    os.rename(old, new)


def _replace(source: Any, target: Any) -> None:
    old, new = _name(source), _name(target)
    _refuse_while_open(old)
    _refuse_while_open(new)
    os.replace(old, new)


def _link(source: Any, target: Any) -> None:
    os.link(_name(source), _name(target))


def _write(fd: int, data: bytes) -> int:
    if fd not in _as_text:
        return os.write(fd, data)
    os.write(fd, data.replace(b"\n", b"\r\n"))
    return len(data)


def _locking(fd: int, mode: int, nbytes: int) -> None:
    """As the documents of `msvcrt.locking` have it, for the modes that do not wait."""
    kinds = {2: fcntl.F_WRLCK, 4: fcntl.F_WRLCK, 0: fcntl.F_UNLCK}
    if mode not in kinds:
        raise NotImplementedError("a lock that is waited for")
    try:
        _byte_lock(fd, kinds[mode], os.lseek(fd, 0, os.SEEK_CUR), nbytes)
    except BlockingIOError:
        raise PermissionError(errno.EACCES, "Permission denied") from None


def _select(read: Sequence[Any], write: Sequence[Any], *_: Any) -> Any:
    raise OSError(errno.ENOTSOCK, "An operation was attempted on something that is not a socket")


OS = Stand(
    os,
    {
        "O_BINARY": O_BINARY,
        "O_TEXT": O_TEXT,
        "O_NOINHERIT": O_NOINHERIT,
        "open": _open,
        "write": _write,
        "unlink": _unlink,
        "remove": _unlink,
        "rename": _rename,
        "replace": _replace,
        "link": _link,
    },
    HIDDEN_OF_OS.__contains__,
)

SIGNAL = Stand(
    signal,
    {"SIGBREAK": signal.Signals(21)},  # its number there
    lambda name: not name.startswith("__") and name not in SEEN_OF_SIGNAL,
)

MSVCRT = types.ModuleType("msvcrt")
MSVCRT.__dict__.update(LK_UNLCK=0, LK_LOCK=1, LK_NBLCK=2, LK_RLCK=3, LK_NBRLCK=4, locking=_locking)


def _windows_driver() -> types.ModuleType:
    """Textual's driver for Windows cannot even be imported here; its screenless one stands for it."""
    from textual.drivers.headless_driver import HeadlessDriver

    module = types.ModuleType("textual.drivers.windows_driver")
    module.WindowsDriver = HeadlessDriver  # type: ignore[attr-defined]
    return module


_INSTEAD: dict[str, Callable[[], types.ModuleType]] = {
    "os": lambda: OS,
    "signal": lambda: SIGNAL,
    "select": lambda: Stand(select, {"select": _select}, lambda name: name in ("poll", "epoll", "kqueue")),
    "sys": lambda: Stand(sys, {"platform": "win32"}),
    "msvcrt": lambda: MSVCRT,
    "textual.drivers.windows_driver": _windows_driver,
}

_import = builtins.__import__


def _imported(name: str, globals: Any = None, locals: Any = None, fromlist: Any = (), level: int = 0) -> Any:
    importer = (globals or {}).get("__name__", "")
    if level == 0 and (importer == "session" or importer.startswith("session.")):
        if name.partition(".")[0] in ABSENT:
            raise ModuleNotFoundError(f"No module named '{name}'", name=name)
        if name in _INSTEAD:
            return _INSTEAD[name]()
    return _import(name, globals, locals, fromlist, level)


def load(path: Path) -> types.ModuleType:
    """One module of the program, loaded a second time, as it is on Windows."""
    spec = importlib.util.spec_from_file_location(f"session.{path.stem}_on_windows", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    builtins.__import__ = _imported
    try:
        spec.loader.exec_module(module)
    finally:
        builtins.__import__ = _import
    return module


def install() -> None:
    """From now on modules of the program that are imported find themselves on Windows."""
    loaded = [name for name in sys.modules if name == "session" or name.startswith("session.")]
    assert not loaded, f"too late for {loaded}"
    builtins.__import__ = _imported


def environment() -> dict[str, str]:
    """The environment of a process that shall begin on the stand-in, and all that it begins."""
    here = Path(__file__).parent
    ways = [str(here / "begun_as_on_windows"), str(here), os.environ.get("PYTHONPATH", "")]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, ways))}
