"""What the Tab key of a shell gives: commands, options, and the saws of the till as it hangs today."""

from __future__ import annotations

import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from called_here import call_here
from session.cli import COMMANDS, _parser
from session.commands.completion import SHELLS, finder_of
from session.files.supplied import supplied_folder

SUPPLIED = {path.stem for path in supplied_folder("recipes").glob("*.toml")}


@pytest.fixture
def till(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A till with two saws, a third of which there is only a folder of records, and a retired one."""
    folder = tmp_path / "till"
    (folder / "retired").mkdir(parents=True)
    (folder / "logs" / "old-rip-saw").mkdir(parents=True)
    for name, place in (("slipway-rip-saw", ""), ("oar-loft-crosscut-saw", ""), ("sail-room-dovetail-saw", "retired")):
        shutil.copy(supplied_folder("demo") / f"{name}.toml", folder / place)
    monkeypatch.setenv("TOOTHLINE_TILL", str(folder))
    monkeypatch.chdir(tmp_path)
    return folder


def after(line: str) -> list[str]:
    """All that a shell is offered behind ``line``, of which the last word is only begun."""
    finder, found = finder_of(_parser(COMMANDS)), list[str]()
    while (one := finder.rl_complete(line, len(found))) is not None:
        found.append(one)
    return [one[line.rindex(" ") + 1 :].strip() if " " in line else one.strip() for one in found]


def test_every_command_and_every_option_is_offered() -> None:
    assert set(after("")) >= set(COMMANDS)
    assert after("pl") == ["plan"]
    commands = next(action for action in _parser(COMMANDS)._actions if action.dest == "command").choices
    assert isinstance(commands, dict)
    for name, parser in commands.items():
        options = {option for option in parser._option_string_actions if option.startswith("--")}
        assert set(after(f"{name} --")) == options, name


def test_saws_are_those_that_hang_in_the_till_then_the_supplied_ones(till: Path) -> None:
    hanging = {"slipway-rip-saw", "oar-loft-crosscut-saw"}
    assert set(after("start ")) == hanging | SUPPLIED
    assert set(after("history ")) == hanging | {"old-rip-saw", "sail-room-dovetail-saw"}
    assert after("plan sl") == ["slipway-rip-saw"]
    assert set(after("retire ")) == hanging | {"old-rip-saw"}
    assert after("retire --back ") == ["sail-room-dovetail-saw"]
    other = till.parent / "other"
    other.mkdir()
    shutil.copy(supplied_folder("demo") / "netloft-panel-saw.toml", other)
    assert after(f"--till {other} edit ") == after(f"edit --till {other} ") == ["netloft-panel-saw"]


def test_a_saw_may_be_a_file_and_a_folder_is_one(till: Path) -> None:
    assert after("start ti") == after("templates hand --to ti") == ["till/"]
    assert set(after("start till/")) == {
        *(f"till/{name}.toml" for name in ("slipway-rip-saw", "oar-loft-crosscut-saw")),
        *("till/retired/", "till/logs/"),
    }
    # Nobody else knows a person's own lengths and words.
    assert after("plan hand --may-lose ") == after("new ") == []


@pytest.mark.parametrize("name", ["missing", "not-a-till"])
def test_a_till_that_cannot_be_read_leaves_the_supplied_ones(name: str, till: Path) -> None:
    (till.parent / "not-a-till").write_text("a file", encoding="utf-8")
    assert set(after(f"start --till {till.parent / name} ")) == SUPPLIED
    assert after(f"edit --till {till.parent / name} ") == []


@pytest.mark.parametrize("shell", SHELLS)
def test_each_shell_gets_a_script_of_its_own(shell: str, tmp_path: Path) -> None:
    done = call_here(tmp_path, "completion", shell, environment={})
    assert (done.returncode, done.stderr) == (0, b"")
    begins = {"bash": b"complete -o", "zsh": b"compdef", "fish": b"complete --command toothline"}
    assert begins[shell] in done.stdout


def test_another_shell_is_refused_with_those_that_are_known(tmp_path: Path) -> None:
    done = call_here(tmp_path, "completion", "csh", environment={})
    assert done.returncode == 2
    assert all(shell.encode() in done.stderr for shell in SHELLS)


@pytest.mark.skipif(shutil.which("bash") is None, reason="there is no bash here")
def test_bash_itself_completes_a_saw(till: Path, tmp_path: Path) -> None:
    program = tmp_path / "bin" / "toothline"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m session "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    asked = 'eval "$(toothline completion bash)"; COMP_LINE="toothline resume oa"; COMP_POINT=${#COMP_LINE}; '
    asked += (
        'COMP_WORDS=($COMP_LINE); _python_argcomplete toothline; printf "%s|" "${COMPREPLY[@]}"; complete -p toothline'
    )
    path = f"{program.parent}:/usr/bin:/bin"
    done = subprocess.run(
        ["bash", "--norc", "-c", asked],
        capture_output=True,
        text=True,
        check=True,
        env={"PATH": path, "TOOTHLINE_TILL": str(till), "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert done.stderr == ""
    offered, _, registered = done.stdout.rpartition("|")
    assert offered == "oar-loft-crosscut-saw "
    assert registered.endswith("toothline\n")
