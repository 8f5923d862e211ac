"""A second reader of logs, by tomllib and zlib alone. Nothing of ours is imported."""

from __future__ import annotations

import re
import tomllib
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class ReadLog:
    """A log as an independent reader reads it."""

    header: dict[str, Any]
    marks: list[dict[str, Any]]
    rest: bytes

    def before(self, later: int) -> ReadLog:
        """The log as it was before its last ``later`` marks."""
        return ReadLog(self.header, self.marks[: len(self.marks) - later], b"")

    def standing(self) -> list[dict[str, Any]]:
        """The marks that were not taken back, without the taking back."""
        put_back = {mark["of"] for mark in self.marks if mark["did"] == "put back"}
        backs = [mark for mark in self.marks if mark["did"] == "took back" and mark["seq"] not in put_back]
        taken = {mark["of"] for mark in backs}
        return [
            mark for mark in self.marks if mark["seq"] not in taken and mark["did"] not in ("took back", "put back")
        ]


def read_independently(path: Path) -> ReadLog:
    """The log at ``path`` by tomllib and zlib alone: its seals, its sequence, and its text as a whole."""
    data = path.read_bytes()
    seal = re.search(rb'^\[seal\]\ncrc = "([0-9a-f]{8})"\n', data, re.MULTILINE)
    assert seal is not None, "a log without a sealed header"
    assert zlib.crc32(data[: seal.start() + len(b"[seal]\n")]) == int(seal[1], 16)
    marks, end = [], seal.end()
    for block in re.finditer(rb'(\n\[\[mark\]\]\n(?:[a-z]+ = [^\n]*\n)*?)crc = "([0-9a-f]{8})"\n', data[end:]):
        assert block.start() == end - seal.end(), f"a hole before byte {seal.end() + block.start()}"
        assert zlib.crc32(block[1]) == int(block[2], 16), f"a wrong seal at byte {seal.end() + block.start()}"
        (mark,) = tomllib.loads(block[0].decode("utf-8"))["mark"]
        marks.append(mark)
        end = seal.end() + block.end()
    assert [mark["seq"] for mark in marks] == list(range(1, len(marks) + 1))
    whole = tomllib.loads(data[:end].decode("utf-8"))
    assert whole.pop("mark", []) == marks
    return ReadLog(whole, marks, data[end:])
