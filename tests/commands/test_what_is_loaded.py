"""What a command loads: no more of the program, and of the libraries, than it needs; that is most of what it takes."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from made_history import DAY0, SLUG, filed, proved, write_log
from session.files.supplied import supplied_folder

#: Runs commands one after the other, and prints what is loaded after them instead of what they printed.
_RUN = """
import contextlib, io, sys
from session.cli import main
for command in sys.argv[1:]:
    with contextlib.redirect_stdout(io.StringIO()):
        main(command.split("\\t"))
print(*sys.modules)
"""


def loaded(*command: str) -> set[str]:
    return loaded_by(command)


def loaded_by(*commands: tuple[str, ...]) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", _RUN, *("\t".join(command) for command in commands)],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.split())


def test_the_version_loads_no_command() -> None:
    found = loaded("--version")
    assert not {name for name in found if name.startswith("session.commands.") and "output" not in name}
    assert found.isdisjoint({"dataclasses", "rich", "pydantic_core", "textual"})


def test_the_help_loads_no_library_and_no_arithmetic() -> None:
    found = loaded("--help")
    assert found.isdisjoint(
        {
            "dataclasses",
            "decimal",
            "inspect",
            "signal",
            "tempfile",
            "shutil",
            "csv",
            "rich",
            "pydantic_core",
            "textual",
            "argcomplete",
        }
    )
    assert "session.commands.plan" in found


def test_files_that_are_in_order_are_read_without_the_library_that_says_what_is_wrong(tmp_path: Path) -> None:
    recipe = supplied_folder("recipes") / "progressive-rip.toml"
    line = supplied_folder("demo") / "lines" / "flats.toml"
    write_log(tmp_path, DAY0, [*filed(4), *proved(150.0)])
    (tmp_path / "files.toml").write_text('[[file]]\nname = "6 in slim"\nface = "8 mm"\n', encoding="utf-8")
    (tmp_path / "settings.toml").write_text('units = "mm"\nkeys.done = ["space"]\n', encoding="utf-8")
    (tmp_path / "seen.toml").write_text('bright = "some"\n', encoding="utf-8")
    commands = (
        ("recipes",),
        ("check", str(recipe)),
        ("plan", str(recipe)),
        ("advise", SLUG, "--seen", str(tmp_path / "seen.toml")),
        ("even", str(line)),
        ("history",),
    )
    found = loaded_by(*(("--till", str(tmp_path), *command) for command in commands))
    # Nor what looks for a till, where one is named.
    assert "platformdirs" not in found
    assert {"session.files.sound_values", "session.till.saw_history", "session.files.seen_file"} <= found
    assert found.isdisjoint({"pydantic_core", "session.files.core_checks", "importlib.resources"})
    # Nor what tells the line of a slip, or what it is like.
    assert found.isdisjoint({"session.files.line_numbers", "difflib"})
    # One slip, and it is asked.
    (tmp_path / "seen.toml").write_text('bright = "many"\n', encoding="utf-8")
    assert "pydantic_core" in loaded("--till", str(tmp_path), "advise", SLUG, "--seen", str(tmp_path / "seen.toml"))


def test_tables_are_printed_without_the_library_that_draws_the_screen(tmp_path: Path) -> None:
    line = supplied_folder("demo") / "lines" / "flats.toml"
    commands = (("plan", "crosscut-panel"), ("advise", "crosscut-panel"), ("even", str(line)), ("history",))
    found = loaded_by(*(("--till", str(tmp_path), *command) for command in commands))
    assert "session.commands.output.printed_tables" in found
    assert found.isdisjoint({"rich", "rich.cells", "rich.console", "rich.table", "rich.text", "rich.segment"})
    # Nor what only JSON takes, and what wraps lines in every way there is.
    assert found.isdisjoint({"json", "textwrap"})


@pytest.mark.parametrize("command", [("recipes",), ("plan", "crosscut-panel"), ("recipes", "--sources")])
def test_a_command_that_prints_loads_no_screen_and_no_other_command(command: tuple[str, ...]) -> None:
    found = loaded(*command)
    # Nor what draws pages: only who asks for a page waits for it.
    assert found.isdisjoint({"reportlab", "PIL", "session.prints.pdf_sheets"})
    # Nor pydantic around its core, nor what only who writes a log, or has an odd name for a saw, needs; nor what reads
    # source.
    assert found.isdisjoint({"pydantic", "platform", "hashlib", "inspect"})
    # Nor what tells more of some amounts than their middle.
    assert found.isdisjoint({"statistics", "fractions", "random"})
    assert found.isdisjoint({"textual", "asyncio", "session.desk.desk", "session.bench.app"})
    commands = {name.rpartition(".")[2] for name in found if name.startswith("session.commands.")}
    assert commands.isdisjoint({"start", "resume", "demo", "show", "history", "even"})


def test_a_check_loads_what_reads_that_kind_of_file_and_no_other() -> None:
    found = loaded("check", str(supplied_folder("recipes") / "rip.toml"))
    assert "session.files.recipe" in found
    assert found.isdisjoint({"session.files.cut_file", "session.files.seen_file", "session.files.scanned_file"})
    assert found.isdisjoint({"session.desk", "session.sentences", "session.bench"})


def test_a_record_is_told_without_what_works_on_others_or_at_the_bench(tmp_path: Path) -> None:
    log = write_log(tmp_path, DAY0, filed(4), finished=False)
    found = {name for name in loaded("show", str(log)) if name.startswith("session.")}
    assert {"session.till.record_place", "session.walk.state", "session.pictures.line_strip"} <= found
    # Not what looks through a till, where the file itself was named; nor what reads scans, where none was ever kept.
    assert found.isdisjoint(
        f"session.till.{name}" for name in ("till_folder", "known_saws", "copy_names", "kept_scans")
    )
    assert found.isdisjoint({"session.files.scanned_file", "session.advice.scan_change", "session.trade.scanned_line"})
    # Nor what evens a line, what can be measured at all, and what is asked of a file.
    assert found.isdisjoint(f"session.trade.{name}" for name in ("evening", "strip_plan", "file_life", "observation"))
    assert found.isdisjoint({"session.walk.measurable_facts", "session.walk.rules", "session.machine.lock"})
    # Nor its recipe, where nothing was measured that would take the saw's figures.
    assert "session.files.recipe" in found
    found = loaded("show", str(write_log(tmp_path / "other", DAY0, filed(4, strokes=0), finished=False)))
    assert not {name for name in found if name.startswith("session.files.")}


def test_what_a_record_says_to_the_next_sharpening_is_loaded_for_a_finished_one_alone(tmp_path: Path) -> None:
    advising = {"session.advice.saw_advice", "session.till.saw_history"}
    found = loaded("show", str(write_log(tmp_path, DAY0, filed(4))))
    assert advising <= found
    found = loaded("show", str(write_log(tmp_path, DAY0, filed(4), finished=False)))
    assert "session.advice.closing_account" in found
    assert found.isdisjoint({"inspect", "difflib", "statistics", "hashlib", "rich", "session.files.line_numbers"})
    assert found.isdisjoint(advising)
