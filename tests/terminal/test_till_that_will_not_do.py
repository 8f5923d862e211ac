"""A till that cannot be written in, named at a real terminal: one line, the disk's exit status, no screen left open."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture
def nowhere() -> Path:
    """A folder that nobody can make, root neither."""
    if not Path("/proc/self").is_dir():
        pytest.skip("this system has no /proc, where nothing can be made")
    return Path("/proc/boat-shed-till")


def one_line(terminal: Any) -> str:
    (line,) = terminal.raw.decode("utf-8").splitlines()
    assert "fault of the program" not in line
    assert "\x1b" not in line
    return str(line)


def test_a_till_that_cannot_be_made(nowhere: Path, shed: Any) -> None:
    for environment, arguments in (({"TOOTHLINE_TILL": str(nowhere)}, []), ({}, ["--till", str(nowhere)])):
        terminal = shed.open(*arguments, "start", "green-wood", columns=300, **environment)
        assert terminal.end() == 4
        assert str(nowhere) in one_line(terminal)


def test_a_demo_to_a_place_that_cannot_be_made(nowhere: Path, shed: Any) -> None:
    terminal = shed.open("demo", "--unattended", "--to", str(nowhere), columns=300)
    assert terminal.end() == 4
    assert str(nowhere) in one_line(terminal)


def test_a_till_that_is_a_file(shed: Any) -> None:
    (shed.folder / "file").write_text("a file\n", encoding="utf-8")
    for arguments in ([], ["start", "green-wood"], ["resume"]):
        terminal = shed.open("--till", str(shed.folder / "file"), *arguments, columns=300)
        assert terminal.end() == 2
        assert "a file; a till is a folder" in one_line(terminal)
    assert (shed.folder / "file").read_text(encoding="utf-8") == "a file\n"


def test_a_log_folder_whose_name_is_taken_by_a_file(shed: Any) -> None:
    (shed.till / "logs").write_text("not a folder\n", encoding="utf-8")
    terminal = shed.open("start", "green-wood", columns=300)
    assert terminal.end() == 4
    assert str(shed.till) in one_line(terminal)
    assert sorted(path.name for path in shed.till.iterdir()) == ["logs", "settings.toml"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write in every folder")
def test_a_till_that_can_only_be_read(shed: Any) -> None:
    shed.till.chmod(0o500)
    try:
        terminal = shed.open("start", "green-wood", columns=300)
        assert terminal.end() == 4
        assert str(shed.till) in one_line(terminal)
        # What is there can be looked at all the same.
        till = shed.open()
        till.wait("the till at")
        till.send("qq")
        assert till.end() == 0
    finally:
        shed.till.chmod(0o700)


def test_the_till_lists_what_is_not_in_order_and_opens_the_rest(shed: Any) -> None:
    (shed.till / "torn.toml").write_bytes(b"\xff\x00[saw\n")
    terminal = shed.open(columns=120)
    terminal.wait("torn.toml: not in order")
    terminal.send("\r")
    terminal.wait("not UTF-8")
    terminal.send("q")
    terminal.wait("q again leaves")
    terminal.send("q")
    assert terminal.end() == 0
    assert terminal.modes_left_on() == []
    assert not (shed.till / "logs").exists()
