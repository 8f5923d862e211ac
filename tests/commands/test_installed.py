"""The program built, installed and run as its users have it: archive and wheel, each Python that is here, pipx and uv.

Long, and an index of packages has to be reached, so that it is for the soak. What is not to be had is skipped in words.
"""

from __future__ import annotations

import ast
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import session
from session.version import VERSION
from soak_table import tried

ROOT = Path(session.__file__).parents[1]
PYTHONS = ("3.11", "3.12", "3.13", "3.14")


def run(*command: str | Path, **environment: str) -> str:
    """What a command printed; it has to succeed. No setting of these tests reaches it, and a warning is a fault."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "TOOTHLINE", "VIRTUAL"))}
    done = subprocess.run(
        [*map(str, command)],
        capture_output=True,
        text=True,
        env={**kept, **environment},
        timeout=600,
        check=False,
        cwd=environment.get("HERE"),
    )
    assert done.returncode == 0, f"{command}: {done.stdout[-2000:]} {done.stderr[-3000:]}"
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the source archive, and the wheel that was made of it."""
    folder = tmp_path_factory.mktemp("built")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, ROOT)
    return folder


def python(version: str) -> Path | None:
    """A Python of that version that begins, when one is on this machine."""
    places = [shutil.which(f"python{version}"), *sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python"))]
    for place in filter(None, map(str, filter(None, places))):
        asked = [place, "-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
        told = subprocess.run(asked, capture_output=True, text=True, check=False)
        if told.returncode == 0 and told.stdout.strip() == version:
            return Path(place)
    return None


def use(program: Path, folder: Path) -> None:
    """A whole demo, and what is made of its record."""
    strict = {"PYTHONWARNINGS": "error", "HERE": str(folder)}
    assert run(program, "--version", **strict) == f"toothline {VERSION}\n"
    assert "crosscut-panel" in run(program, "recipes", **strict)
    assert json.loads(run(program, "plan", "crosscut-panel", "--json", **strict))["points"] == 155
    log = run(program, "demo", "--unattended", "--seed", "3", "--to", folder / "till", **strict).strip()
    assert "a log in order: finished" in run(program, "check", log, **strict)
    assert json.loads(run(program, "show", log, "--json", **strict))["state"] == "finished"
    pages = run(program, "templates", "crosscut-panel", "--to", folder / "pages", "--only", "guide-block", **strict)
    assert [Path(page).suffix for page in pages.splitlines()] == [".pdf", ".svg"]
    run(program, "till", "--till", folder / "till", "--export", folder / "till.zip", **strict)
    run(program, "till", "--till", folder / "again", "--import", folder / "till.zip", **strict)
    tried()


def installed(interpreter: Path, what: Path, folder: Path) -> Path:
    """The program in an environment of its own."""
    run(interpreter, "-m", "venv", folder / "venv")
    run(folder / "venv" / "bin" / "pip", "install", "-q", what)
    return folder / "venv" / "bin" / "toothline"


@pytest.mark.soak("installed and run")
@pytest.mark.parametrize("version", PYTHONS)
def test_the_wheel_on_each_python(version: str, built: Path, tmp_path: Path) -> None:
    interpreter = python(version)
    if interpreter is None:
        pytest.skip(f"no Python {version} is on this machine: never run there by this test")
    (wheel,) = built.glob("*.whl")
    use(installed(interpreter, wheel, tmp_path), tmp_path)


@pytest.mark.soak("installed and run")
def test_the_source_archive(built: Path, tmp_path: Path) -> None:
    (archive,) = built.glob("*.tar.gz")
    use(installed(Path(sys.executable), archive, tmp_path), tmp_path)


@pytest.mark.soak("installed and run")
@pytest.mark.parametrize("tool", ["pipx", "uv"])
def test_as_a_tool_of_its_own(tool: str, built: Path, tmp_path: Path) -> None:
    (wheel,) = built.glob("*.whl")
    run(sys.executable, "-m", "venv", tmp_path / "tools")
    got = subprocess.run(
        [tmp_path / "tools/bin/pip", "install", "-q", tool], capture_output=True, text=True, check=False
    )
    if got.returncode:
        pytest.skip(f"{tool} is not to be had here: {got.stderr.strip().splitlines()[-1]}")
    command = tmp_path / "tools" / "bin" / tool
    places = {
        "pipx": {"PIPX_HOME": str(tmp_path / "home"), "PIPX_BIN_DIR": str(tmp_path / "bin")},
        "uv": {"UV_TOOL_DIR": str(tmp_path / "home"), "UV_TOOL_BIN_DIR": str(tmp_path / "bin")},
    }
    run(
        command,
        *(["install"] if tool == "pipx" else ["tool", "install", "--python", sys.executable]),
        wheel,
        **places[tool],
    )
    use(tmp_path / "bin" / "toothline", tmp_path)


@pytest.mark.soak("installed and run")
def test_archive_and_wheel_hold_all_that_is_in_the_checkout(built: Path) -> None:
    (archive,), (wheel,) = built.glob("*.tar.gz"), built.glob("*.whl")
    with tarfile.open(archive) as source:
        held = {name.partition("/")[2] for name in source.getnames()}
    with zipfile.ZipFile(wheel) as packed:
        shipped = set(packed.namelist())
    tracked = set(run("git", "-C", ROOT, "ls-files").splitlines())
    outside = (".ci/", ".git", ".pre-commit")
    assert {name for name in tracked if not name.startswith(outside)} <= held
    assert {name for name in tracked if name.startswith("session/")} <= shipped
    for folder in ("recipes", "demo"):
        assert {f"session/supplied/{name}" for name in tracked if name.startswith(f"{folder}/")} <= shipped


def against_later_pythons(tree: ast.Module) -> Iterator[str]:
    """What a Python after this one has no more, or warns of, as far as the text of a module tells."""
    gone = {"asynchat", "asyncore", "cgi", "crypt", "distutils", "imp", "nntplib", "pipes", "smtpd", "telnetlib", "uu"}
    names = {
        *(
            "datetime.utcnow",
            "datetime.utcfromtimestamp",
            "asyncio.get_event_loop_policy",
            "asyncio.iscoroutinefunction",
        ),
        *(
            "pkgutil.find_loader",
            "pkgutil.get_loader",
            "ast.Num",
            "ast.Str",
            "sys.last_traceback",
            "locale.getdefaultlocale",
        ),
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in gone)
        elif isinstance(node, ast.ImportFrom) and node.module in gone:
            yield str(node.module)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            if f"{node.value.id}.{node.attr}" in names:
                yield f"{node.value.id}.{node.attr}"
        elif isinstance(node, ast.Try):
            # Python 3.14 warns of a way out of a finally block.
            for inside in (part for line in node.finalbody for part in ast.walk(line)):
                if isinstance(inside, ast.Return | ast.Break | ast.Continue):
                    yield f"a way out of finally, line {inside.lineno}"


@pytest.mark.wide
def test_nothing_is_used_that_a_later_python_has_no_more() -> None:
    modules = sorted((ROOT / "session").rglob("*.py"))
    told = [
        f"{path.name}: {what}" for path in modules for what in against_later_pythons(ast.parse(path.read_text("utf-8")))
    ]
    assert told == []
    probe = "import imp\nfrom cgi import x\ndatetime.utcnow()\ntry:\n    pass\nfinally:\n    return\n"
    assert len(list(against_later_pythons(ast.parse(probe)))) == 4


def test_the_pythons_named_are_those_that_it_is_run_on() -> None:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    named = re.findall(r'"Programming Language :: Python :: (3\.\d+)"', text)
    assert named == list(PYTHONS[:-1]), "3.14 is named once somebody has run it there"
    assert f'requires-python = ">={named[0]}"' in text
