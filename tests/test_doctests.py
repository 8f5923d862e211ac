"""The examples in docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import session

ROOT = Path(session.__file__).parent

#: Modules with an example in them.
WITH_EXAMPLES = sorted(
    ".".join(("session", *path.relative_to(ROOT).with_suffix("").parts))
    for path in ROOT.rglob("*.py")
    if ">>> " in path.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_examples(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name), optionflags=doctest.ELLIPSIS)
    assert found.attempted > 0
    assert found.failed == 0


def test_there_are_examples() -> None:
    assert WITH_EXAMPLES
