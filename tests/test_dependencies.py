"""DEPENDENCIES.md against pyproject.toml and against what is installed: every library, its range and its license."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

import session
from parsed_source import parsed, statements

ROOT = Path(session.__file__).parent
PROJECT: dict[str, Any] = tomllib.loads((ROOT.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
PAGE = (ROOT.parent / "DEPENDENCIES.md").read_text(encoding="utf-8")

RUN: list[str] = PROJECT["dependencies"]
DEV: list[str] = PROJECT["optional-dependencies"]["dev"]
SCAN: list[str] = PROJECT["optional-dependencies"]["scan"]

#: Libraries that are imported by another name than the one they are installed by.
#: Of pydantic it is the core that is imported: it comes with each release, and only with one that knows it.
IMPORTED_AS = {"pil": "pillow", "pydantic-core": "pydantic"}

#: The surroundings that a library may be asked for in: here, on Windows, and with each Python that the program runs on.
HERE: dict[str, Any] = {**default_environment()}
SURROUNDINGS = [
    {**HERE, **system, "python_version": python, "python_full_version": f"{python}.0"}
    for system in ({}, {"sys_platform": "win32", "os_name": "nt", "platform_system": "Windows"})
    for python in ("3.11", "3.12", "3.13", "3.14")
]

#: What older metadata says in words, by its SPDX name. A plain "BSD" says too little: those were looked up by hand, in
#: the license file that comes with the library.
SPDX = {
    "License :: OSI Approved :: MIT License": {"MIT"},
    "License :: OSI Approved :: Apache Software License": {"Apache-2.0"},
    "License :: OSI Approved :: BSD License": {"BSD-2-Clause", "BSD-3-Clause"},
    "License :: OSI Approved :: ISC License (ISCL)": {"ISC"},
    "License :: OSI Approved :: Mozilla Public License 2.0 (MPL 2.0)": {"MPL-2.0"},
    "License :: OSI Approved :: GNU Lesser General Public License v3 (LGPLv3)": {"LGPL-3.0-only"},
}

#: Licenses that a library shipped with the program may have: who passes it on has to name them, and no more.
FREE = {"MIT", "MIT-CMU", "BSD-2-Clause", "BSD-3-Clause", "PSF-2.0", "Apache-2.0", "ISC", "0BSD", "Zlib", "CC0-1.0"}


def table(heading: str) -> dict[str, tuple[str, str]]:
    """The second and third cell of each row under a heading, by the library."""
    text = PAGE.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    found = re.findall(r"^\| `([\w-]+)` \| ([^|]+) \| ([^|]+) \| [^|]+ \|$", text, re.MULTILINE)
    assert len(found) == len({name for name, *_ in found}) == text.count("\n| `") > 0
    return {name: (cell, terms) for name, cell, terms in found}


def brought_in(wanted: list[str], surroundings: dict[str, Any]) -> dict[str, set[str]]:
    """What is installed for ``wanted``, each with those that ask for it; as far as it is here to be asked."""
    found: dict[str, set[str]] = {}
    extras: dict[str, set[str]] = {}
    ahead = [(Requirement(one), "") for one in wanted]
    while ahead:
        one, by = ahead.pop()
        name = canonicalize_name(one.name)
        seen = name in found and one.extras <= extras[name]
        found.setdefault(name, set()).add(by)
        extras.setdefault(name, set()).update(one.extras)
        if seen:
            continue
        try:
            asked = [Requirement(text) for text in distribution(name).requires or []]
        except PackageNotFoundError:
            continue
        for other in asked:
            marker = other.marker
            if marker is None or any(marker.evaluate({**surroundings, "extra": extra}) for extra in ("", *one.extras)):
                ahead.append((other, name))
    return found


@pytest.mark.parametrize(
    ("heading", "wanted"), [("With the program", RUN), ("With scans", SCAN), ("For the tests", DEV)]
)
def test_what_is_asked_for_is_told_with_its_range(heading: str, wanted: list[str]) -> None:
    asked = {one.name: one.specifier for one in map(Requirement, wanted)}
    told = {name: SpecifierSet(cell) for name, (cell, _) in table(heading).items()}
    assert told == asked


@pytest.mark.parametrize(
    ("direct", "heading", "wanted"),
    [("With the program", "With those", RUN), ("For the tests", "With those of the tests", [*RUN, *DEV])],
)
def test_what_comes_with_it_is_told_with_whom(direct: str, heading: str, wanted: list[str]) -> None:
    with_program = {**table("With the program"), **(table("With those") if wanted is not RUN else {})}
    known = {canonicalize_name(name) for name in (*with_program, *table(direct))}
    found: dict[str, set[str]] = {}
    for surroundings in SURROUNDINGS:
        for name, by in brought_in(wanted, surroundings).items():
            if name not in known:
                found.setdefault(name, set()).update(by)
    told = table(heading)
    assert set(told) == set(found)
    for name, (cell, _) in told.items():
        # Those that themselves only come with another are not named beside it.
        assert set(cell.split(", ")) <= found[name], name


@pytest.mark.parametrize(
    "heading", ["With the program", "With those", "With scans", "For the tests", "With those of the tests"]
)
def test_each_license_is_the_one_that_the_library_tells(heading: str) -> None:
    told = table(heading)
    here = 0
    for name, (_, terms) in told.items():
        try:
            metadata = distribution(name).metadata
        except PackageNotFoundError:
            assert name == "colorama", f"{name} is not installed"
            continue
        here += 1
        said = str(metadata["License-Expression"] or metadata["License"])
        classified = [SPDX[one] for one in metadata.get_all("Classifier", []) if one in SPDX]
        assert terms == said or any(terms in names for names in classified), f"{name}: {said} {classified}"
        assert metadata["License-Expression"] in (None, terms), name
    assert here >= len(told) - 1


def test_what_is_shipped_asks_for_nothing_but_to_be_named() -> None:
    told = {
        terms for heading in ("With the program", "With those", "With scans") for _, terms in table(heading).values()
    }
    licenses = {one for terms in told for one in terms.split(" AND ")}
    assert licenses <= FREE


@pytest.mark.wide
def test_the_program_imports_nothing_else() -> None:
    asked = {canonicalize_name(Requirement(one).name) for one in (*RUN, *SCAN)}
    imported: set[str] = set()
    whole: set[str] = set()
    for path in ROOT.rglob("*.py"):
        for node in statements(parsed(path)):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            imported |= {name.partition(".")[0] for name in names}
            whole |= set(names)
    others = imported - sys.stdlib_module_names - {"session", "__future__"}
    named = {canonicalize_name(name) for name in others}
    assert {IMPORTED_AS.get(name, name) for name in named} == asked
    # And of the standard library nothing that speaks to a network; to quote a path does not.
    assert {name for name in whole if name.startswith("urllib")} <= {"urllib.parse"}
    assert not imported & {
        "socket",
        "ssl",
        "http",
        "ftplib",
        "smtplib",
        "socketserver",
        "xmlrpc",
        "webbrowser",
    }
