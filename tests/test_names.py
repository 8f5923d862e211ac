"""One name, one thing: modules and classes over the whole house, and a first line that says what a module is."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import session
from parsed_source import parsed, statements

ROOT = Path(session.__file__).parent

MODULES = sorted(path for path in ROOT.rglob("*.py") if path.name != "__init__.py")

#: Where a module says what it is, in characters.
WIDEST = 120

#: Lines of a module: what is longer holds more than one idea.
LONGEST = 350


def told(path: Path) -> str:
    """A module's path as it is told in a complaint."""
    return str(path.relative_to(ROOT))


def test_no_two_modules_have_one_name() -> None:
    homes: dict[str, list[str]] = defaultdict(list)
    for path in MODULES:
        homes[path.stem].append(told(path))
    assert len(MODULES) > 150, "the house was found"
    assert not {name: where for name, where in homes.items() if len(where) > 1}


def test_no_two_classes_have_one_name() -> None:
    homes: dict[str, list[str]] = defaultdict(list)
    for path in MODULES:
        for node in statements(parsed(path)):
            if isinstance(node, ast.ClassDef):
                homes[node.name].append(f"{told(path)}:{node.lineno}")
    assert not {name: where for name, where in homes.items() if len(where) > 1}


def test_each_module_says_in_its_first_line_what_it_is() -> None:
    wrong = {}
    for path in MODULES:
        first = (ast.get_docstring(parsed(path)) or "").partition("\n")[0]
        if not first.endswith((".", "?")) or not 10 <= len(first) <= WIDEST:
            wrong[told(path)] = first
    assert not wrong


def test_no_module_is_longer_than_one_idea() -> None:
    lines = {told(path): path.read_text(encoding="utf-8").count("\n") for path in MODULES}
    assert not {name: count for name, count in lines.items() if count > LONGEST}
