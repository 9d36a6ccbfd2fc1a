"""A dictionary as the TOML text that the reader of case files takes."""

from __future__ import annotations

import datetime
import json
import numbers
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from . import checks


def toml_text(data: Mapping[str, Any]) -> str:
    """Return TOML, a line for each key; None means not given.

    Raises InputError for a value that TOML has no form for.
    """
    return "".join(f"{_key(key)} = {_value(key, value)}\n" for key, value in _given(data))


def toml_file_text(data: Mapping[str, Any], remark: str = "") -> str:
    """Return TOML as a person writes it: a [section] for each table, [[section]] for several.

    `remark` stands above, a comment for each of its lines. Raises as `toml_text`.
    """
    remarks = [f"# {line}".rstrip() for line in remark.splitlines()]
    return "\n\n".join(["\n".join(remarks)] * bool(remarks) + list(_sections(data, ""))) + "\n"


def _sections(data: Mapping[str, Any], head: str) -> Iterator[str]:
    below = {key: _tables(value) for key, value in _given(data)}
    lines = [
        f"{_bare(key)} = {_value(key, value)}" for key, value in _given(data) if not below[key]
    ]
    if head and (lines or not any(below.values())):
        lines.insert(0, head)
    if lines:
        yield "\n".join(lines)
    above = head.strip("[]")
    for key, tables in below.items():
        name = f"{above}.{_bare(key)}" if above else _bare(key)
        for table in tables:
            yield from _sections(table, f"[{name}]" if data[key] is table else f"[[{name}]]")


def _tables(value: object) -> list[Mapping[str, Any]]:
    """Return the tables of a value that is one, or a list of them; else none."""
    if isinstance(value, Mapping):
        return [value]
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [one for one in value if isinstance(one, Mapping)]
    return []


def _bare(key: object) -> str:
    text = checks.text("key", key)
    return text if re.fullmatch(r"[A-Za-z0-9_-]+", text) else _quoted(text)


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
