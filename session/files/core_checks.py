"""What pydantic's core is told of a table, by what the table says of its keys; loaded only where a file is in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from enum import Enum
from types import UnionType
from typing import Annotated, Any, Final, Literal, get_args, get_origin

from pydantic_core import CoreConfig, SchemaValidator

from session.files.checked_tables import CheckedBy, Key, Table

#: Nothing unknown, no type bent into another.
_CONFIG: Final = CoreConfig(strict=True, extra_fields_behavior="forbid")

_PLAIN: Final[dict[Any, str]] = {
    int: "int",
    float: "float",
    bool: "bool",
    str: "str",
    date: "date",
    datetime: "datetime",
    Any: "any",
}


#: What was made of each table that was in doubt so far.
_VALIDATORS: Final[dict[type[Table], SchemaValidator]] = {}


def validator_of(table: type[Table]) -> SchemaValidator:
    """What judges the values of a table."""
    if (found := _VALIDATORS.get(table)) is None:
        found = _VALIDATORS[table] = SchemaValidator(_schema(table, {}))
    return found


def validator_of_key(key: Key) -> SchemaValidator:
    """What judges the value of one key."""
    return SchemaValidator(_key_schema(key), _CONFIG)


def _key_schema(key: Key) -> dict[str, Any]:
    schema, given = _schema(key.annotation, key.given.limits), key.given
    if key.required:
        return schema
    usual = {"default": given.usual} if given.make is None else {"default_factory": given.make}
    return {"type": "default", "schema": schema, "validate_default": given.checks_usual, **usual}


def _schema(kind: Any, limits: Mapping[str, Any]) -> dict[str, Any]:
    """What pydantic's core is told of a type. Raises TypeError for one that no table has had so far."""
    origin, args = get_origin(kind), get_args(kind)
    if origin is Annotated:
        for said in args[1:]:
            if isinstance(said, CheckedBy):
                return {"type": "function-plain", "function": {"type": "no-info", "function": said.check}}
            limits = {**said.limits, **limits}
        return _schema(args[0], limits)
    if isinstance(kind, UnionType) or type(None) in args:
        inner = [one for one in args if one is not type(None)]
        if len(inner) == 1:
            return {"type": "nullable", "schema": _schema(inner[0], limits)}
    if origin is Literal:
        return {"type": "literal", "expected": list(args)}
    if origin is list:
        return {"type": "list", "items_schema": _schema(args[0], {}), **limits}
    if origin is dict:
        return {"type": "dict", "keys_schema": _schema(args[0], {}), "values_schema": _schema(args[1], {}), **limits}
    if kind in _PLAIN:
        return {"type": _PLAIN[kind], **limits}
    if isinstance(kind, type) and issubclass(kind, Enum):
        return {"type": "enum", "cls": kind, "members": list(kind), "sub_type": "str", **limits}
    if isinstance(kind, type) and issubclass(kind, Table):
        fields = {name: {"type": "model-field", "schema": _key_schema(one)} for name, one in kind.all_keys().items()}
        inside = {"type": "model-fields", "fields": fields}
        return {"type": "model", "cls": kind, "schema": inside, "config": _CONFIG}
    raise TypeError(f"{kind}: no table holds this")
