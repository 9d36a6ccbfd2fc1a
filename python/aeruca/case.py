"""One object's case file in, one assessment out."""

from __future__ import annotations

import html
import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from . import _core, checks
from ._core import (  # the types of this part
    CaseFinding as CaseFinding,
)
from ._core import (
    CaseSection as CaseSection,
)
from ._core import (
    CaseTable as CaseTable,
)
from ._core import (
    FrontSheet as FrontSheet,
)
from ._core import (
    SheetBox as SheetBox,
)
from ._core import (
    StoreOdds as StoreOdds,
)
from .case_collection import CaseCollection as CaseCollection
from .case_collection import ObjectCase as ObjectCase
from .case_collection import assess_folder as assess_folder
from .stability import FieldDiagram
from .toml_text import toml_text
from .words import say

if TYPE_CHECKING:
    from ._core import Dataset

_TONE = {"calm": "#2f6f62", "watch": "#7a5400", "alarm": "#9d2f26", "open": "#555555"}


@dataclass(frozen=True)
class Diagram:
    """Stability fields of a water (with its pH and Eh) or of a pit, and what they mean."""

    name: str
    fields: FieldDiagram
    ph: float | None
    eh_v: float | None
    eh_uncertainty_v: float | None
    note: str


class CaseAssessment:
    """The assessment of one object: a verdict, its sections, and what is not known.

    What the words rest on is typed: ``record`` and ``store`` (the humidity record and its
    judgement), ``bath_log``, ``bath_errors``, ``bath_summary``, ``bath_decision`` and ``bath_fit``
    (only where one story serves), None where the case has none, and ``diagrams`` (stability fields
    of the waters and of a pit).
    ``to_dict()`` holds everything, ``to_text(width)`` prints it as the tool does.
    """

    def __init__(self, core: _core.CaseAssessment) -> None:
        self._core = core

    @property
    def name(self) -> str:
        """Name of the object; empty without one."""
        return self._core.object.name

    @property
    def verdict(self) -> str:
        """One of "dormant", "borderline", "active" and "not known"."""
        return self._core.verdict

    @property
    def probability(self) -> float | None:
        """That the store record fits the verdict; None where only a reason is given."""
        return self._core.probability

    @property
    def probability_of(self) -> str:
        """What that probability is of, in words."""
        return self._core.probability_of

    @property
    def odds(self) -> _core.StoreOdds:
        """Chances of each state by the store record; None each without a record."""
        return self._core.odds

    @property
    def reason(self) -> str:
        """One sentence behind the verdict."""
        return self._core.reason

    @property
    def front(self) -> _core.FrontSheet:
        """What to do first, on one page: four boxes, what to measure, a caution."""
        return self._core.front

    @property
    def in_short(self) -> list[str]:
        """The decision, for a reader with one minute."""
        return self._core.in_short

    @property
    def complete(self) -> bool:
        """False when a calculation gave no answer or a log could not be used."""
        return self._core.complete

    @property
    def ask_a_conservator(self) -> bool:
        """Whether the object forbids treatment by number."""
        return self._core.ask_a_conservator

    @property
    def sections(self) -> list[_core.CaseSection]:
        """The questions and their answers: "stable", "dry", "box" (if any), "wash", "solution"."""
        return self._core.sections

    @property
    def not_known(self) -> list[str]:
        """What the assessment cannot say."""
        return self._core.not_known

    @property
    def next(self) -> list[tuple[str, str]]:
        """What to measure next and why, in order of what it would settle."""
        return [(one.what, one.why) for one in self._core.next]

    @property
    def cautions(self) -> list[tuple[str, str]]:
        """What to take care of: subject and text."""
        return [(one.subject, one.text) for one in self._core.cautions]

    @property
    def limits(self) -> list[str]:
        """What the method leaves out."""
        return self._core.limits

    @property
    def constants(self) -> list[_core.Figure]:
        """Every constant used, with its source."""
        return self._core.constants

    @property
    def record(self) -> _core.LoggerRecord | None:
        """The humidity record, as it was read."""
        return self._core.record

    @property
    def store(self) -> _core.StoreAssessment | None:
        """What the record says of the store."""
        return self._core.store

    @property
    def mixture(self) -> _core.MixtureSweep | None:
        """The salts that an analysis found in the store, over humidity; None without one."""
        return self._core.mixture

    @property
    def box(self) -> _core.Review | None:
        """By when the box must be looked at again, with its forecast; None without a box."""
        return self._core.box

    @property
    def box_exchange(self) -> _core.ExchangeFit | None:
        """The exchange of that box, where it was found in measurements."""
        return self._core.box_exchange

    @property
    def bath_log(self) -> _core.BathLog | None:
        """The bath log, with the blank that was taken off."""
        return self._core.bath_log

    @property
    def bath_errors(self) -> _core.ReadingErrors:
        """How good readings were taken to be where the log does not say."""
        return self._core.bath_errors

    @property
    def bath_summary(self) -> _core.BathSummary | None:
        """The sums of the bath log."""
        return self._core.bath_summary

    @property
    def bath_decision(self) -> _core.BathDecision | None:
        """What to do with the bath, and what may still be inside, over several ways of release."""
        return self._core.bath_decision

    @property
    def bath_fit(self) -> _core.BathFit | None:
        """The fit of the bath log by one model; None where the stories disagree."""
        return self._core.bath_fit

    @property
    def diagrams(self) -> list[Diagram]:
        """Stability fields of each water with a potential, then those of a pit."""
        return [
            Diagram(
                one.name,
                FieldDiagram(one.fields),
                one.ph,
                one.eh_v,
                one.eh_uncertainty_v,
                one.note,
            )
            for one in self._core.diagrams
        ]

    def section(self, section_id: str) -> _core.CaseSection:
        """Return the section "stable", "dry", "box", "wash" or "solution"; KeyError for another."""
        for part in self.sections:
            if part.id == section_id:
                return part
        known = ", ".join(part.id for part in self.sections)
        raise KeyError(f"no section named {section_id!r}; there are {known}")

    def to_dict(self) -> dict[str, Any]:
        """Everything, as the JSON of the tool; figures that are not known are None."""
        everything: dict[str, Any] = json.loads(self._core.to_json())
        return everything

    def to_text(self, width: int = 88) -> str:
        """Plain text in at most `width` columns (60 to 200), the front sheet first."""
        return self._core.to_text(checks.integer("width", width, 60, 200))

    def front_text(self, width: int = 88) -> str:
        """Return the front sheet alone as plain text in at most `width` columns (60 to 200)."""
        return self._core.front_text(checks.integer("width", width, 60, 200))

    def __repr__(self) -> str:
        chance = ""
        if self.probability is not None:
            chance = f", {_core.probability_text(self.probability)} by the store"
        return f"<CaseAssessment {self.name!r}: {self.verdict}{chance}>"

    def _repr_html_(self) -> str:
        boxes = "".join(
            f"<div style='border-left:6px solid {_TONE[box.tone]};padding:.2em .8em'>"
            f"{html.escape(box.title)}<br>"
            f"<b style='color:{_TONE[box.tone]}'>{html.escape(_core.localised(box.verdict))}</b> "
            f"<b>{html.escape(_core.localised(box.figure))}</b> {html.escape(box.figure_of)}<br>"
            f"{html.escape(' '.join(box.sentences))}</div>"
            for box in self.front.boxes
        )
        measure = "".join(f"<li>{html.escape(line)}</li>" for line in self.front.measure)
        rows = "".join(
            f"<tr><th style='text-align:left'>{html.escape(part.title)}</th>"
            f"<td style='text-align:left'>{html.escape(part.answer)}</td></tr>"
            for part in self.sections
        )
        return (
            f"<div><b>{html.escape(self.name)}</b>"
            f"<div style='display:grid;grid-template-columns:1fr 1fr;gap:.6em'>{boxes}</div>"
            f"{html.escape(say('front.heading.measure'))}<ol>{measure}</ol>"
            f"<p>{html.escape(self.front.caution)}</p><table>{rows}</table></div>"
        )


