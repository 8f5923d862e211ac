"""A saw's history where logs are copied, changed by hand or no logs at all: each counts once or is told."""

from __future__ import annotations

import platform
import shutil
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from made_history import (
    DAY0,
    SAW,
    SLUG,
    a_cut,
    filed,
    header_of,
    numbered,
    told,
    write_log,
)
from session.log.journal import Journal
from session.log.log_bytes import LogStanding, make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.till.kept_cuts import write_cut
from session.till.saw_history import in_words
from session.till.till_folder import Till
from session.walk.account import Account
from session.walk.mark import Did, Mark


def a_bench(till: Path, node: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "node", lambda: node)
    marks = numbered(filed(3), DAY0)
    with Journal.create(till / "logs" / SLUG, header_of(DAY0), started=DAY0) as journal:
        for mark in marks:
            journal.append(mark)
        journal.append(closing(Account.of(marks), Mark(seq=4, at=DAY0 + timedelta(minutes=1), did=Did.FINISHED)))
    write_cut(Till(till), SAW, a_cut(DAY0 + timedelta(days=1)))


def test_two_tills_merge_by_copying(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The worst case: the same saw, the same second, the same words; only the benches differ.
    one, other, merged = tmp_path / "loft", tmp_path / "shed", tmp_path / "both"
    a_bench(one, "loft", monkeypatch)
    a_bench(other, "shed", monkeypatch)
    files = [path for till in (one, other) for path in till.rglob("*.toml")]
    shutil.copytree(one, merged)
    shutil.copytree(other, merged, dirs_exist_ok=True)
    assert len(list(merged.rglob("*.toml"))) == len(files) == 4
    together, apart = told(merged), told(one, other)
    assert len(together.finished) == len(apart.finished) == 2
    assert [one.path.name for one in together.sharpenings] == [one.path.name for one in apart.sharpenings]
    assert [cut for _, cut in together.cuts] == [cut for _, cut in apart.cuts]
    assert len(together.cuts) == 2
    # Copies of what is there already count once.
    assert len(told(merged, one, other, merged).sharpenings) == 2
    assert len(told(merged, one, other, merged).cuts) == 2


def test_of_two_copies_the_one_that_goes_further_counts(tmp_path: Path) -> None:
    early, late = tmp_path / "early", tmp_path / "late"
    write_log(early, DAY0, filed(3), finished=False)
    write_log(late, DAY0, filed(5))
    for order in ((early, late), (late, early)):
        (only,) = told(*order).sharpenings
        assert (only.state, only.gullets) == (LogStanding.FINISHED, 5)


def test_a_copy_changed_by_hand_gives_way_to_one_in_order(tmp_path: Path) -> None:
    whole, edited = tmp_path / "whole", tmp_path / "edited"
    write_log(whole, DAY0, filed(5))
    path = write_log(edited, DAY0, filed(5))
    path.write_bytes(path.read_bytes() + b"# a remark\n")
    found = told(edited, whole)
    assert [one.state for one in found.sharpenings] == [LogStanding.FINISHED]
    alone = told(edited)
    assert [one.state for one in alone.sharpenings] == [LogStanding.READ_ONLY]
    assert len(alone.unread) == 1
    assert (alone.sharpenings[0].gullets, alone.finished) == (5, ())


def test_a_log_that_cannot_be_read_is_listed_with_its_reason(tmp_path: Path) -> None:
    path = write_log(tmp_path, DAY0, filed(2))
    (path.parent / "empty.toml").write_bytes(b"")
    (path.parent / "noise.toml").write_bytes(b"\xff\x00\x1b[31m" * 40)
    (path.parent / "recipe.toml").write_text('format = 1\n[saw]\nname = "Netloft"\n')
    folder = tmp_path / "cuts" / SLUG
    folder.mkdir(parents=True)
    (folder / "bad.toml").write_text("format = 1\n[cut]\nstrokes = 0\n")
    found = told(tmp_path)
    assert len(found.finished) == 1
    words = in_words(found.unread)
    assert len(words) == 4
    for name, line in zip(("bad.toml", "empty.toml", "noise.toml", "recipe.toml"), words, strict=True):
        assert name in line
        assert line.count(name) == 1
        assert line.isprintable()


ODD = st.one_of(
    st.binary(max_size=200),
    st.recursive(
        st.none() | st.booleans() | st.integers(-(2**62), 2**62) | st.floats() | st.text(max_size=12) | st.datetimes(),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
        max_leaves=10,
    ),
)


@given(
    session=ODD,
    values=st.dictionaries(st.sampled_from(["summary", "stage", "value", "what"]), ODD, max_size=3),
    tail=st.binary(max_size=60),
)
@examples(120, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_odd_log_breaks_history(session: Any, values: dict[str, Any], tail: bytes, tmp_path: Path) -> None:
    path = tmp_path / "logs" / SLUG / "odd.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(odd_log(session, values) + tail)
    found = told(tmp_path)
    assert len(found.sharpenings) + len([one for one in found.unread if one[0] == path]) >= 1
    for one in found.sharpenings:
        seen = (one.name, one.off_mm, one.left_set_mm, one.trial, one.corner, one.started, one.gullets)
        assert isinstance(seen[0], str)
    assert found.dulling.why


def odd_log(session: Any, values: dict[str, Any]) -> bytes:
    """A sealed log with odd values, as far as a log can hold them; else the bytes themselves."""
    if isinstance(session, bytes):
        return session
    try:
        head = make_header({"session": session, "recipe": {"saw": session}, "plan": values})
        end = Mark(seq=1, at=DAY0, did=Did.FINISHED)
        return head + encode(replace(end, extra={"summary": values.get("summary")}))[0]
    except ValueError:
        return repr(session).encode("utf-8", "replace")
