"""What a program leaves that is killed at any moment: cleared at the next start, and nothing else is touched."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from called_here import call_here
from dying_disk import EVERY_MOMENT, DyingDisk, When, killed
from made_backup import NOW, Contents, contents, fill
from session.form.form_answers import Answers
from session.form.form_fields import FormField
from session.form.kept_recipe import place_new
from session.form.saw_draft import SawDraft
from session.log.journal import Journal
from session.machine.disk import REAL, Disk
from session.machine.lock import LogLock
from session.till.backup_intake import read_backup
from session.till.backup_moves import importing
from session.till.backup_writer import write_backup
from session.till.litter import clear_litter
from session.till.till_folder import Till, till_folder

SAW = "logs/boat-shed-rip"
LOG = f"{SAW}/2026-03-07T09-00-00-aaaaaa.toml"


class Bench:
    """A till with a log whose end is torn, and what a program may be doing in it."""

    def __init__(self, folder: Path, header: dict[str, Any], parts: list[bytes], begun: Any, mark: Any) -> None:
        self.till, self.backup = folder / "till", folder / "other.zip"
        self._header, self._begun, self._mark = header, begun, mark
        self.log = b"".join(parts) + b"\n[[mark]]\nse"
        other = {"boat-shed-rip.toml": b"# new\n", LOG: b"".join(parts), f"{SAW}/b.toml": b"".join(parts)}
        write_backup(fill(folder / "other", other), self.backup, NOW)

    def laid(self) -> None:
        """The till as it was."""
        for path in sorted(self.till.rglob("*"), reverse=True):
            path.rmdir() if path.is_dir() else path.unlink()
        fill(self.till, {LOG: self.log, "boat-shed-rip.toml": b"# mine\n", "uv.lock": b"", ".mine.new": b"x"})

    def start(self, disk: Disk) -> None:
        with Journal.create(self.till / SAW, self._header, started=self._begun, disk=disk) as journal:
            journal.append(self._mark(1))

    def resume(self, disk: Disk) -> None:
        Journal.open(self.till / LOG, disk=disk).close()

    def fill_in_a_form(self, disk: Disk) -> None:
        draft = SawDraft.open(self.till, "new", disk)
        draft.keep(Answers().answered(FormField.NAME, "Netloft rip"))
        draft.close()

    def hang_up(self, disk: Disk) -> None:
        place_new(Till(self.till), "netloft-rip", "# a saw\n", disk)

    def bring_in(self, disk: Disk) -> None:
        read_backup(Till(self.till), self.backup, NOW, disk=disk)


@pytest.fixture
def bench(
    tmp_path: Path, header: dict[str, Any], log_parts: Callable[[int], list[bytes]], begun: Any, mark: Any
) -> Bench:
    return Bench(tmp_path, header, log_parts(2), begun, mark)


def litter(found: Contents) -> set[str]:
    """The names that are no one's: hidden ones and locks, but for what lay there of another's."""
    hidden = {name for name in found if any(part.startswith(".") for part in name.split("/"))}
    return (hidden | {name for name in found if name.endswith(".lock")}) - {"uv.lock", ".mine.new"}


@pytest.mark.wide
@pytest.mark.parametrize("when", EVERY_MOMENT)
@pytest.mark.parametrize("doing", [Bench.start, Bench.resume, Bench.fill_in_a_form, Bench.hang_up, Bench.bring_in])
def test_whenever_it_is_killed_the_next_start_leaves_no_litter(doing: Any, when: When, bench: Bench) -> None:
    left: set[str] = set()
    for at in range(1, 1000):
        bench.laid()
        if not killed(DyingDisk(at, when=when), lambda disk: doing(bench, disk)):
            break
        till_folder(str(bench.till))
        before = contents(bench.till)
        left |= litter(before)
        clear_litter(bench.till)
        after = contents(bench.till)
        assert litter(after) == set(), f"call {at}"
        assert after == {name: data for name, data in before.items() if name not in litter(before)}, f"call {at}"
    assert at > 2
    assert left, "nothing was ever left behind"
    assert not (bench.till / ".import").exists()


def test_what_another_program_holds_is_left_to_it(bench: Bench) -> None:
    bench.laid()
    half_made = {f"{SAW}/.{LOG.rpartition('/')[2]}.torn-2026-03-07T09-10-00.new": b"half", ".import/1": b"half"}
    fill(bench.till, half_made)
    with importing(bench.till, REAL):
        held = contents(bench.till)
        clear_litter(bench.till)
        assert contents(bench.till) == held
    lock = LogLock.take(bench.till / LOG, REAL)
    clear_litter(bench.till)
    assert litter(contents(bench.till)) == {f"{LOG}.lock", *list(half_made)[:1]}
    lock.release()
    clear_litter(bench.till)
    assert litter(contents(bench.till)) == set()


@pytest.mark.parametrize(
    "name", [f"{LOG}.lock", "notes.toml.lock", ".notes.new", ".import/notes.txt", "elsewhere/.a.toml.new"]
)
def test_what_is_not_ours_stays(name: str, bench: Bench) -> None:
    bench.laid()
    fill(bench.till, {name: b"written by a person\n"})
    before = contents(bench.till)
    clear_litter(bench.till)
    assert contents(bench.till) == before


def test_links_and_folders_of_such_names_stay(bench: Bench, tmp_path: Path) -> None:
    bench.laid()
    outside = tmp_path / "outside.txt"
    outside.write_bytes(b"")
    (bench.till / ".linked.toml.new").symlink_to(outside)
    (bench.till / "linked.toml.lock").symlink_to(outside)
    (bench.till / "second.toml.lock").hardlink_to(outside)
    (bench.till / ".folder.toml.new").mkdir()
    before = sorted(bench.till.iterdir())
    clear_litter(bench.till)
    assert sorted(bench.till.iterdir()) == before
    assert outside.exists()


def test_a_till_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    clear_litter(tmp_path / "none")
    assert not (tmp_path / "none").exists()


def test_the_next_start_clears_it(bench: Bench, tmp_path: Path) -> None:
    bench.laid()
    fill(bench.till, {f"{LOG}.lock": b"pid = 1\n", f"{SAW}/.a.toml.new": b"half", "drafts/.new.toml.new": b""})
    call_here(tmp_path, "start", "crosscut-panel", "--plain", "--till", bench.till, environment={"TERM": "dumb"})
    assert litter(contents(bench.till)) == set()
    assert (bench.till / LOG).read_bytes() == bench.log


def test_the_next_backup_clears_what_a_killed_one_left_of_another_name(bench: Bench, tmp_path: Path) -> None:
    to = tmp_path / "backups"
    to.mkdir()
    theirs = {
        ".x.zip.new": b"theirs",
        "x.zip.lock": b"pid = 1\n",
        ".y.zip.new": b"no lock",
        "uv.lock": b"version = 1\n",
    }
    fill(to, theirs)
    left = 0
    for at in range(1, 100):
        bench.laid()
        write = partial(write_backup, Till(bench.till), to / f"{at}.zip", NOW)
        if not killed(DyingDisk(at), lambda disk, write=write: write(disk=disk)):  # type: ignore[misc]
            break
        found = contents(to)
        left += f".{at}.zip.new" in found
        write_backup(Till(bench.till), to / "next.zip", NOW)
        assert f".{at}.zip.new" not in contents(to), f"call {at}"
        (to / "next.zip").unlink()
    assert left > 2
    assert contents(to).items() >= theirs.items(), "what is not surely ours stays"
