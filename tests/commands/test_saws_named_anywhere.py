"""One name everywhere: a saw is meant by its file, its name or a beginning of it, in every command that takes a saw."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as some

from session.cli import main
from session.files.recipe import load_recipe
from session.files.saw_names import plain_name
from session.files.supplied import find_recipe, supplied_folder, supplied_recipes
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.machine.refusal import Refusal
from session.till.known_saws import KnownSaw, find_saw, saws_called
from session.till.till_folder import Till, slug
from session.walk import acts
from session.walk.work_plan import make_plan

BEGUN = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
NAMES = ("Skylight tenon saw", "Slipway rip saw", "Slipway half rip saw")


@pytest.fixture
def till(tmp_path: Path) -> Path:
    """Three saws; the first two have a sharpening each that waits."""
    sash = (supplied_folder("recipes") / "sash.toml").read_text(encoding="utf-8")
    for name in NAMES:
        (tmp_path / f"{slug(name)}.toml").write_text(sash.replace("Sash saw", name), encoding="utf-8")
    for name in NAMES[:2]:
        record(tmp_path, name, BEGUN)
    return tmp_path


def record(till: Path, name: str, begun: datetime) -> Path:
    recipe = load_recipe(till / f"{slug(name)}.toml")
    clock = SetClock(begun)
    sitting = Sitting.start(Till(till).log_folder(slug(name)), recipe, make_plan(recipe.saw), clock)
    sitting.make(acts.acknowledge(sitting.state, clock.now()))
    sitting.close()
    return sitting.journal.path


@pytest.mark.parametrize("text", ["skylight", "SKYLIGHT ten", "sky", "Skylight tenon saw", "skylight-tenon-saw"])
@pytest.mark.parametrize("command", [["plan"], ["advise"], ["history"], ["show"]])
def test_a_beginning_is_enough_in_every_command(
    text: str, command: list[str], till: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--till", str(till), *command, text]) == 0
    assert "Skylight tenon saw" in capsys.readouterr().out.replace("\n", " ")


@pytest.mark.parametrize(
    "command", [["plan"], ["advise"], ["history"], ["show"], ["resume", "--plain"], ["start", "--plain"], ["cut"]]
)
def test_a_beginning_of_several_names_them(command: list[str], till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record(till, NAMES[2], BEGUN)
    assert main(["--till", str(till), *command, "slip"]) == 2
    told = capsys.readouterr().err
    assert "slipway-half-rip-saw" in told
    assert "slipway-rip-saw" in told
    assert "skylight" not in told


@pytest.mark.parametrize("command", [["plan"], ["advise"], ["history"], ["show"], ["retire"]])
@pytest.mark.parametrize("alone", [True, False])
def test_a_recipes_file_is_its_name_too(
    command: list[str], alone: bool, till: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its path, from anywhere, and the file's name alone, whatever the file is called."""
    (till / "skylight-tenon-saw.toml").rename(till / "by-the-door.toml")
    text = "by-the-door.toml" if alone else str(till / "by-the-door.toml")
    status = main(["--till", str(till), *command, text])
    told = capsys.readouterr()
    if command == ["retire"]:
        assert (status, "waits" in told.err) == (2, True)
    else:
        assert (status, "Skylight tenon saw" in told.out.replace("\n", " ")) == (0, True)


def test_show_takes_the_last_record_of_a_saw(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    last = record(till, NAMES[0], BEGUN + timedelta(days=3))
    record(till, NAMES[0], BEGUN - timedelta(days=3))
    assert main(["--till", str(till), "show", "skylight"]) == 0
    assert str(last) in capsys.readouterr().out


def test_show_says_that_a_saw_has_no_record_yet(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(till), "show", "slipway half"]) == 2
    assert capsys.readouterr().err == "toothline: slipway-half-rip-saw: no sharpening of it is in this till yet\n"


def test_to_go_on_only_those_that_wait_are_meant(
    till: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of two saws that begin alike only one waits."""
    opened: list[Path] = []

    def opens(_: Till, sitting: Sitting, __: str = "") -> int:
        opened.append(sitting.journal.path)
        sitting.close()
        return 0

    monkeypatch.setattr("session.commands.opening.line_streams.open_plain", opens)
    assert main(["--till", str(till), "resume", "--plain", "slip"]) == 0
    assert [path.parent.name for path in opened] == ["slipway-rip-saw"]
    assert main(["--till", str(till), "resume", "--plain", "half"]) == 2
    assert capsys.readouterr().err.endswith(
        'no interrupted sharpening of "half"; there are: skylight-tenon-saw, slipway-rip-saw\n'
    )


def test_a_whole_name_goes_before_a_beginning(tmp_path: Path) -> None:
    assert find_recipe("rip", []).stem == "rip"  # progressive-rip and the rip of a tenon do not begin so
    assert find_recipe("half", []).stem == "half-rip"
    with pytest.raises(Refusal, match='several saws begin with "tenon"; allowed: one of tenon-crosscut, tenon-rip'):
        find_recipe("tenon", [])
    saws = [KnownSaw("slipway", "Slipway"), KnownSaw("slipway-two", "Slipway two")]
    assert find_saw(saws, "slipway") is saws[0]
    # One's own saw goes before a supplied one.
    mine = tmp_path / "hal.toml"
    mine.write_bytes(supplied_recipes()[0].read_bytes())
    assert find_recipe("half", [mine]).stem == "half-rip"
    assert find_recipe("ha", [mine]) == mine


@given(some.lists(some.text(min_size=1, max_size=12), min_size=1, max_size=6, unique=True), some.data())
def test_what_begins_one_name_alone_means_it(names: list[str], data: some.DataObject) -> None:
    saws = [KnownSaw(slug(name), name) for name in names]
    assume(len({saw.slug for saw in saws}) == len(saws))
    meant = data.draw(some.sampled_from(saws))
    text = meant.name[: data.draw(some.integers(1, len(meant.name)))]
    found = saws_called(saws, text)
    whole = [saw for saw in saws if plain_name(text) in (plain_name(saw.name), saw.slug) or slug(text) == saw.slug]
    if text == meant.name:
        assert found == [meant]
    elif plain_name(text) and not whole:
        assert meant in found
        assert all(any(plain_name(n).startswith(plain_name(text)) for n in (saw.name, saw.slug)) for saw in found)
