"""For a class: the teacher's sheet beside each notebook, and which coins are solid alloy.

Amounts and what will be seen are worked out from the data set; what is common practice without a
source says so. Hazards are the usual cautions: the school's risk assessment, safety data sheets and
the local code come first.
"""

from __future__ import annotations

import difflib
import functools
import html
import json
import math
import re
import textwrap
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from . import _core, checks
from .words import say

if TYPE_CHECKING:
    from ._core import Dataset
    from .class_figures import Worked

__all__ = [
    "ClassMaterial",
    "ClassSight",
    "Coin",
    "CoinTable",
    "TeacherSheet",
    "coins",
    "sheet_names",
    "sheet_titles",
    "teacher_sheet",
]

GROUPS_MOST = 60
_SLOT = re.compile(r"\{([a-z0-9_]+)\}")


@functools.cache
def _data() -> dict[str, Any]:
    text = Path(__file__).with_name("class.json").read_text(encoding="utf-8")
    data: dict[str, Any] = json.loads(text)
    return data


@dataclass(frozen=True)
class ClassMaterial:
    """One thing that is needed; ``each`` is None for what the whole class shares."""

    what: str
    each: float | None
    all: float
    unit: str
    """One of "g" and "mL"; empty for pieces."""
    basis: str

    def amounts(self) -> tuple[str, str]:
        """Return how much each group and all together need, as weighed."""
        each = "" if self.each is None else _amount(self.each, self.unit)
        return each, _amount(self.all, self.unit)


@dataclass(frozen=True)
class ClassSight:
    """What will be seen from a day on, and where that is known from."""

    day: int
    text: str
    basis: str


@dataclass(frozen=True)
class TeacherSheet:
    """What a teacher needs to know before the lesson beside one notebook.

    ``disposal_l``: liquid to collect or pour away, of all groups. ``to_text(width)`` prints it,
    ``to_dict()`` holds everything.
    """

    notebook: str
    title: str
    groups: int
    does: str
    time: tuple[str, ...]
    materials: tuple[ClassMaterial, ...]
    steps: tuple[str, ...]
    seen: tuple[ClassSight, ...]
    hazards: tuple[str, ...]
    disposal: tuple[str, ...]
    disposal_l: float
    notes: tuple[str, ...]

    def to_text(self, width: int = 88) -> str:
        """Plain text in at most `width` columns (60 to 200)."""
        width = checks.integer("width", width, 60, 200)
        parts = [_wrapped(self._heading(), width), _wrapped(self.does, width)]
        parts.append(_section("time", [_bullet(line, width) for line in self.time]))
        parts.append(_section("materials", _table(self._rows(), width)))
        steps = [_bullet(step, width, f"{i}. ") for i, step in enumerate(self.steps, 1)]
        parts.append(_section("steps", steps))
        parts.append(_section("seen", [_bullet(_told(one), width) for one in self.seen]))
        parts.append(_section("hazards", [_bullet(line, width) for line in self.hazards]))
        parts.append(_section("disposal", [_bullet(line, width) for line in self.disposal]))
        parts.append("\n".join(_wrapped(line, width) for line in self.notes))
        return "\n\n".join(parts) + "\n"

    def to_dict(self) -> dict[str, Any]:
        """Everything, as the JSON of the tool; grams and millilitres as computed."""
        return {
            "notebook": self.notebook,
            "title": self.title,
            "groups": self.groups,
            "does": self.does,
            "time": list(self.time),
            "materials": [vars(one) for one in self.materials],
            "steps": list(self.steps),
            "seen": [vars(one) for one in self.seen],
            "hazards": list(self.hazards),
            "disposal": list(self.disposal),
            "disposal_l": self.disposal_l,
            "notes": list(self.notes),
        }

    def _heading(self) -> str:
        if self.groups == 1:
            return say("class.page.title_one", title=self.title)
        return say("class.page.title", title=self.title, groups=str(self.groups))

    def _rows(self) -> list[list[str]]:
        head = ["what", "each", "all", "from"]
        named = {"all": {"groups": str(self.groups)}}
        rows = [[say(f"class.page.{name}", **named.get(name, {})) for name in head]]
        return rows + [[one.what, *one.amounts(), one.basis] for one in self.materials]

    def __repr__(self) -> str:
        return f"<TeacherSheet {self.notebook}, {self.groups} groups>"

    def _repr_html_(self) -> str:
        head, *rows = self._rows()
        table = _html_table(head, rows)
        parts = [f"<h3>{html.escape(self._heading())}</h3><p>{html.escape(self.does)}</p>"]
        parts.append(_html_list("time", self.time))
        parts.append(f"<h4>{html.escape(say('class.heading.materials'))}</h4>{table}")
        parts.append(_html_list("steps", self.steps, "ol"))
        parts.append(_html_list("seen", [_told(one) for one in self.seen]))
        parts.append(_html_list("hazards", self.hazards))
        parts.append(_html_list("disposal", self.disposal))
        parts += [f"<p><small>{html.escape(line)}</small></p>" for line in self.notes]
        return "".join(parts)


