"""What the keys of a case file accept, as its schema says."""

from __future__ import annotations

import json
from typing import Any, NamedTuple

from .. import _core


class Kind(NamedTuple):
    """What a key takes: "text", "number", "reading", "date" or "flag", once or several times."""

    word: str
    several: bool = False
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None


def kinds() -> dict[str, Kind]:
    """Return the kind of each key; ``[]`` marks a section that may be repeated."""
    schema = json.loads(_core.case_file_schema())
    found: dict[str, Kind] = {}
    for name, part in schema["properties"].items():
        if "oneOf" in part and name in schema["$defs"]:
            _walk(schema["$defs"][name], f"{name}[]", found)
        else:
            _add(name, part, found)
    return found


def _walk(section: dict[str, Any], name: str, found: dict[str, Kind]) -> None:
    for key, part in section["properties"].items():
        _add(f"{name}.{key}", part, found)


def _add(key: str, part: dict[str, Any], found: dict[str, Kind]) -> None:
    types = part.get("type")
    item = part.get("items", {})
    if types == "object":
        _walk(part, key, found)
    elif item.get("type") == "object":
        _walk(item, f"{key}[]", found)
    else:
        several = bool(item)
        one = item if several else part
        choices = tuple(word for word in one.get("enum", ()) if word)
        limits = (one.get("minimum"), one.get("maximum"))
        found[key] = Kind(_word(one), several, choices, *limits)


def _word(part: dict[str, Any]) -> str:
    if part.get("type") == "boolean":
        return "flag"
    if part.get("type") == "number" or "const" in part:
        return "number"
    if "pattern" in part:
        return "date"
    return "text" if part.get("type") == "string" or "enum" in part else "reading"
