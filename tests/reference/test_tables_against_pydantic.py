"""Our tables against pydantic's own models, made of the same annotations: one verdict on any values, key by key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum
from functools import partial
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, PlainValidator, ValidationError, create_model

from law_budget import examples
from session.files.checked_tables import CheckedBy, Given, Key, Table
from session.files.cut_file import CutModel
from session.files.flats_file import FlatsModel
from session.files.owned_files import FilesOwnedModel
from session.files.recipe_tables import RecipeModel
from session.files.scanned_file import ScanModel
from session.files.scanner_file import ScannerModel
from session.files.seen_file import SeenModel
from session.files.settings import SettingsModel
from session.files.sound_values import checked
from session.files.sound_values import judged as judged_alone

TABLES: tuple[type[Table], ...] = (
    *(RecipeModel, SettingsModel, FlatsModel, FilesOwnedModel, CutModel, SeenModel, ScanModel, ScannerModel),
)

#: Its signatures know only what is written out.
FIELD: Any = Field


def annotated(kind: Any) -> Any:
    """The annotation as pydantic has it: a check alone in place of ours, limits as a field's, models for tables."""
    origin, args = get_origin(kind), get_args(kind)
    if origin is Annotated:
        inner = annotated(args[0])
        for said in args[1:]:
            if isinstance(said, CheckedBy):
                return Annotated[inner, PlainValidator(said.check)]
            assert isinstance(said, Given)
            inner = limited(inner, dict(said.limits))
        return inner
    if origin in (Union, UnionType):
        return Union[tuple(annotated(one) for one in args)]  # noqa: UP007 - made while it runs
    if origin in (list, dict):
        return origin[tuple(annotated(one) for one in args)]
    if isinstance(kind, type) and issubclass(kind, Table):
        return model_of(kind)
    return kind


def limited(kind: Any, limits: dict[str, Any]) -> Any:
    """The annotation with the limits of a field."""
    if limits.pop("tz_constraint", None) == "aware":
        assert kind is datetime
        kind = AwareDatetime
    return Annotated[kind, FIELD(**limits)] if limits else kind


def field_of(key: Key) -> Any:
    kind, optional = annotated(key.annotation), False
    if type(None) in get_args(kind):
        # Limits are of the value, not of its being left out.
        optional, kind = True, Union[tuple(one for one in get_args(kind) if one is not type(None))]  # noqa: UP007
    kind = limited(kind, dict(key.given.limits))
    kind = kind | None if optional else kind
    if key.required:
        return kind, FIELD()
    usual = {"default": key.given.usual} if key.given.make is None else {"default_factory": key.given.make}
    return kind, FIELD(validate_default=key.given.checks_usual, **usual)


CONFIG = ConfigDict(strict=True, extra="forbid")
MODELS: dict[type[Table], type[BaseModel]] = {}


def model_of(table: type[Table]) -> type[BaseModel]:
    """pydantic's model with the keys of that table."""
    if table not in MODELS:
        fields = {name: field_of(key) for name, key in table.all_keys().items()}
        MODELS[table] = create_model(table.__name__, __config__=CONFIG, **fields)
    return MODELS[table]


AT = datetime.fromisoformat("2026-03-07T18:00:00+01:00")
LENGTHS = ("12 in", "0.3 mm", '5 1/2"', "0 mm", "9999 m", "wide", "")
#: What stands where something else is asked for, and what looks like it.
OTHER: st.SearchStrategy[Any] = st.one_of(
    st.sampled_from(
        [None, True, False, "", "1", "rip", AT, AT.replace(tzinfo=None), AT.date(), [], {}, float("nan"), float("inf")]
    ),
    st.integers(-3, 4000),
    st.floats(-100, 100),
    st.text(max_size=4),
)


