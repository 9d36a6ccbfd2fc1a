"""A dictionary as the TOML text that the reader of case files takes."""

from __future__ import annotations

import datetime
import json
import numbers
from collections.abc import Mapping, Sequence
from typing import Any

from . import checks


def toml_text(data: Mapping[str, Any]) -> str:
    """Return TOML, a line for each key; None means not given.

    Raises InputError for a value that TOML has no form for.
    """
    return "".join(f"{_key(key)} = {_value(key, value)}\n" for key, value in _given(data))


def _given(data: Mapping[str, Any]) -> list[tuple[str, Any]]:
    return [(key, value) for key, value in data.items() if value is not None]


def _key(key: object) -> str:
    return _quoted(checks.text("key", key))


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")


def _value(key: str, value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, numbers.Integral):
        return str(int(value))
    if isinstance(value, numbers.Real):
        return repr(float(value))
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value.isoformat()
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(k)} = {_value(k, v)}" for k, v in _given(value)) + "}"
    if isinstance(value, Sequence):
        return "[" + ", ".join(_value(key, item) for item in value) + "]"
    accepted = "a number, a text, True or False, a date, a list or a dictionary of these"
    raise checks.refusal(key, checks.shown(value), accepted)
