"""Files that are not recipes: each gives one line, and nothing that could block is opened."""

from __future__ import annotations

import os
import socket
from pathlib import Path

import pytest

from session.files.checked_file import MOST_ERRORS
from session.files.recipe import load_recipe
from session.machine.refusal import Refusal
from session.machine.untrusted_text import (
    LONGEST_LINE,
    MOST_BYTES,
    MOST_KEY_PARTS,
    ReadingError,
    parse,
    read_text,
    shown,
)

GOOD = """\
format = 1
[saw]
name = "Boat-shed rip"
kind = "rip"
cut = "rip"
toothed_length = "28 in"
plate_gauge = 18
[teeth]
points_per_inch = 5.5
rake = 4
"""


def only_error(path: Path) -> str:
    with pytest.raises(Refusal) as caught:
        load_recipe(path)
    [error] = caught.value.lines
    assert error == str(caught.value)
    assert error.isprintable()
    return error


@pytest.mark.parametrize(
    ("data", "wanted"),
    [
        (b"", ": the file is empty"),
        (b" \n\r\n\t", ": the file is empty"),
        (b"\xef\xbb\xbf" + GOOD.encode(), ":1: starts with the byte order mark of UTF-8; save it as UTF-8 without one"),
        (GOOD.encode("utf-16"), ":1: starts with the byte order mark of UTF-16; save it as UTF-8 without one"),
        (b"format = 1\n# caf\xe9\n", ":2: not UTF-8 text (byte 16); save it as UTF-8"),
        (b"\x7fELF\x02\x01\x01\x00\xff\xff", ":1: not UTF-8 text (byte 8); save it as UTF-8"),
        (b"format = 1\n\0\0\0\n", ":2: not TOML: "),
        (b"format = 1\rname = 2\n", ":1: not TOML: "),
        (b"format = 1\n[saw]\nname = 'x\n", ":3: not TOML: "),
        (b"format = 1\nformat = 1\n", ":2: not TOML: "),
        (b"format = 1\nx = [1,\n2,\n", ":3: not TOML: "),
        (b"format = \x1b[2J\n", ":1: not TOML: "),
        (b"PK\x03\x04 not a recipe", ":1: not TOML: "),
        (b"x = " + b"[" * 1900 + b"]" * 1900, ": lists or tables nested too deep"),
        (b"x = " + b"{a=" * 1000 + b"1" + b"}" * 900, ": lists or tables nested too deep"),
        (b"a = 1\n" + b".".join([b"a"] * MOST_KEY_PARTS) + b".a = 1\n", ":2: a key of many parts; allowed: fewer than"),
        (
            b"a = 1\n[" + b" . ".join([b"'a'"] * MOST_KEY_PARTS) + b".b]\n",
            ":2: a key of many parts; allowed: fewer than",
        ),
        (b"a = 1\nb = '" + b"x" * LONGEST_LINE + b"'\n", ":2: a line too long; allowed: at most"),
        (b"#" * (MOST_BYTES + 1), f": {MOST_BYTES + 1:,} bytes; allowed: at most {MOST_BYTES:,}"),
    ],
)
def test_bytes_that_are_no_recipe(tmp_path: Path, data: bytes, wanted: str) -> None:
    file = tmp_path / "saw.toml"
    file.write_bytes(data)
    assert only_error(file).startswith(f"{file}{wanted}")


def test_keys_just_short_enough_are_read() -> None:
    values = parse(".".join(["a"] * (MOST_KEY_PARTS - 1)) + ".b = 1\nv = [0.5, 0.5]\n# " + "a." * 20)
    assert values["v"] == [0.5, 0.5]


def test_a_large_file_is_refused_by_its_size_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "saw.toml"
    with file.open("wb") as sparse:
        sparse.truncate(50 * 1024 * 1024)
    monkeypatch.setattr(os, "open", lambda *_: pytest.fail("opened a file of 50 MB"))
    assert "52,428,800 bytes; allowed: at most 1,000,000" in only_error(file)


def test_a_file_that_grows_while_it_is_read_is_cut_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "saw.toml"
    file.write_bytes(b"#" * 100)
    small = file.stat()
    file.write_bytes(b"#" * 300)
    monkeypatch.setattr(os, "fstat", lambda _: small)
    monkeypatch.setattr(Path, "stat", lambda *_, **__: small)
    with pytest.raises(ReadingError, match="more than 200 bytes"):
        read_text(file, most=200)


