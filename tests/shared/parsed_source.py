"""The syntax of a file of Python, read once for all tests that look through it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path


@cache
def parsed(path: Path) -> ast.Module:
    """The file's syntax tree; whoever changes it changes it for all."""
    return ast.parse(path.read_text(encoding="utf-8"))


def statements(tree: ast.AST) -> Iterator[ast.stmt]:
    """Every statement in ``tree``, those within others too: a tenth of all that `ast.walk` gives."""
    ahead = [tree]
    while ahead:
        node = ahead.pop()
        if isinstance(node, ast.stmt):
            yield node
        for part in ("body", "handlers", "orelse", "finalbody", "cases"):
            inside = getattr(node, part, ())
            ahead += inside if isinstance(inside, list) else []  # a lambda's body is none
