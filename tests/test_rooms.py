"""Who may know whom: the arrows that DEVELOPERS.md draws, proved by every import and by importing every module."""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

import session
from parsed_source import parsed, statements

ROOT = Path(session.__file__).parent

#: A row of the table of arrows in DEVELOPERS.md: a room, the rooms it knows, the libraries that come with it.
ROW = re.compile(r"^\| `(\w+)` \| ([\w, ]+) \| ([\w, ]+) \|$", re.MULTILINE)

ARROWS: list[tuple[str, str, str]] = ROW.findall((ROOT.parent / "DEVELOPERS.md").read_text(encoding="utf-8"))

#: Of pydantic only the core is loaded: the rest takes three times as long.
LOADED_AS = {"pydantic": "pydantic_core"}

#: The libraries that the program is installed with, by the names that they are imported by.
ALL_LIBRARIES = frozenset(
    LOADED_AS.get(found[0], found[0].replace("-", "_"))
    for wanted in tomllib.loads((ROOT.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    if (found := re.match(r"[\w-]+", wanted))
)


#: By the names that they are imported by, the libraries of the scan extra; pillow comes with the program's PDF library.
SCAN_LIBRARIES = frozenset({"numpy", "contourpy", "PIL"})


def _names(cell: str) -> frozenset[str]:
    several = {"nothing of ours": frozenset[str](), "none": frozenset[str](), "all": ALL_LIBRARIES}
    return several[cell] if cell in several else frozenset(cell.split(", "))


#: Of ours, what each room may know beside itself, directly or by way of another.
MAY_KNOW = {
    room: frozenset(one for one, *_ in ARROWS[:row]) if known == "every room above" else _names(known)
    for row, (room, known, _) in enumerate(ARROWS)
}

#: The libraries that may be loaded with a room.
LIBRARIES = {room: _names(libraries) for room, _, libraries in ARROWS}

#: Rooms that use the standard library only.
PURE = [room for room, libraries in LIBRARIES.items() if not libraries and (ROOT / room).is_dir()]

#: Rooms that not every library may come with, even by way of another.
NARROW = [room for room, libraries in LIBRARIES.items() if not libraries >= ALL_LIBRARIES and (ROOT / room).is_dir()]

#: Imports the modules named on its command line one after another, and says of each what was loaded with it that had
#: not been before, beside the standard library: what a room should not bring in stands beside the first that brings it.
_IMPORT_EACH = """
import importlib, json, sys
found = {}
for name in sys.argv[1:]:
    begin = set(sys.modules)
    importlib.import_module(name)
    loaded = set(sys.modules) - begin
    found[name] = sorted(m for m in loaded if m.partition(".")[0] not in sys.stdlib_module_names)
print(json.dumps(found))
"""


def files_of(room: str) -> list[Path]:
    """All files of a room; a room may be one file."""
    base = ROOT / room
    return sorted(base.rglob("*.py")) if base.is_dir() else [base.with_suffix(".py")]


def modules_of(room: str) -> list[str]:
    """All modules of a room by their full names, its packages among them."""
    return [module_of(path) for path in files_of(room)]


def module_of(path: Path) -> str:
    """A file's module by its full name."""
    return ".".join(("session", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")


def loaded_by(*names: str) -> dict[str, set[str]]:
    """For each module, what it was the first to load beside the standard library, told by another process."""
    command = [sys.executable, "-c", _IMPORT_EACH, *names]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return {name: set(loaded) for name, loaded in json.loads(done.stdout).items()}


def imports_of(path: Path) -> Iterator[tuple[int, str]]:
    """Line and full name of everything that a file imports, at its top, inside functions, for types alone."""
    yield from imports_under(parsed(path), path)


def imports_under(tree: ast.AST, path: Path) -> Iterator[tuple[int, str]]:
    """The same of a part of a file."""
    for node in statements(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports are absolute"
            assert node.module is not None
            yield node.lineno, node.module
            # What is imported of a package may be a module or a package itself.
            for name in (f"{node.module}.{alias.name}" for alias in node.names):
                place = ROOT.parent.joinpath(*name.split("."))
                if name.startswith("session.") and (place.is_dir() or place.with_suffix(".py").exists()):
                    yield node.lineno, name


@cache
def names_in(module: str) -> frozenset[str]:
    """The modules of ours that ``module`` imports, wherever in it."""
    path = ROOT.parent.joinpath(*module.split("."))
    files = [file for file in (path.with_suffix(".py"), path / "__init__.py") if file.exists()]
    return frozenset(name for file in files for _, name in imports_of(file) if name.startswith("session."))


def known_by(modules: Iterable[str]) -> set[str]:
    """All that ``modules`` import of ours, and what that imports in turn."""
    found: set[str] = set()
    ahead = set(modules)
    while ahead:
        named = names_in(ahead.pop())
        ahead |= named - found
        found |= named
    return found


def test_every_room_has_its_row() -> None:
    rooms = {path.stem for path in ROOT.iterdir() if path.suffix == ".py" or (path / "__init__.py").exists()}
    assert [room for room, _, _ in ARROWS] == list(MAY_KNOW), "a room has two rows"
    assert rooms - {"__init__"} == set(MAY_KNOW)
    assert set().union(*MAY_KNOW.values()) < set(MAY_KNOW)
    assert set().union(*LIBRARIES.values()) == ALL_LIBRARIES | SCAN_LIBRARIES


@pytest.mark.parametrize("room", list(MAY_KNOW))
def test_who_imports_whom(room: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line}: {name}"
        for path in files_of(room)
        for line, name in imports_of(path)
        if name.startswith("session.") and name.split(".")[1] not in MAY_KNOW[room] | {room}
    ]
    assert wrong == []


@pytest.mark.parametrize("room", list(MAY_KNOW))
def test_each_arrow_is_needed(room: str) -> None:
    # What is allowed and not needed any more is taken out of DEVELOPERS.md, which tells how the house is.
    known = {name.split(".")[1] for name in known_by(modules_of(room))}
    assert known - {room} == MAY_KNOW[room]


def test_no_two_rooms_know_each_other() -> None:
    assert [(one, other) for one in MAY_KNOW for other in MAY_KNOW[one] if one in MAY_KNOW[other]] == []


@pytest.mark.parametrize("room", PURE)
def test_the_pure_rooms_name_nothing_but_the_standard_library(room: str) -> None:
    named = {name.split(".")[0] for path in files_of(room) for _, name in imports_of(path)}
    assert named - {"session"} <= sys.stdlib_module_names
    assert "session" in named, "the imports were read at all"


@pytest.mark.parametrize("room", NARROW)
def test_what_a_room_brings_in(room: str) -> None:
    found = loaded_by(*modules_of(room))
    assert set(found) == set(modules_of(room))
    everything = {module for loaded in found.values() for module in loaded}
    assert everything >= set(modules_of(room))
    assert {module.split(".")[0] for module in everything} >= LIBRARIES[room]
    for name, loaded in found.items():
        tops = {module.split(".")[0] for module in loaded}
        unwanted = tops & ((ALL_LIBRARIES | SCAN_LIBRARIES - {"PIL"} | set(LOADED_AS)) - LIBRARIES[room])
        assert not unwanted, f"{name} brings in {sorted(unwanted)}"
        if room in PURE:
            assert tops <= {"session"}, f"{name} brings in {sorted(tops)}"
        ours = {module.split(".")[1] for module in loaded if module.startswith("session.")}
        assert ours <= MAY_KNOW[room] | {room}, f"{name} brings in {sorted(ours - MAY_KNOW[room] - {room})}"


def test_no_other_room_names_what_only_scans_need() -> None:
    named = {
        module_of(path): tops
        for path in ROOT.rglob("*.py")
        if (tops := {name.partition(".")[0] for _, name in imports_of(path)} & SCAN_LIBRARIES)
    }
    assert {module.split(".")[1] for module in named} == {"scan"}
    assert set().union(*named.values()) == SCAN_LIBRARIES


def test_the_probe_sees_what_it_looks_for() -> None:
    # Else the tests above could never fail.
    loaded = loaded_by("session.bench.app")["session.bench.app"]
    assert {"textual", "session.log", "session.texts", "session.walk", "session.trade"} <= loaded
    apart = loaded_by("session.walk.stages", "session.walk.work_plan")
    assert "session.walk.work_plan" not in apart["session.walk.stages"]
    assert {"session.walk.work_plan", "session.trade.reaches"} <= set(apart["session.walk.work_plan"])


def needed_first(path: Path) -> Iterator[str]:
    """The modules of ours that have to be there before a file's own top level is through."""
    for node in parsed(path).body:
        of_types_alone = isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        if not of_types_alone and not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield from (name for _, name in imports_under(node, path) if name.startswith("session."))


def imported_in(body: Iterable[ast.stmt], *, types: bool = False) -> set[str]:
    """The names that statements import for themselves, not in functions within; types: those for types alone."""
    found: set[str] = set()
    for node in body:
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            # With another branch the name is there either way.
            found |= imported_in(node.body) if types and not node.orelse else set()
        elif isinstance(node, ast.Import | ast.ImportFrom):
            found |= set() if types else {alias.asname or alias.name for alias in node.names}
        elif not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            for part in ("body", "orelse", "handlers", "finalbody"):
                found |= imported_in(getattr(node, part, ()), types=types)
    return found


def missing_names(tree: ast.AST, missing: set[str]) -> Iterator[tuple[int, str]]:
    """Where a name of ``missing`` is needed when the code runs: anywhere but in an annotation, and where no function
    around it imports it."""
    for part, value in ast.iter_fields(tree):
        for node in value if isinstance(value, list) else [value]:
            if not isinstance(node, ast.AST) or part in ("annotation", "returns"):
                continue
            if isinstance(node, ast.Name) and node.id in missing:
                yield node.lineno, node.id
            inside = missing
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                inside = missing - imported_in(node.body)
            yield from missing_names(node, inside)


def test_what_is_imported_for_types_alone_is_used_for_types_alone() -> None:
    for path in sorted(ROOT.rglob("*.py")):
        tree = parsed(path)
        assert list(missing_names(tree, imported_in(tree.body, types=True))) == [], path
    # Else it could never fail.
    one = "if TYPE_CHECKING:\n    from a import B\n\ndef f(b: B) -> B:\n    return B"
    other = one.replace("    return B", "    from a import B\n    return B")
    found = [list(missing_names(tree, imported_in(tree.body, types=True))) for tree in map(ast.parse, (one, other))]
    assert found == [[(5, "B")], []]


def circle_in(needs: dict[str, list[str]]) -> list[str]:
    """A way from a module back to itself by what each needs first; none when there is no such way."""
    through: set[str] = set()

    def search(name: str, way: list[str]) -> list[str]:
        if name in way:
            return [*way[way.index(name) :], name]
        if name not in through:
            for needed in needs.get(name, []):
                if found := search(needed, [*way, name]):
                    return found
            through.add(name)
        return []

    return next((found for name in needs if (found := search(name, []))), [])


def test_no_module_needs_itself_whichever_is_imported_first() -> None:
    needs = {name: list(needed_first(path)) for path in sorted(ROOT.rglob("*.py")) for name in [module_of(path)]}
    assert circle_in(needs) == []
    # Else it could never fail.
    assert sum(map(len, needs.values())) > 500
    one, other = next((name, needed[0]) for name, needed in needs.items() if needed)
    assert circle_in({**needs, other: [one]})


def test_package_files_are_empty() -> None:
    # Any import of a module runs its packages' files first: what stands there is paid for by all.
    assert [path for path in ROOT.rglob("__init__.py") if path.read_text(encoding="utf-8").strip()] == []
