"""Saws changed, renamed, copied and retired: comments and order stay, and records follow."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.form.form_fields import FormField
from session.form.kept_recipe import KeptRecipe, hang_copy, place_new, renamed, retire, take_back
from session.form.last_page import told_last
from session.form.own_saw_form import OwnSawForm, change_form
from session.log.sitting import NotNow, Sitting
from session.machine.clock import SetClock
from session.machine.disk import Disk
from session.machine.lock import LogLock
from session.machine.refusal import Refusal
from session.till.begun_forms import BegunForm, begun_forms
from session.till.known_saws import find_saw, known_saws, saw_named
from session.till.saw_history import history
from session.till.till_folder import Till
from session.till.till_list import begin, entries

CLOCK = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))

#: As a person writes: comments of their own, keys in their own order, spaces as they like.
BY_HAND = """\
# Grandmother's saw, bought at the boat shed.
format = 1

[work]   # how I work
wood = "dry softwood"
vise_jaw='14 in'

[teeth]
rake = 15      # a little less at the heel
points_per_inch = 8
fleam = 25

# the saw itself
[saw]
kind = "panel"
name = "Loft saw"      # as engraved
cut = "crosscut"
toothed_length = "22 inches"
plate_gauge = 20

[set]
per_side = "0.006 in"   # by calipers
"""


@pytest.fixture
def till(tmp_path: Path) -> Till:
    (tmp_path / "loft.toml").write_text(BY_HAND, encoding="utf-8")
    return Till(tmp_path)


@pytest.fixture
def form(till: Till) -> Iterator[OwnSawForm]:
    """The form over the hand-written recipe."""
    opened = change_form(till, till.path / "loft.toml", CLOCK)
    yield opened
    opened.close()


def test_one_answer_changes_one_line(form: OwnSawForm, till: Till) -> None:
    assert form.reading.ready, "all that is not told stands as it is"
    form.answer(FormField.RAKE, "12 degrees")
    assert form.hang_up() == till.path / "loft.toml"
    text = (till.path / "loft.toml").read_text(encoding="utf-8")
    assert text == BY_HAND.replace("rake = 15 ", "rake = 12 ")


def test_a_form_without_an_answer_changes_nothing(form: OwnSawForm, till: Till) -> None:
    form.hang_up()
    assert (till.path / "loft.toml").read_text(encoding="utf-8") == BY_HAND


def test_a_change_is_told_from_what_to_what_before_it_is_made(form: OwnSawForm, till: Till) -> None:
    assert told_last(form) == ("Nothing is changed so far.",)
    page = form.page(FormField.RAKE)
    assert (page.understood, page.stands, page.enter) == ("15°", "Now: 15°, as its recipe has it", "as it is")
    form.answer(FormField.RAKE, "12 degrees")
    form.answer(FormField.WOOD, "softwood")
    form.answer(FormField.PLATE, "0,9 mm")
    form.answer(FormField.FACE, "1/4")
    told = ("plate: 20 gauge → 0,9 mm", "rake: 15° → 12°", "file's face: not told → 1/4 in")
    assert told_last(form) == told, "the wood is the one that stands there"
    assert begun_forms(till) == [BegunForm("Loft saw", till.path / "loft.toml", 4)]


def test_nothing_is_asked_that_would_change_nothing(form: OwnSawForm) -> None:
    assert {FormField.LIKE, FormField.OVER_POINTS}.isdisjoint(form.fields)


def test_another_way_to_say_it_takes_the_place_of_the_one_before(form: OwnSawForm, till: Till) -> None:
    form.answer(FormField.PLATE, "0,9 mm")
    form.answer(FormField.COUNT, "7 tpi")
    form.hang_up()
    text = (till.path / "loft.toml").read_text(encoding="utf-8")
    saw = load_recipe(till.path / "loft.toml").saw
    assert (saw.plate.text, saw.gauge, saw.count_as) == ("0,9 mm", None, "7 teeth per inch")
    assert "plate_gauge" not in text
    for kept in ("# Grandmother's saw", "# how I work", "# a little less at the heel", "# as engraved", "'14 in'"):
        assert kept in text


def test_what_cannot_be_is_told_beside_its_field_and_the_file_stays(form: OwnSawForm, till: Till) -> None:
    page = form.answer(FormField.RAKE, "99")
    assert "allowed: degrees from -15 to 45" in page.wrong
    with pytest.raises(Refusal, match="rake"):
        form.hang_up()
    assert (till.path / "loft.toml").read_text(encoding="utf-8") == BY_HAND


def test_a_file_changed_by_another_hand_meanwhile_is_left_alone(form: OwnSawForm, till: Till) -> None:
    mine = BY_HAND.replace("Grandmother", "Grandfather")
    form.answer(FormField.RAKE, "12")
    (till.path / "loft.toml").write_text(mine, encoding="utf-8")
    with pytest.raises(Refusal, match="changed meanwhile by another hand"):
        form.hang_up()
    assert (till.path / "loft.toml").read_text(encoding="utf-8") == mine


def test_records_follow_a_renamed_saw_and_history_shows_both_names(
    till: Till, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(till, till.path / "loft.toml", CLOCK, Settings()).close()
    before = sorted(till.path.glob("logs/*/*.toml"))
    assert main(["--till", str(till.path), "edit", "loft", "--name", "Mast saw"]) == 0
    begin(till, till.path / "loft.toml", SetClock(datetime(2026, 4, 7, 9, 0, tzinfo=UTC)), Settings()).close()
    assert sorted(till.path.glob("logs/loft-saw/*.toml")) == before, "no record is ever moved"
    saw = saw_named(till, "Mast saw")
    assert [one.name for one in history([till], saw).sharpenings] == ["Loft saw", "Mast saw"]
    assert [saw.name for saw in known_saws([till])] == ["Mast saw"]
    # It is still found by its former name, and its history says both.
    assert find_saw(known_saws([till]), "loft").name == "Mast saw"
    capsys.readouterr()
    assert main(["--till", str(till.path), "history", "mast"]) == 0
    assert "Mast saw, formerly Loft saw" in capsys.readouterr().out
    text = (till.path / "loft.toml").read_text(encoding="utf-8")
    assert "# as engraved" in text
    assert main(["--till", str(till.path), "show", "mast"]) == 0
    assert "Mast saw" in capsys.readouterr().out


def test_a_saw_that_gets_its_name_back_has_it_once(till: Till) -> None:
    text = renamed(renamed(BY_HAND, "Mast saw"), "Loft saw")
    assert 'formerly = ["Mast saw"]' in text
    assert 'name = "Loft saw"      # as engraved' in text


def test_a_name_that_holds_another_saws_records_is_refused(till: Till, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(till.path), "edit", "loft", "--name", "Mast saw"]) == 0
    for wanted in ("Mast saw", "Loft saw"):
        assert main(["--till", str(till.path), "new", wanted, "--copy", "mast"]) == 2
        assert "is the name of a saw of this till: Mast saw, formerly Loft saw" in capsys.readouterr().err


def test_a_copy_keeps_the_comments_and_begins_without_records(till: Till) -> None:
    begin(till, till.path / "loft.toml", CLOCK, Settings()).close()
    path = hang_copy(till, till.path / "loft.toml", "Mast saw")
    assert path.name == "mast-saw.toml"
    assert path.read_text(encoding="utf-8") == BY_HAND.replace("Loft saw", "Mast saw")
    assert history([till], saw_named(till, "Mast saw")).sharpenings == ()
    assert (till.path / "loft.toml").read_text(encoding="utf-8") == BY_HAND


def test_a_name_under_which_another_program_hangs_a_saw_up_is_gone_past(till: Till) -> None:
    text = KeptRecipe(till.path / "loft.toml").text
    with LogLock.take(till.path / "quay.toml", Disk()):
        assert place_new(till, "quay", text).name == "quay-2.toml"
    assert place_new(till, "quay", text).name == "quay.toml"
    assert not list(till.path.glob("*.lock"))


def test_a_retired_saw_keeps_its_history_apart_and_comes_back(till: Till, capsys: pytest.CaptureFixture[str]) -> None:
    hang_copy(till, till.path / "loft.toml", "Zinc saw")
    assert main(["--till", str(till.path), "retire", "loft"]) == 0
    assert not (till.path / "loft.toml").exists()
    assert (till.path / "retired" / "loft.toml").read_text(encoding="utf-8") == BY_HAND
    capsys.readouterr()
    assert main(["--till", str(till.path), "history"]) == 0
    told = capsys.readouterr().out
    assert told.index("Zinc saw") < told.index("Loft saw, retired"), "told apart, after those in use"
    assert main(["--till", str(till.path), "retire", "loft", "--back"]) == 0
    assert (till.path / "loft.toml").read_text(encoding="utf-8") == BY_HAND
    assert main(["--till", str(till.path), "retire", "loft", "--back"]) == 2
    assert "it is not retired" in capsys.readouterr().err


def test_a_saw_with_a_sharpening_that_waits_is_not_retired(till: Till) -> None:
    begin(till, till.path / "loft.toml", CLOCK, Settings()).close()
    with pytest.raises(Refusal, match="a sharpening of it waits"):
        retire(till, find_saw(known_saws([till]), "loft"))
    assert (till.path / "loft.toml").exists()


@pytest.mark.parametrize("call", ["link", "fsync_dir", "unlink"])
def test_a_saw_is_never_lost_when_retiring_is_cut_short(call: str, till: Till, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever it stops, the recipe has a name, and retiring once more ends it."""

    class Cut(Exception):
        pass

    whole = getattr(Disk, call)

    def cut(disk: Disk, *paths: Path) -> None:
        if paths[0].name.endswith(".lock"):
            whole(disk, *paths)
        else:
            raise Cut

    saw = find_saw(known_saws([till]), "loft")
    (till.path / "retired").mkdir()
    with monkeypatch.context() as broken:
        broken.setattr(Disk, call, cut)
        with pytest.raises(Cut):
            retire(till, saw)
    places = [till.path / "loft.toml", till.path / "retired" / "loft.toml"]
    texts = [path.read_text(encoding="utf-8") for path in places if path.exists()]
    assert texts
    assert set(texts) == {BY_HAND}
    if places[0].exists():
        retire(till, find_saw(known_saws([till]), "loft"))
    assert [path.exists() for path in places] == [False, True]
    take_back(till, find_saw(known_saws([till]), "loft"))
    assert [path.exists() for path in places] == [True, False]


