"""The work of one tab: its form, its files in a folder of its own, its last assessment."""

from __future__ import annotations

import datetime
import fnmatch
import html
import json
import os
import re
import secrets
import shutil
import sys
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any

from .. import _core
from ..case import CaseAssessment, assess_case
from ..report import render_report
from ..toml_text import toml_file_text
from ..words import say
from .fields import COMMON_IONS, ION_UNITS, IONS, Part
from .form import MOST_BLOCKS, Fault, Texts, case_of, filled_blocks, name_of, texts_of
from .kinds import kind_of
from .moved import Move, moves

MOST_WORKS = 100
MOST_FILES = 50
MOST_KEPT = 512 << 20  # bytes of one object
LONGEST_NAME = 80
CASE, REPORT = "case.toml", "report.html"
_LARGEST_CASE = 1 << 20  # bytes; case files are a page or two


class RefusedError(Exception):
    """What was dropped or asked for is not taken; the message is one sentence."""


@dataclass
class Result:
    """One assessment: its figures, and what moved since the one before it."""

    assessment: CaseAssessment
    assessed: dict[str, Any]
    basis: tuple[str, int]  # text of the case, version of the files
    number: int  # 1 for the first of its tab
    verdict_before: str  # empty for the first
    moved: list[Move]
    report: str = ""  # drawn when it is first asked for: drawing takes longer than assessing


@dataclass
class Taken:
    """What became of dropped files: the case file, names of the others, a sentence each refused."""

    case: str = ""
    files: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)


@dataclass
class Work:
    """What one tab holds."""

    folder: Path
    texts: Texts = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)  # name -> kind, as of `kind_of`
    version: int = 0  # of the files: one more for each that came or went
    result: Result | None = None

    def take(self, uploads: Sequence[tuple[str, IO[bytes]]], parts: list[Part]) -> Taken:
        """Take dropped files in, case files first; what is refused costs itself alone."""
        taken = Taken()
        for given, stream in sorted(uploads, key=lambda one: not _is_case(one[0])):
            name = safe_name(given)
            try:
                if _is_case(given):
                    self._take_case(name, stream.read(_LARGEST_CASE + 1), parts)
                    taken.case = name
                else:
                    self.files[name] = self._keep(name, stream)
                    self.version += 1
                    taken.files.append(name)
            except RefusedError as problem:
                taken.refused.append(str(problem))
        self._settle(parts)
        self._use(taken.files)
        return taken

    def _keep(self, name: str, stream: IO[bytes]) -> str:
        if name in (CASE, REPORT):
            raise RefusedError(
                f"{name}: is a name this page writes itself; accepted is another name"
            )
        if name not in self.files and len(self.files) >= MOST_FILES:
            raise RefusedError(f"{name}: is one too many; accepted are {MOST_FILES} files")
        if sum(one.stat().st_size for one in self.folder.iterdir()) > MOST_KEPT:
            raise RefusedError(
                f"{name}: is too much, for {MOST_KEPT >> 20} MB are kept already; accepted is "
                "another once some are removed"
            )
        # Under a name of ours until it is read: what is refused leaves an older file as it was.
        fresh = self.folder / f".{secrets.token_hex(8)}{Path(name).suffix}"
        try:
            with fresh.open("xb") as kept:
                shutil.copyfileobj(stream, kept)
            kind = kind_of(fresh)
            os.replace(fresh, self.folder / name)
        except ValueError as problem:
            raise RefusedError(str(problem).replace(str(fresh), name)) from None
        finally:
            fresh.unlink(missing_ok=True)
        return kind

    def _use(self, names: Sequence[str]) -> None:
        """Name files that were just dropped where the form names none of their kind."""
        for key, kind, most in (("bath.log", "bath", 1), ("store.log", "store", MOST_FILES)):
            found = [name for name in names if self.files[name] == kind]
            if found and not any(self.texts.get(key, [])):
                self.texts[key] = found[:most]

    def _take_case(self, name: str, content: bytes, parts: list[Part]) -> None:
        if len(content) > _LARGEST_CASE:
            raise RefusedError(f"{name}: is larger than 1 MB; accepted is a case file")
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise RefusedError(f"{name}: is no text in UTF-8; accepted is a case file") from None
        try:
            _core.check_case_text(text, name)
        except _core.Error as problem:
            raise RefusedError(str(problem)) from None
        texts = texts_of(_toml(text), parts)
        if any(re.search(rf"\.\d{{{len(str(MOST_BLOCKS))},}}\.", name) for name in texts):
            raise RefusedError(
                f"{name}: has more than {MOST_BLOCKS} days or waters; accepted are fewer"
            )
        self.texts = texts

    def _settle(self, parts: list[Part]) -> None:
        """Put names of files here in the place of paths and patterns: files lie side by side."""
        for key in set(_file_inputs(parts)) & set(self.texts):
            paths = [path for path in self.texts[key] if path]
            self.texts[key] = [name for path in paths for name in self._here(path)]

    def _here(self, path: str) -> list[str]:
        last = re.split(r"[/\\]", path)[-1]
        found = [
            one
            for one, kind in self.files.items()
            if one == safe_name(last) or (kind != "bath" and fnmatch.fnmatch(one, last))
        ]
        return sorted(found) or [last]

    def remove(self, name: str) -> None:
        """Take a file out, and its name out of the form."""
        if self.files.pop(name, None) is not None:
            self.version += 1
            (self.folder / name).unlink(missing_ok=True)
        for key in ("store.log", *(key for key, given in self.texts.items() if given == [name])):
            self.texts[key] = [one for one in self.texts.get(key, []) if one != name]

    def saved(self, parts: list[Part]) -> tuple[str, list[Fault]]:
        """Return the text of the case file that the form says, and every fault."""
        case, faults = case_of(self.texts, parts)
        text = toml_file_text(case, say("web.saved.remark", version=_core.version()))
        if not faults:
            try:
                _core.check_case_text(text, CASE)
            except _core.FileError as problem:
                faults = [self._fault(problem, parts)]
        return text, faults

    def assess(
        self, parts: list[Part], dataset: _core.Dataset | None, *, again: bool
    ) -> list[Fault]:
        """Assess what the form says; returns every fault, and then nothing has changed.

        Unless `again`, what was assessed already stays.
        """
        text, faults = self.saved(parts)
        faults += self._missing(parts)
        if faults or (not again and self.result and self.result.basis == (text, self.version)):
            return faults
        path = self.folder / CASE
        try:
            _write_whole(path, text)
            assessment = assess_case(path, date=_today(), dataset=dataset)
        except _core.FileError as problem:
            return [self._fault(problem, parts)]
        except _core.Error as problem:
            return [Fault("", self._plain(str(problem)))]
        assessed = json.loads(self._plain(json.dumps(assessment.to_dict())))
        (self.folder / REPORT).unlink(missing_ok=True)  # of the assessment before
        before = self.result.assessed if self.result else None
        self.result = Result(
            assessment,
            assessed,
            (text, self.version),
            self.result.number + 1 if self.result else 1,
            str(before["verdict"]) if before else "",
            moves(before, assessed) if before else [],
        )
        return []

    def report(self) -> str:
        """Return the report of the last assessment, which is written into the folder too."""
        if self.result is None:
            raise RefusedError("nothing is assessed here yet")
        if not self.result.report:
            self.result.report = self._plain(render_report(self.result.assessment))
            _write_whole(self.folder / REPORT, self.result.report)
        return self.result.report

    def _missing(self, parts: list[Part]) -> list[Fault]:
        return [
            Fault(name, f"'{file}' is not among the files here; accepted is a file dropped above")
            for name in _file_inputs(parts)
            for file in self.texts.get(name, [])
            if file and file not in self.files
        ]

    def _fault(self, problem: _core.FileError, parts: list[Part]) -> Fault:
        """Return a fault that the reader of case files found, by the input it is of."""
        key, said = problem.field or "", self._plain(problem.problem or "")
        ion = re.fullmatch(rf"(water.*)\.(\w+)_({'|'.join(ION_UNITS.values())})", key)
        if ion and (ion[2] not in COMMON_IONS or ion[3] != ION_UNITS["mg/L"]):
            key = f"{ion[1]}.{IONS}"
        for part in parts:
            # One of several is `water[2].ph`; where one alone stands in the case, `water.ph`.
            match = re.fullmatch(re.escape(part.path) + r"(?:\[(\d+)\])?\.(\w+)", key)
            if match and part.several and (filled := filled_blocks(part, self.texts)):
                key = f"{part.path}.{filled[int(match[1] or 1) - 1]}.{match[2]}"
        return Fault(key, said)

    def _plain(self, text: str) -> str:
        """Return the text without where the folder lies: no business of a reader, and soon gone."""
        folder = f"{self.folder}{os.sep}"
        for written in (folder, html.escape(folder), json.dumps(folder)[1:-1]):
            text = text.replace(written, "")
        return text


