"""Who may know whom: the rooms of the design, proved by reading every import and by importing every module."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import session

ROOT = Path(session.__file__).parent

_BELOW_DESK = (
    "pictures",
    "sentences",
    "advice",
    "texts",
    "till",
    "log",
    "files",
    "machine",
    "walk",
    "trade",
    "version",
)

#: Of ours, what each room may import. `session.version` is a constant; the pure rooms need not even that.
MAY_KNOW: dict[str, set[str]] = {
    "machine": {"machine"},
    "trade": {"trade"},
    "walk": {"walk", "trade"},
    "files": {"files", "machine", "walk", "trade", "version"},
    "log": {"log", "files", "machine", "walk", "trade", "version"},
    "till": {"till", "log", "files", "machine", "walk", "trade", "version"},
    "texts": {"texts", "walk", "trade"},
    "advice": {"advice", "texts", "till", "log", "files", "machine", "walk", "trade", "version"},
    "sentences": {"sentences", "advice", "texts", "walk", "trade"},
    "pictures": {"pictures", "sentences", "advice", "texts", "walk", "trade"},
    "desk": {"desk", *_BELOW_DESK},
    "rehearsal": {"rehearsal", "bench", "desk", *_BELOW_DESK},
    "bench": {"bench", "desk", *_BELOW_DESK},
    "commands": {"commands", "rehearsal", "bench", "desk", *_BELOW_DESK},
    "cli": {"commands", "version"},
    "__main__": {"cli"},
    "version": set(),
}

#: Rooms that use the standard library only.
PURE = ("trade", "walk")

_LIBRARIES = {"textual", "rich", "pydantic", "tomli_w", "platformdirs"}

#: What no module of a room may bring in, even by way of another.
NOT_WITH: dict[str, set[str]] = {
    "trade": _LIBRARIES,
    "walk": _LIBRARIES,
    "texts": _LIBRARIES,
    "sentences": _LIBRARIES,
    "pictures": _LIBRARIES,
    "machine": {"textual", "rich", "pydantic"},
    "files": {"textual", "rich"},
    "log": {"textual", "rich"},
    "till": {"textual", "rich"},
    "advice": {"textual", "rich"},
    "desk": {"textual", "rich"},
}

#: Imports each module named on its command line as if it were the first of ours, and says what is loaded then
#: beside the standard library. What a library brings stays, as compiled parts cannot be loaded twice: a module
#: that should not have brought it is the first to show it.
_IMPORT_EACH = """
import importlib, json, sys
found = {}
begin = set(sys.modules)
for name in sys.argv[1:]:
    importlib.import_module(name)
    loaded = set(sys.modules) - begin
    found[name] = sorted(m for m in loaded if m.partition(".")[0] not in sys.stdlib_module_names)
    for module in found[name]:
        if module.partition(".")[0] == "session":
            del sys.modules[module]
print(json.dumps(found))
"""


def files_of(room: str) -> list[Path]:
    """All files of a room; a room may be one file."""
    base = ROOT / room
    return sorted(base.rglob("*.py")) if base.is_dir() else [base.with_suffix(".py")]


def modules_of(room: str) -> list[str]:
    """All modules of a room by their full names, its packages among them."""
    names = [".".join(("session", *path.relative_to(ROOT).with_suffix("").parts)) for path in files_of(room)]
    return [name.removesuffix(".__init__") for name in names]


def loaded_by(*names: str) -> dict[str, set[str]]:
    """For each module, what has been loaded beside the standard library, told by another process."""
    command = [sys.executable, "-c", _IMPORT_EACH, *names]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return {name: set(loaded) for name, loaded in json.loads(done.stdout).items()}


def imports_of(path: Path) -> Iterator[tuple[int, str]]:
    """Line and full name of everything that a file imports, at its top, inside functions, for types alone."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports are absolute"
            assert node.module is not None
            yield node.lineno, node.module
            if node.module == "session":
                yield from ((node.lineno, f"session.{alias.name}") for alias in node.names)


def test_every_room_has_its_rule() -> None:
    rooms = {path.stem for path in ROOT.iterdir() if path.suffix == ".py" or (path / "__init__.py").exists()}
    assert rooms - {"__init__"} == set(MAY_KNOW)


@pytest.mark.parametrize("room", list(MAY_KNOW))
def test_who_imports_whom(room: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line}: {name}"
        for path in files_of(room)
        for line, name in imports_of(path)
        if name.startswith("session.") and name.split(".")[1] not in MAY_KNOW[room]
    ]
    assert wrong == []


@pytest.mark.parametrize("room", PURE)
def test_the_pure_rooms_name_nothing_but_the_standard_library(room: str) -> None:
    named = {name.split(".")[0] for path in files_of(room) for _, name in imports_of(path)}
    assert named - {"session"} <= sys.stdlib_module_names
    assert "session" in named, "the imports were read at all"


@pytest.mark.parametrize("room", list(NOT_WITH))
def test_what_a_room_brings_in(room: str) -> None:
    found = loaded_by(*modules_of(room))
    assert set(found) == set(modules_of(room))
    for name, loaded in found.items():
        assert name in loaded
        tops = {module.split(".")[0] for module in loaded}
        assert not tops & NOT_WITH[room], f"{name} brings in {sorted(tops & NOT_WITH[room])}"
        if room in PURE:
            assert tops == {"session"}, f"{name} brings in {sorted(tops)}"
        ours = {module.split(".")[1] for module in loaded if module.startswith("session.")}
        assert ours <= MAY_KNOW[room], f"{name} brings in {sorted(ours - MAY_KNOW[room])}"


def test_the_probe_sees_what_it_looks_for() -> None:
    # Else the tests above could never fail.
    loaded = loaded_by("session.bench.app")["session.bench.app"]
    assert {"textual", "session.log", "session.texts", "session.walk", "session.trade"} <= loaded
    assert (
        "session.trade.reaches" in loaded_by("session.walk.stages", "session.walk.work_plan")["session.walk.work_plan"]
    )
    assert (
        "session.walk.work_plan"
        not in loaded_by("session.walk.work_plan", "session.walk.stages")["session.walk.stages"]
    )


def test_package_files_are_empty() -> None:
    # Any import of a module runs its packages' files first: what stands there is paid for by all.
    assert [path for path in ROOT.rglob("__init__.py") if path.read_text(encoding="utf-8").strip()] == []
