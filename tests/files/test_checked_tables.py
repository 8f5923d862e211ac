"""Tables: each kind of key is judged by itself, usual values are filled in, and it is given back as TOML holds it."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

import pytest
from pydantic_core import ValidationError

from session.files.checked_tables import AwareTime, CheckedBy, Table, holds
from session.files.core_checks import validator_of
from session.files.sound_values import checked, judged
from session.files.written_lengths import length_check
from session.trade.lengths import Length, parse_length
from session.trade.saw import Cut

AT = datetime.fromisoformat("2026-03-07T18:00:00+01:00")


class HookTable(Table):
    """A table within another."""

    at: int = holds(ge=1, description="from 1 on")


class RackModel(Table):
    """Every kind of key that a table can have."""

    name: str = holds(max_length=8, description="a text")
    share: float = holds(0.5, gt=0, le=1, description="a share")
    wide: Annotated[Length, CheckedBy(length_check("12 in"))] = holds(parse_length("12 in"), description="a length")
    cut: Cut = holds(Cut.RIP, strict=False, description="a cut")
    side: Literal["left", "right"] | None = None
    full: bool = False
    built: AwareTime | None = None
    hooks: list[HookTable] = holds(make=list, max_length=2, description="tables")
    counts: dict[str, Annotated[int, holds(ge=0)]] = holds(make=dict, description="numbers")
    rest: Any = None


class LaterRack(RackModel):
    """Its keys come after those of the one it is made from."""

    color: str = ""


def test_usual_values_are_filled_in_and_each_is_made_anew() -> None:
    rack, other = checked(RackModel, {"name": "wall"}), validator_of(RackModel).validate_python({"name": "wall"})
    assert (rack.share, rack.wide, rack.cut, rack.side, rack.full) == (0.5, parse_length("12 in"), Cut.RIP, None, False)
    # By sight and by the core alike.
    assert rack == other
    assert rack.hooks is not other.hooks
    assert rack != checked(RackModel, {"name": "door"})
    assert LaterRack.key_names() == (*RackModel.key_names(), "color")


def test_values_are_given_back_as_they_were_written() -> None:
    given = {
        "name": "wall",
        "share": 1,
        "wide": '12 1/2"',
        "cut": "crosscut",
        "side": "left",
        "full": True,
        "built": AT,
        "hooks": [{"at": 3}],
        "counts": {"saws": 4},
        "rest": [1, {"a": 2}],
    }
    told = checked(RackModel, given).plain()
    assert told == given
    assert type(told["cut"]) is str
    assert checked(RackModel, {"name": "wall"}).plain() == {
        "name": "wall",
        "share": 0.5,
        "wide": "12 in",
        "cut": "rip",
        "full": False,
        "hooks": [],
        "counts": {},
    }


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("name", 3),
        ("name", "far too long"),
        ("share", 0),
        ("share", True),
        ("share", float("nan")),
        ("wide", 12),
        ("cut", "across"),
        ("side", "both"),
        ("full", 1),
        ("built", "2026-03-07T18:00:00+01:00"),
        ("built", AT.replace(tzinfo=None)),
        ("hooks", [{"at": 1}] * 3),
        ("hooks", [{"at": 0}]),
        ("hooks", [{"at": 1, "for": "a saw"}]),
        ("hooks", {"at": 1}),
        ("counts", {"saws": -1}),
        ("shelf", 1),
    ],
)
def test_a_value_that_is_not_allowed_is_told_with_its_key(key: str, wrong: object) -> None:
    with pytest.raises(ValidationError) as found:
        checked(RackModel, {"name": "wall", key: wrong})
    assert [problem["loc"][0] for problem in found.value.errors()] == [key]


def test_a_required_key_is_missed_and_one_that_is_judged_alone_as_well() -> None:
    with pytest.raises(ValidationError) as found:
        checked(RackModel, {})
    assert [(problem["loc"], problem["type"]) for problem in found.value.errors()] == [(("name",), "missing")]
    assert judged(RackModel.all_keys()["share"], 1) == 1.0
    with pytest.raises(ValidationError):
        judged(RackModel.all_keys()["share"], "1")


def test_a_table_is_not_changed_and_holds_only_what_is_known_to_be_checked() -> None:
    rack = checked(RackModel, {"name": "wall"})
    with pytest.raises(AttributeError):
        rack.name = "door"

    class Odd(Table):
        """Has a kind of value that nothing here checks."""

        what: set[int] = holds()

    with pytest.raises(TypeError):
        checked(Odd, {"what": {1}})