@dataclass(frozen=True)
class Coin:
    """A coin as recalled; `made_of` in % by mass, `sure` how well it is recalled."""

    coin: str
    build: str
    made_of: str
    magnet: str
    sure: str
    basis: str = "memory"


@dataclass(frozen=True)
class CoinTable:
    """Which coins are solid alloy and which are plated; nothing in it was looked up."""

    coins: tuple[Coin, ...]
    notes: tuple[str, ...]

    def to_text(self, width: int = 88) -> str:
        """Plain text in at most `width` columns (60 to 200)."""
        width = checks.integer("width", width, 60, 200)
        table = "\n".join(_table(self._rows(), width))
        notes = "\n".join(_bullet(line, width) for line in self.notes)
        return f"{say('class.coins.title')}\n\n{table}\n\n{notes}\n"

    def to_dict(self) -> dict[str, Any]:
        """Everything, as the JSON of the tool."""
        return {"coins": [vars(one) for one in self.coins], "notes": list(self.notes)}

    def _rows(self) -> list[list[str]]:
        names = ["coin", "build", "made_of", "magnet", "sure"]
        rows = [[say(f"class.coins.head.{name}") for name in names]]
        return rows + [[getattr(one, name) for name in names] for one in self.coins]

    def __repr__(self) -> str:
        return f"<CoinTable, {len(self.coins)} coins, recalled>"

    def _repr_html_(self) -> str:
        head, *rows = self._rows()
        notes = "".join(f"<li>{html.escape(line)}</li>" for line in self.notes)
        title = html.escape(say("class.coins.title"))
        return f"<h3>{title}</h3>{_html_table(head, rows)}<ul>{notes}</ul>"


def sheet_names() -> list[str]:
    """Names of the teacher's sheets, each that of the notebook it goes with."""
    return [sheet["notebook"] for sheet in _data()["sheets"]]


def sheet_titles() -> dict[str, str]:
    """Name and title of every teacher's sheet."""
    return {name: say(f"class.{name}.title") for name in sheet_names()}


def teacher_sheet(name: str, *, groups: int = 8, dataset: Dataset | None = None) -> TeacherSheet:
    """Work out the teacher's sheet of a notebook for a class of 1 to 60 groups.

    `name`: one of ``sheet_names()``; another raises UnknownName. Amounts are those of the
    computation, without a reserve; the range of a figure stands in its sentence.
    """
    asked = checks.text("name", name)
    sheet = next((one for one in _data()["sheets"] if one["notebook"] == asked), None)
    if sheet is None:
        raise _unknown(asked)
    number = checks.integer("groups", groups, 1, GROUPS_MOST)
    data = checks.dataset(dataset) or _core.default_dataset()
    from .class_figures import work_out

    return _filled(sheet, number, work_out(asked, sheet["given"], data), data)


def _unknown(asked: str) -> _core.UnknownName:
    names = sheet_names()
    near = difflib.get_close_matches(asked, names, 1) + [n for n in names if asked and asked in n]
    hint = f"nearest is '{near[0]}'; " if near else ""
    problem = _core.UnknownName(
        f"no teacher's sheet named '{asked}'; {hint}accepted are {', '.join(names)}"
    )
    problem.kind, problem.name, problem.nearest = "teacher's sheet", asked, (*near, "")[0]
    return problem


def coins() -> CoinTable:
    """Return which coins are solid alloy and which are plated: recalled, no source."""
    rows = tuple(
        Coin(
            say(f"class.coin.{one['id']}"),
            say(f"class.coins.build.{one['build']}"),
            one["made_of"],
            say(f"class.coins.magnet.{one['magnet']}"),
            say(f"class.coins.sure.{one['sure']}"),
        )
        for one in _data()["coins"]
    )
    notes = ("note", "test", "advice", "law")
    return CoinTable(rows, tuple(say(f"class.coins.{name}") for name in notes))


def _filled(sheet: dict[str, Any], groups: int, worked: Worked, data: Dataset) -> TeacherSheet:
    name = sheet["notebook"]
    slots = _slots(sheet, groups, worked)

    def said(key: str) -> str:
        wanted = _slots_of()[f"class.{key}"]
        return say(f"class.{key}", **{slot: slots[slot] for slot in wanted})

    hazards = [said(f"hazard.{one}") for one in [*sheet["hazards"], "object", "risk"]]
    waste = [said(f"waste.{one}") for one in sheet["waste"] or ["none"]]
    notes = [said("page.notebook"), said("page.practice_note")]
    if worked.amounts:
        notes.append(said("page.grams_note"))
    slots |= {"version": data.version, "hash": data.content_hash}
    warm = worked.temperature_c
    slots["temperature_c"] = "" if warm is None else f"{warm:g}"
    notes.append(said("page.data.only" if warm is None else "page.data"))
    return TeacherSheet(
        notebook=name,
        title=said(f"{name}.title"),
        groups=groups,
        does=said(f"{name}.does"),
        time=_time(sheet),
        materials=tuple(_material(one, groups, worked, said) for one in sheet["materials"]),
        steps=tuple(said(f"{name}.step{i}") for i in range(1, sheet["steps"] + 1)),
        seen=tuple(
            ClassSight(one["day"], said(f"{name}.seen{i}"), said(f"basis.{one['basis']}"))
            for i, one in enumerate(sheet["seen"], 1)
        ),
        hazards=tuple(hazards),
        disposal=tuple(waste),
        disposal_l=groups * worked.waste_ml / 1000,
        notes=tuple(notes),
    )


