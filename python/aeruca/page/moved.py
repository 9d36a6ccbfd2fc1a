"""What moved between two assessments of one object: the verdict, and every figure of a section."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

Assessed = Mapping[str, Any]  # what CaseAssessment.to_dict() returns


@dataclass(frozen=True)
class Move:
    """One figure before and after; empty where it was not there."""

    part: str
    figure: str
    before: str
    after: str


def moves(before: Assessed, after: Assessed) -> list[Move]:
    """Return what is another, or only there before or after, in the order of the report.

    A figure is known by its section and key, so a changed label is no other figure; its text is
    compared, for two numbers that read the same have not moved for the reader.
    """
    old, new = _figures(before), _figures(after)
    found = []
    for key in [*new, *(key for key in old if key not in new)]:
        part, figure, now = new.get(key) or (*old[key][:2], "")
        was = old[key][2] if key in old else ""
        if was != now:
            found.append(Move(part, figure, was, now))
    return found


def by_part(moved: Iterable[Move]) -> list[tuple[str, list[Move]]]:
    """Return the moves of each section together, under its title."""
    return [(part, list(some)) for part, some in groupby(moved, key=lambda move: move.part)]


def _figures(assessed: Assessed) -> dict[tuple[str, str, int], tuple[str, str, str]]:
    """(section, key, which of several) -> title of the section, label and text."""
    found: dict[tuple[str, str, int], tuple[str, str, str]] = {}
    for section in assessed["sections"]:
        for finding in section["findings"]:
            number = 0
            while (section["id"], finding["key"], number) in found:
                number += 1
            place = (section["id"], finding["key"], number)
            found[place] = (section["title"], finding["label"], finding["text"])
    return found