def test_what_is_no_recipe_is_never_written(till: Till) -> None:
    kept = KeptRecipe(till.path / "loft.toml")
    with pytest.raises(Refusal, match="allowed: a text of 1 to 80 characters"):
        kept.checked(renamed(kept.text, "x" * 100))


def test_an_interrupted_sharpening_is_given_up_and_told(
    till: Till, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    sitting = begin(till, till.path / "loft.toml", CLOCK, Settings())
    log = sitting.journal.path
    sitting.close()
    assert main(["--till", str(till.path), "resume", "--give-up"]) == 2, "the saw has to be named"
    before = log.read_bytes()
    assert main(["--till", str(till.path), "resume", "loft", "--give-up", "--reason", "cracked at the heel"]) == 0
    assert log.read_bytes().startswith(before), "nothing before it is changed"
    last = tomllib.loads(log.read_text(encoding="utf-8"))["mark"][-1]
    assert (last["did"], last["reason"]) == ("gave up", "cracked at the heel")
    assert till.interrupted() == []
    assert not any(entry.log for entry in entries(till))
    capsys.readouterr()
    assert main(["--till", str(till.path), "show", "loft"]) == 0
    told = capsys.readouterr().out
    assert ": given up" in told
    assert "cracked at the heel" in told
    assert main(["--till", str(till.path), "history", "loft"]) == 0
    assert "GIVEN UP" in capsys.readouterr().out
    assert main(["--till", str(till.path), "resume", "loft", "--plain"]) == 2
    assert main(["--till", str(till.path), "resume", "loft", "--give-up"]) == 2
    # A saw whose sharpening is given up may be retired, and sharpened anew.
    assert main(["--till", str(till.path), "retire", "loft"]) == 0
    with pytest.raises(NotNow, match="finished"):
        Sitting.give_up(log, CLOCK, "")