def _slots(sheet: dict[str, Any], groups: int, worked: Worked) -> dict[str, str]:
    slots = {"notebook": sheet["notebook"], **worked.words}
    slots["waste_l"] = _litres(worked.waste_ml)
    slots["waste_all_l"] = _litres(groups * worked.waste_ml)
    slots["dish_cm"] = f"{sheet['given'].get('dish_cm', 0):g}"
    known = worked.copper_mg
    slots["copper_words"] = (
        say("class.copper.unknown")
        if known is None
        else say("class.copper.limit", copper_mg=f"{known:.2g}")
    )
    return slots


def _time(sheet: dict[str, Any]) -> tuple[str, ...]:
    minutes, days = sheet["minutes"], sheet["look_days"]
    look = say("class.time.look_once", minutes=str(minutes["look"]))
    if len(days) > 1:
        on = ", ".join(map(str, days))
        look = say("class.time.look", minutes=str(minutes["look"]), days=on)
    return (
        say("class.time.set_up", minutes=str(minutes["set_up"])),
        look,
        say("class.time.close", minutes=str(minutes["close"])),
    )


def _material(one: dict[str, Any], groups: int, worked: Worked, said: Any) -> ClassMaterial:
    unit = "" if one["unit"] == "piece" else one["unit"]
    what = said(f"material.{one['what']}")
    if "all" in one:
        return ClassMaterial(what, None, float(one["all"]), unit, said("basis.chosen"))
    computed = isinstance(one["each"], str)
    each = worked.amounts[one["each"]] if computed else float(one["each"])
    basis = said("basis.computed" if computed else "basis.chosen")
    return ClassMaterial(what, each, groups * each, unit, basis)


@functools.cache
def _slots_of() -> dict[str, list[str]]:
    """Slots of each sentence; every language has those of English."""
    lines = re.findall(r'(?m)^"(class\.[^"]+)" = "(.*)"$', _core.english_words())
    return {key: _SLOT.findall(text) for key, text in lines}


def _amount(value: float, unit: str) -> str:
    """Round as a kitchen scale and a measuring jug do, never down to nothing."""
    if not unit:
        return f"{value:g}"
    if unit == "mL" and value >= 1000:
        return f"{value / 1000:.2g} L"
    decimals = 1 - math.floor(math.log10(value))
    return f"{round(value, decimals):.{max(decimals, 0)}f} {unit}"


def _litres(millilitres: float) -> str:
    return f"{millilitres / 1000:.2g}"


def _told(one: ClassSight) -> str:
    day = say("class.page.day", day=str(one.day))
    return f"{day}: {one.text} [{one.basis}]"


def _wrapped(text: str, width: int) -> str:
    return "\n".join(textwrap.wrap(text, width))


def _bullet(text: str, width: int, mark: str = "- ") -> str:
    indent = " " * len(mark)
    return "\n".join(textwrap.wrap(text, width, initial_indent=mark, subsequent_indent=indent))


def _section(name: str, lines: list[str]) -> str:
    return "\n".join([say(f"class.heading.{name}"), *lines])


def _table(rows: list[list[str]], width: int) -> list[str]:
    """Columns side by side, the first wrapped; on a narrow page an item for each row."""
    others = [max(len(row[i]) for row in rows) for i in range(1, len(rows[0]))]
    left = width - sum(others) - 2 * len(others) - 2
    if left < 18:
        return [_bullet(f"{row[0]}: {'; '.join(filter(None, row[1:]))}", width) for row in rows[1:]]
    first = min(max(len(row[0]) for row in rows), left)
    lines = []
    for row in rows:
        told, *more = textwrap.wrap(row[0], first, subsequent_indent="  ")
        cells = [cell.ljust(size) for cell, size in zip(row[1:], others, strict=True)]
        lines.append("  ".join(["  " + told.ljust(first), *cells]).rstrip())
        lines += ["  " + line for line in more]
    return lines


def _html_table(head: list[str], rows: list[list[str]]) -> str:
    from .display import html_table

    return html_table(head, [[html.escape(cell) for cell in row] for row in rows])


def _html_list(name: str, lines: Any, kind: str = "ul") -> str:
    items = "".join(f"<li>{html.escape(line)}</li>" for line in lines)
    return f"<h4>{html.escape(say(f'class.heading.{name}'))}</h4><{kind}>{items}</{kind}>"