@dataclass(frozen=True)
class CaseOutcome:
    """One case of many: its assessment, or what is wrong with its file."""

    path: str
    assessment: CaseAssessment | None
    problem: str


def assess_case(
    case: str | os.PathLike[str] | Mapping[str, Any],
    *,
    folder: str | os.PathLike[str] | None = None,
    date: str = "",
    dataset: Dataset | None = None,
) -> CaseAssessment:
    """Assess the object of a case file (TOML or .xlsx, logs beside it), or of a dictionary.

    A dictionary has the keys of the file: ``{"object": {"mass_g": 62.4}, "water": [{"ph": 7}]}``;
    None means not given; logs are looked for in `folder` (None: the present one).
    `date` (YYYY-MM-DD) is written into the result; the library reads no clock. `dataset`: None for
    the one aeruca was built with. A log that cannot be used costs its own section (status "bad
    input"). Raises FileError for a case file that cannot be used.
    """
    if isinstance(case, Mapping):
        place = _placed(folder, "(dictionary)")
        return _assess_text(toml_text(case), place, date, dataset)
    if not isinstance(case, (str, os.PathLike)):
        accepted = "the path of a case file, or what it says as a dictionary"
        raise checks.refusal("case", checks.shown(case), accepted)
    if folder is not None:
        accepted = "a folder beside a dictionary only, for the logs of a case file lie beside it"
        raise checks.refusal("folder", checks.shown(folder), accepted)
    return CaseAssessment(
        _core.assess_case(
            checks.path("case", case), checks.text("date", date), checks.dataset(dataset)
        )
    )