def filled(kind: Any, limits: dict[str, Any]) -> st.SearchStrategy[Any]:
    """Values of that annotation, most of them allowed, many at the ends of what is."""
    origin, args = get_origin(kind), get_args(kind)
    if origin is Annotated:
        for said in args[1:]:
            if isinstance(said, CheckedBy):
                return st.sampled_from(LENGTHS) | st.text(max_size=6)
            limits = {**said.limits, **limits}
        return filled(args[0], limits)
    if origin in (Union, UnionType):
        return st.one_of(*(filled(one, limits) for one in args))
    if origin is Literal:
        return st.sampled_from(args)
    if origin is list:
        return st.lists(filled(args[0], {}), max_size=3)
    if origin is dict:
        return st.dictionaries(filled(args[0], {}), filled(args[1], {}), max_size=3)
    if kind in (int, float):
        ends = [limits[name] for name in ("ge", "le", "gt", "lt") if name in limits] or [0]
        return st.sampled_from([end + by for end in ends for by in (-1, 0, 1, 0.5)]).map(
            lambda one: one if kind is float else int(one)
        )
    if isinstance(kind, type) and issubclass(kind, Table):
        return tables(kind)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return st.sampled_from([*(str(one.value) for one in kind), *kind])
    usual: dict[Any, st.SearchStrategy[Any]] = {bool: st.booleans(), date: st.just(AT.date()), datetime: st.just(AT)}
    return usual.get(kind, st.text(max_size=8))


def tables(table: type[Table]) -> st.SearchStrategy[dict[str, Any]]:
    """Tables with most of their keys right, a few wrong, and now and then one that is not known."""
    keys = {name: filled(key.annotation, dict(key.given.limits)) | OTHER for name, key in table.all_keys().items()}
    required = {name: keys[name] for name, key in table.all_keys().items() if key.required}
    rest = {name: one for name, one in keys.items() if name not in required} | {"unheard_of": OTHER}
    return st.fixed_dictionaries(required, optional=rest)


def told(values: Any) -> Any:
    """As both can be compared: a table by its keys, a number that is none by its name."""
    if isinstance(values, Table):
        return {name: told(getattr(values, name)) for name in values.key_names()}
    if isinstance(values, BaseModel):
        return {name: told(getattr(values, name)) for name in type(values).model_fields}
    if isinstance(values, list):
        return [told(one) for one in values]
    if isinstance(values, dict):
        return {name: told(one) for name, one in values.items()}
    return (type(values), repr(values) if isinstance(values, float) else values)


@dataclass(frozen=True)
class Verdict:
    """What is kept of a value, or everything that is wrong with it: where, which rule, in which words."""

    kept: Any = None
    wrong: tuple[tuple[Any, str, str], ...] = ()


def verdict(judge: Callable[[Any], Any], value: Any, *, within: int = 0) -> Verdict:
    """within: how many names of the place are of what only stands around it."""
    try:
        return Verdict(told(judge(value)))
    except ValidationError as wrong:
        found = [(one["loc"][within:], one["type"], one["msg"]) for one in wrong.errors()]
        # Those words have the name of a class in them.
        return Verdict(wrong=tuple((loc, rule, "" if rule == "model_type" else words) for loc, rule, words in found))


@pytest.mark.parametrize("table", TABLES)
def test_all_that_is_wrong_with_a_table_is_told_alike(table: type[Table]) -> None:
    counts: list[int] = []

    @examples(30)
    @given(tables(table))
    def judged(values: dict[str, Any]) -> None:
        ours = verdict(partial(checked, table), values)
        assert ours == verdict(model_of(table).model_validate, values)
        counts.append(len(ours.wrong))

    judged()
    assert max(counts) > 1


@pytest.mark.parametrize(("table", "name"), [(table, name) for table in TABLES for name in table.key_names()])
def test_each_key_is_judged_alike_and_kept_alike(table: type[Table], name: str) -> None:
    key, kept = table.all_keys()[name], list[bool]()
    alone = create_model("Alone", __config__=CONFIG, **{name: field_of(key)})

    @examples(20)
    @given(filled(key.annotation, dict(key.given.limits)) | OTHER)
    def judged(value: Any) -> None:
        ours = verdict(partial(judged_alone, key), value)
        assert ours == verdict(lambda one: getattr(alone.model_validate({name: one}), name), value, within=1)
        kept.append(not ours.wrong)

    judged()
    assert False in kept
