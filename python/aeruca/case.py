"""One object's case file in, one assessment out."""

from __future__ import annotations

import html
import json
import math
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from . import _core, checks
from .stability import FieldDiagram
from .toml_text import toml_text

if TYPE_CHECKING:
    from ._core import Dataset

_TONE = {"dormant": "#2f6f62", "borderline": "#9a6a00", "active": "#a3352b", "not known": "#555555"}


@dataclass(frozen=True)
class Finding:
    """One figure with its unit and range; `value` is None for words and for what is not known."""

    key: str
    label: str
    value: float | None
    low: float | None
    high: float | None
    unit: str
    text: str
    note: str


@dataclass(frozen=True)
class Table:
    """A table of the assessment, all cells as text."""

    title: str
    columns: list[str]
    rows: list[list[str]]
    note: str


@dataclass(frozen=True)
class Section:
    """One question, its answer, and what the answer rests on."""

    id: str
    title: str
    question: str
    status: str
    answer: str
    findings: list[Finding]
    tables: list[Table]
    remarks: list[str]
    warnings: list[str]
    missing: list[str]
    figures: list[str]

    def __getitem__(self, key: str) -> Finding:
        """Return the finding of that key; KeyError names the keys there are."""
        for finding in self.findings:
            if finding.key == key:
                return finding
        known = ", ".join(finding.key for finding in self.findings)
        raise KeyError(f"no finding named {key!r} in section {self.id!r}; there are {known}")


@dataclass(frozen=True)
class Diagram:
    """Stability fields of a water (with its pH and Eh) or of a pit, and what they mean."""

    name: str
    fields: FieldDiagram
    ph: float | None
    eh_v: float | None
    eh_uncertainty_v: float | None
    note: str


@dataclass(frozen=True)
class Odds:
    """Chances of each state by the store record; None without a record. `rule` says the verdict."""

    dormant: float | None
    borderline: float | None
    active: float | None
    rule: str


def chance_text(probability: float) -> str:
    """Two figures, and never rounded to certainty."""
    if probability < 0.01:
        return "below 0.01"
    return "above 0.99" if probability > 0.99 else f"{probability:.2g}"


class CaseAssessment:
    """The assessment of one object: a verdict, four sections, and what is not known.

    Attributes: ``name``, ``verdict`` ("dormant", "borderline", "active", "not known"),
    ``probability`` (that the store record fits the verdict, not that the object decays; None when
    only a reason is given and when the verdict is borderline), ``probability_of`` (what it is of,
    in words), ``odds`` (all three chances), ``reason``, ``in_short``,
    ``sections``, ``not_known``, ``next`` (pairs of what to measure and why), ``cautions`` (pairs of
    subject and text), ``limits``, ``complete`` (False when a calculation gave no answer).
    What the words rest on: ``record`` and ``store`` (the humidity record and its judgement),
    ``bath_log``, ``bath_errors``, ``bath_summary`` and ``bath_fit``, None where the case has none,
    and ``diagrams`` (stability fields of the waters and of a pit).
    ``to_dict()`` holds everything, ``to_text(width)`` prints it as the tool does.
    """

    def __init__(self, core: _core.CaseAssessment) -> None:
        self._core = core
        self._data: dict[str, Any] = json.loads(core.to_json())
        data = self._data
        self.name: str = data["object"]["name"]
        self.verdict: str = data["verdict"]
        self.probability: float | None = data["probability"]
        self.probability_of: str = data["probability_of"]
        self.odds = Odds(**data["odds"])
        self.reason: str = data["reason"]
        self.in_short: list[str] = data["in_short"]
        self.complete: bool = data["complete"]
        self.ask_a_conservator: bool = data["ask_a_conservator"]
        self.sections: list[Section] = [_section(part) for part in data["sections"]]
        self.not_known: list[str] = data["not_known"]
        self.next: list[tuple[str, str]] = [(n["what"], n["why"]) for n in data["next"]]
        self.cautions: list[tuple[str, str]] = [(c["subject"], c["text"]) for c in data["cautions"]]
        self.limits: list[str] = data["limits"]

    @property
    def record(self) -> _core.LoggerRecord | None:
        """The humidity record, as it was read."""
        return self._core.record

    @property
    def store(self) -> _core.StoreAssessment | None:
        """What the record says of the store."""
        return self._core.store

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
    def bath_fit(self) -> _core.BathFit | None:
        """The fit of the bath log."""
        return self._core.bath_fit

    @property
    def diagrams(self) -> list[Diagram]:
        """Stability fields of each water with a potential, then those of a pit."""
        return [
            Diagram(
                one.name,
                FieldDiagram(one.fields),
                _known(one.ph),
                _known(one.eh_v),
                _known(one.eh_uncertainty_v),
                one.note,
            )
            for one in self._core.diagrams
        ]

    def section(self, section_id: str) -> Section:
        """Return the section "stable", "dry", "wash" or "solution"; KeyError for another."""
        for part in self.sections:
            if part.id == section_id:
                return part
        known = ", ".join(part.id for part in self.sections)
        raise KeyError(f"no section named {section_id!r}; there are {known}")

    def to_dict(self) -> dict[str, Any]:
        """Everything, as the JSON of the tool; figures that are not known are None."""
        copy: dict[str, Any] = json.loads(json.dumps(self._data))
        return copy

    def to_text(self, width: int = 88) -> str:
        """Plain text in at most `width` columns (60 to 200)."""
        return self._core.to_text(checks.integer("width", width, 60, 200))

    def __repr__(self) -> str:
        chance = ""
        if self.probability is not None:
            chance = f", {chance_text(self.probability)} by the store"
        return f"<CaseAssessment {self.name!r}: {self.verdict}{chance}>"

    def _repr_html_(self) -> str:
        tone = _TONE.get(self.verdict, "#555555")
        verdict, chance = html.escape(self.verdict), ""
        if self.probability is not None:
            verdict = f"conditions {verdict}"
            chance = (
                f"<br>probability {chance_text(self.probability)} "
                f"{html.escape(self.probability_of)}."
            )
        elif self.odds.dormant is not None:
            verdict = f"conditions {verdict}"
        if None not in (self.odds.dormant, self.odds.borderline, self.odds.active):
            chance += (
                f"<br>chances by the store record: dormant {chance_text(self.odds.dormant or 0)}, "
                f"borderline {chance_text(self.odds.borderline or 0)}, "
                f"active {chance_text(self.odds.active or 0)}"
            )
        lines = "".join(f"<li>{html.escape(line)}</li>" for line in self.in_short)
        rows = "".join(
            f"<tr><th style='text-align:left'>{html.escape(part.title)}</th>"
            f"<td style='text-align:left'>{html.escape(part.answer)}</td></tr>"
            for part in self.sections
        )
        return (
            f"<div style='border-left:6px solid {tone};padding:.3em 1em'>"
            f"<b>{html.escape(self.name)}</b><br>"
            f"<b style='color:{tone}'>{verdict}</b>{chance}<br>"
            f"{html.escape(self.reason)}<ul>{lines}</ul><table>{rows}</table></div>"
        )


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _section(part: dict[str, Any]) -> Section:
    fields = dict(part)
    fields["findings"] = [Finding(**finding) for finding in part["findings"]]
    fields["tables"] = [Table(**table) for table in part["tables"]]
    return Section(**fields)


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
    """Assess the object of a case file (TOML, logs beside it), or of a dictionary of the same.

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
    """Write a commented case file to fill in. Raises FileError when the file exists."""
    _core.write_case_template(checks.path("path", path))
