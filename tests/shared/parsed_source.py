"""The syntax of a file of Python, read once for all tests that look through it."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path


@cache
def parsed(path: Path) -> ast.Module:
    """The file's syntax tree; whoever changes it changes it for all."""
    return ast.parse(path.read_text(encoding="utf-8"))
