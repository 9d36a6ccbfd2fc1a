"""From what was typed into the form to what a case file says, and back; all faults at once."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from .fields import ION_UNITS, IONS, Field, Part

Texts = dict[str, list[str]]  # name of an input, with the number of its block -> what it holds

MOST_BLOCKS = 1000  # of one part

_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_READING = re.compile(r"\s*(?:<\s*[\d.eE+-]+|[\d.eE+-]+(?:\s*(?:\+/-|±)\s*[\d.eE+-]+)?)\s*")
_THOUSANDS = re.compile(r"(?<![\d.])[1-9]\d{0,2},\d{3}(?![\d,])")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_ION = re.compile(
    r"(?P<ion>[A-Za-z][A-Za-z0-9_ ]*?)\s+(?P<amount>[<\d.].*?)\s*(?P<unit>[a-zA-Zµμ]+/.*)"
)
_READING_ACCEPTED = "a number such as 640, 640 +/- 30, or < 5 for below the detection limit"


@dataclass(frozen=True)
class Fault:
    """What is wrong with one input: its name in the form, and the problem with what is accepted."""

    name: str
    problem: str


class _FieldError(Exception):
    """A text that its field does not take; the message is the problem of a Fault."""


def name_of(part: Part, block: int, field: Field) -> str:
    """Return the name of an input: `store.name`, or `water.0.ph` in the first of several."""
    number = f"{block}." if part.several else ""
    return f"{part.path}.{number}{field.key}" if part.path else field.key


def blocks_of(part: Part, texts: Texts) -> int:
    """Return how many blocks of a part the form shows: one more than the highest number."""
    if not part.several:
        return 1
    found = re.compile(re.escape(part.path) + r"\.(\d{1,3})\.")  # below MOST_BLOCKS
    numbers = [int(match[1]) for name in texts if (match := found.match(name))]
    return max(numbers, default=0) + 1


def filled_blocks(part: Part, texts: Texts) -> list[int]:
    """Return the numbers of the blocks that say anything: only they become tables of a case."""
    blocks = range(blocks_of(part, texts))
    names = {block: [name_of(part, block, field) for field in part.fields] for block in blocks}
    return [b for b in blocks if any(text.strip() for n in names[b] for text in texts.get(n, []))]


def case_of(texts: Texts, parts: Sequence[Part]) -> tuple[dict[str, Any], list[Fault]]:
    """Return what the case file says, empty fields and blocks left out, and every fault."""
    case: dict[str, Any] = {"schema": 1}
    faults: list[Fault] = []
    for part in parts:
        for block in range(blocks_of(part, texts)):
            table = {}
            for field in part.fields:
                name = name_of(part, block, field)
                try:
                    table.update(_entries(field, texts.get(name, [])))
                except _FieldError as problem:
                    faults.append(Fault(name, str(problem)))
            _place(case, part, table)
    return case, faults


def _place(case: dict[str, Any], part: Part, table: dict[str, Any]) -> None:
    if not table:
        return
    *above, last = part.path.split(".") if part.path else [""]
    for key in above:
        case = case.setdefault(key, {})
    if part.several:
        case.setdefault(last, []).append(table)
    elif last:
        case.setdefault(last, {}).update(table)
    else:
        case.update(table)


def _entries(field: Field, given: Sequence[str]) -> dict[str, Any]:
    """Return key and value of one field; more of both for the lines of ions, none when empty."""
    texts = [text.strip() for text in given if text.strip()]
    if not texts:
        return {}
    if field.kind == "ions":
        return dict(_ion(line) for line in texts[0].splitlines() if line.strip())
    if field.kind in ("many", "seen"):
        return {field.key: texts}
    if field.kind == "files":
        return {field.key: texts if len(texts) > 1 else texts[0]}
    return {field.key: _value(field, texts[0])}


def _value(field: Field, text: str) -> Any:
    if field.kind == "number":
        return _number(text, field)
    if field.kind == "reading":
        return _reading(text, field)
    if field.kind == "flag":
        return True
    if field.kind == "date":
        return _date(text)
    if field.kind == "list":
        return [one.strip() for one in re.split(r"[,;\n]", text) if one.strip()]
    if field.kind == "numbers":
        return [_number(one, field) for one in re.split(r"\s*;\s*|,\s+|\s+", text) if one]
    if field.kind == "choice" and text not in field.choices:
        raise _FieldError(f"'{text}' is not known; accepted is one of {', '.join(field.choices)}")
    return text


def _pointed(text: str) -> str:
    """Write a decimal comma as a point; what may be thousands is asked, not guessed."""
    if _THOUSANDS.search(text):
        raise _FieldError(f"'{text}' may mean thousands or a decimal; accepted is a decimal point")
    return _COMMA.sub(".", text.replace("\N{MINUS SIGN}", "-"))


def _number(text: str, field: Field) -> float | int:
    accepted = f"a number from {_in_full(field.low)} to {_in_full(field.high)}"
    written = _pointed(text)
    if not _NUMBER.fullmatch(written):
        raise _FieldError(f"'{text}' is no number; accepted is {accepted}")
    value = float(written)
    if not (field.low is None or field.low <= value) or not (
        field.high is None or value <= field.high
    ):
        raise _FieldError(f"{text} is out of range; accepted is {accepted}")
    return int(written) if re.fullmatch(r"[-+]?\d+", written) else value


def _in_full(limit: float | None) -> str:
    """Write a limit without a power of ten, which not everybody reads."""
    return format(Decimal(repr(limit)), "f").removesuffix(".0")


def _reading(text: str, field: Field) -> float | int | str:
    written = _pointed(text)
    if _NUMBER.fullmatch(written):
        return _number(text, field)
    if not _READING.fullmatch(written):
        raise _FieldError(f"'{text}' is no reading; accepted is {_READING_ACCEPTED}")
    return written


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise _FieldError(
            f"'{text}' is no date; accepted is year-month-day such as 2026-03-04"
        ) from None


def _ion(line: str) -> tuple[str, Any]:
    match = _ION.fullmatch(line.strip())
    unit = match["unit"].lower().replace("µ", "u").replace("μ", "u") if match else ""
    ends = {" ".join(name.lower().split()): end for name, end in ION_UNITS.items()}
    end = ends.get(" ".join(unit.split()))
    if match is None or end is None:
        accepted = f"a line such as ammonium 0.1 mmol/L, in {', '.join(ION_UNITS)}"
        raise _FieldError(f"'{line.strip()}' is no ion with its amount; accepted is {accepted}")
    key = match["ion"].strip().replace(" ", "_") + "_" + end
    return key, _reading(match["amount"], Field(key, "reading", 0.0, 500000.0))


def texts_of(case: Mapping[str, Any], parts: Sequence[Part]) -> Texts:
    """Return what the form holds for a case: the way back of `case_of`."""
    texts: Texts = {}
    for part in parts:
        for block, table in enumerate(_tables(case, part)):
            known = {field.key: field for field in part.fields}
            ions = [_ion_line(key, value) for key, value in table.items() if _is_ion(key, known)]
            for field in part.fields:
                value = "\n".join(ions) or None if field.key == IONS else table.get(field.key)
                if value is not None and value != "" and value is not False:
                    texts[name_of(part, block, field)] = _written(field, value)
    return texts


def _tables(case: Mapping[str, Any], part: Part) -> Iterator[Mapping[str, Any]]:
    here: Any = case
    for key in filter(None, part.path.split(".")):
        here = here.get(key, {}) if isinstance(here, Mapping) else {}
    if isinstance(here, Mapping):
        yield here
    else:
        yield from here


def _is_ion(key: str, known: Mapping[str, Field]) -> bool:
    return IONS in known and key not in known and any(key.endswith(e) for e in ION_UNITS.values())


def _ion_line(key: str, value: Any) -> str:
    for unit, end in ION_UNITS.items():  # the longest ends stand first
        if key.endswith("_" + end):
            return f"{key[: -len(end) - 1].replace('_', ' ')} {_plain(value)} {unit}"
    raise AssertionError(key)


def _written(field: Field, value: Any) -> list[str]:
    if field.kind in ("many", "seen"):
        return [str(one) for one in value]
    if field.kind == "files":
        return [value] if isinstance(value, str) else [str(one) for one in value]
    if field.kind == "flag":
        return ["on"]
    if isinstance(value, (list, tuple)):
        return [("; " if field.kind == "numbers" else ", ").join(_plain(one) for one in value)]
    return [_plain(value)]


def _plain(value: Any) -> str:
    if isinstance(value, float):
        return repr(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)