def test_what_is_not_a_regular_file_is_never_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    listening = socket.socket(socket.AF_UNIX)
    here = Path.cwd()
    os.chdir(tmp_path)  # a socket's path may not be long
    try:
        listening.bind("socket.toml")
    finally:
        os.chdir(here)
        listening.close()
    link = tmp_path / "link.toml"
    link.symlink_to("/dev/zero")
    monkeypatch.setattr(os, "open", lambda *_: pytest.fail("opened it"))
    for path in (pipe, tmp_path / "socket.toml", link, Path("/dev/null")):
        assert only_error(path) == f"{path}: not a regular file (a pipe, socket or device)"
    assert only_error(tmp_path) == f"{tmp_path}: a folder, not a file"


def test_a_file_swapped_for_a_pipe_before_opening_does_not_block(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "saw.toml"
    file.write_text(GOOD)
    regular = file.stat()
    file.unlink()
    os.mkfifo(file)
    monkeypatch.setattr(Path, "stat", lambda *_, **__: regular)
    with pytest.raises(ReadingError, match="not a regular file"):
        read_text(file)


def test_links_are_followed_to_regular_files_only(tmp_path: Path) -> None:
    (tmp_path / "real.toml").write_text(GOOD)
    (tmp_path / "link.toml").symlink_to("real.toml")
    assert load_recipe(tmp_path / "link.toml").saw.points == 127
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    assert only_error(tmp_path / "loop.toml").startswith(f"{tmp_path / 'loop.toml'}: cannot be read: ")
    (tmp_path / "dangling.toml").symlink_to("absent.toml")
    assert only_error(tmp_path / "dangling.toml") == f"{tmp_path / 'dangling.toml'}: no such file"


def test_names_that_are_no_files(tmp_path: Path) -> None:
    assert only_error(tmp_path / "absent.toml").endswith(": no such file")
    assert only_error(tmp_path / ("n" * 300)).startswith(f"{tmp_path}/nnn")
    assert only_error(tmp_path / "a\0b").endswith(": not a file name")
    assert only_error(tmp_path / "a\x1b[2Jb").endswith("/a[2Jb: no such file")
    assert only_error(tmp_path / os.fsdecode(b"\xff\xfe")).endswith(": no such file")
    (tmp_path / "file").write_text(GOOD)
    assert "cannot be read" in only_error(tmp_path / "file" / "saw.toml")


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "saw.toml"
    file.write_text(GOOD)

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    assert only_error(file) == f"{file}: cannot be read: Permission denied"


def test_the_shown_path_has_no_control_characters() -> None:
    assert shown(Path("a\x1b[2Jb\u202ec\n")) == "a[2Jbc "


def test_thousands_of_errors_are_counted_and_not_listed(tmp_path: Path) -> None:
    file = tmp_path / "saw.toml"
    file.write_text(GOOD + "".join(f"k{number} = 1\n" for number in range(5000)))
    with pytest.raises(Refusal) as caught:
        load_recipe(file)
    assert len(caught.value.lines) == MOST_ERRORS + 1
    assert caught.value.lines[-1] == f"{file}: and {5000 - MOST_ERRORS:,} more errors"


ODD_BUT_VALID = [
    GOOD.replace("\n", "\r\n"),
    GOOD.rstrip("\n"),
    "format=1\nsaw.name='Boat-shed rip'\nsaw . kind = 'rip'\nsaw.\"cut\" = \"rip\"\n'saw'.toothed_length = '28 in'\n"
    "saw.plate_gauge = 0x12\nteeth.points_per_inch = 55e-1\nteeth.rake = +4.0\n",
    'teeth = { points_per_inch = 5.5, rake = 4 } # short\nformat = 1\n[saw]\nname = """\\\n   Boat-shed \\\n   rip"""\n'
    "kind = '''rip'''\ncut = \"\\u0072ip\"\ntoothed_length = '''\n28 in'''\nplate_gauge = 0b1_0010\n",
    '[ teeth ]\n"points_per_inch" = 5.50\n\'rake\' = 4e0\n\n\n[saw]#x\nplate_gauge = 1_8\ntoothed_length = "28 in"\n'
    'cut = "rip"\tkind = "rip"\n'.replace("\tkind", "\nkind")
    + 'name = "Boat-shed  rip "\n[set]\n[work]\n[file]\n',
]


@pytest.mark.parametrize("text", [text if "format" in text else "format = 1\n" + text for text in ODD_BUT_VALID])
def test_odd_but_valid_toml_loads_to_the_same_saw(tmp_path: Path, text: str) -> None:
    plain, odd = tmp_path / "plain.toml", tmp_path / "odd.toml"
    plain.write_bytes(GOOD.encode())
    odd.write_bytes(text.encode())
    assert load_recipe(odd).saw == load_recipe(plain).saw
    assert load_recipe(odd).values == load_recipe(plain).values