def assess_case_text(
    text: str,
    *,
    folder: str | os.PathLike[str] | None = None,
    date: str = "",
    dataset: Dataset | None = None,
) -> CaseAssessment:
    """Assess a case from the text of its file.

    Logs are looked for in `folder` (None: the present one). Otherwise as :func:`assess_case`.
    """
    return _assess_text(checks.text("text", text), _placed(folder, "(text)"), date, dataset)


def assess_cases(
    paths: Iterable[str | os.PathLike[str]],
    *,
    date: str = "",
    dataset: Dataset | None = None,
    threads: int = 0,
) -> list[CaseOutcome]:
    """Assess many case files, in the order of the paths, on `threads` threads.

    `threads`: 0 for as many as the machine has, up to 256; other Python threads go on meanwhile.
    A case file that cannot be used costs its own outcome: `assessment` None and what is wrong in
    `problem`.
    """
    outcomes = _core.assess_cases(
        [checks.path("path", path) for path in paths],
        checks.text("date", date),
        checks.dataset(dataset),
        checks.integer("threads", threads, 0, 256),
    )
    return [
        CaseOutcome(
            one.path, CaseAssessment(one.assessment) if one.assessment else None, one.problem
        )
        for one in outcomes
    ]


def case_file_schema() -> dict[str, Any]:
    """Return the JSON Schema of a case file, for editors and programs that write one."""
    schema: dict[str, Any] = json.loads(_core.case_file_schema())
    return schema


def assessment_schema() -> dict[str, Any]:
    """Return the JSON Schema of what ``to_dict()`` returns."""
    schema: dict[str, Any] = json.loads(_core.assessment_schema())
    return schema


def _placed(folder: str | os.PathLike[str] | None, name: str) -> str:
    return name if folder is None else os.path.join(checks.path("folder", folder), name)


def _assess_text(text: str, path: str, date: str, dataset: Dataset | None) -> CaseAssessment:
    return CaseAssessment(
        _core.assess_case_text(text, path, checks.text("date", date), checks.dataset(dataset))
    )


def new_case(path: str | os.PathLike[str]) -> None:
    """Write a commented case file to fill in; a workbook where the name ends with .xlsx.

    Raises FileError when the file exists, is open in another program or cannot be written, or when
    a workbook is asked for without openpyxl.
    """
    _core.write_case_template(checks.path("path", path))