def safe_name(given: str) -> str:
    """Return a file name that stays in its folder: its last part, letters, figures and ( ) + - _.

    What else stands there becomes `_`; a name is never hidden, empty or longer than 80.
    """
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", given))[-1]
    clean = re.sub(r"[^\w.()+ -]", "_", last).strip(" .")
    stem, dot, suffix = clean.rpartition(".")
    if not stem:
        stem, dot, suffix = clean or "file", "", ""
    suffix = suffix[:10]
    return stem[: LONGEST_NAME - len(dot + suffix)].rstrip() + dot + suffix


def _file_inputs(parts: list[Part]) -> list[str]:
    return [name_of(p, 0, f) for p in parts for f in p.fields if f.kind in ("file", "files")]


def _is_case(name: str) -> bool:
    return name.lower().endswith(".toml")


def _today() -> str:
    return datetime.date.today().isoformat()


def _toml(text: str) -> dict[str, Any]:
    if sys.version_info >= (3, 11):
        import tomllib
    else:
        import tomli as tomllib
    said: dict[str, Any] = tomllib.loads(text)
    return said


def _write_whole(path: Path, text: str) -> None:
    fresh = path.with_name(f".{secrets.token_hex(8)}.new")
    try:
        fresh.write_text(text, encoding="utf-8", newline="\n")
        os.replace(fresh, path)
    finally:
        fresh.unlink(missing_ok=True)


class Works:
    """The works of every tab that was used, each by the id in its address."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._works: dict[str, Work] = {}

    def find(self, name: str) -> Work | None:
        """Return the work of an id, if the tab did anything yet."""
        return self._works.get(name)

    def open(self, name: str) -> Work:
        """Return the work of an id, made with its folder when it is new. Raises RefusedError."""
        if name not in self._works:
            if len(self._works) >= MOST_WORKS:
                raise RefusedError(
                    f"{MOST_WORKS} objects are open; accepted is one of them, or a new start"
                )
            (self.folder / name).mkdir(mode=0o700)
            self._works[name] = Work(self.folder / name)
        return self._works[name]
