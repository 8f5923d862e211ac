"""Reading beside the screen: begun once, asked about without a wait, and waited for where it is needed."""

from __future__ import annotations

import threading

import pytest

from session.desk.read_aside import ReadAside, there


def test_it_is_read_once_on_another_thread_and_told_when_it_is_there() -> None:
    go_on, told, readers = threading.Event(), threading.Event(), list[str]()

    def read() -> int:
        readers.append(threading.current_thread().name)
        assert go_on.wait(60)
        return 7

    aside = ReadAside(read, told.set)
    assert not readers, "nobody has asked yet"
    assert not aside.ready()
    assert not there(aside)
    go_on.set()
    assert told.wait(60)
    assert (aside(), aside(), aside.ready()) == (7, 7, True)
    assert readers == ["reading"]


def test_what_went_wrong_is_raised_where_it_is_asked_for() -> None:
    def read() -> int:
        raise OSError("gone")

    with pytest.raises(OSError, match="gone"):
        ReadAside(read)()


def test_what_is_no_reading_is_always_there() -> None:
    assert there(lambda: 7)
