"""`aeruca report`: the arguments, the report, and what is said of it."""

from __future__ import annotations

import argparse
import contextlib
import datetime
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from . import _core
from .words import Speaking

BAD_INPUT, USAGE, NO_ANSWER = 1, 2, 3
_NOT_WRITTEN = "the result could not be written to the output (a full disk, or a closed pipe)"


class _UsageError(Exception):
    """The arguments make no sense; the message says why."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise _UsageError(message)


def _text(given: str) -> str:
    if not given:
        raise argparse.ArgumentTypeError("'' is empty; accepted is a text")
    return given


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="aeruca report",
        description="Assess one object and write a self-contained HTML report with figures.",
        allow_abbrev=False,
    )
    parser.add_argument("file", type=_text, help="case file (TOML) with its logs beside it")
    parser.add_argument(
        "-o", "--output", type=_text, help="HTML file to write (default: beside the case file)"
    )
    parser.add_argument("--date", type=_text, help="date written into the report (default: today)")
    parser.add_argument(
        "--data", type=_text, help="directory with a data set to use in place of the built-in one"
    )
    parser.add_argument(
        "--add-data", type=_text, help="TOML file whose records are added to the data set"
    )
    parser.add_argument(
        "--words", type=_text, help="TOML file with the words of results in another language"
    )
    parser.add_argument("--json", action="store_true", help=argparse.SUPPRESS)
    return parser


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    options = _parser().parse_args(arguments)
    if options.json:
        raise _UsageError("--json: the report is HTML; 'aeruca case FILE --json' prints JSON")
    return options


def run(arguments: Sequence[str]) -> int:
    """Run `aeruca report ARGUMENTS...`; returns the exit code."""
    try:
        options = _options(arguments)
    except _UsageError as problem:
        print(f"aeruca: report: {problem}\nSee aeruca report --help.", file=sys.stderr)
        return USAGE
    try:
        from .report import write_report

        output = Path(options.output) if options.output else Path(options.file).with_suffix(".html")
        with Speaking(options.words) if options.words else contextlib.nullcontext():
            assessment = write_report(
                options.file,
                output,
                date=options.date or datetime.date.today().isoformat(),
                dataset=_dataset(options),
            )
    except (_core.Error, ImportError, OSError) as problem:
        print(f"aeruca: {problem}", file=sys.stderr)
        return BAD_INPUT
    if not _printed(f"wrote {output}"):
        return BAD_INPUT
    unusable = [part for part in assessment.sections if part.status == "bad input"]
    for part in unusable:
        print(f"aeruca: {part.warnings[-1]}", file=sys.stderr)
    if unusable:
        return BAD_INPUT
    return 0 if assessment.complete else NO_ANSWER


def _printed(line: str) -> bool:
    try:
        print(line, flush=True)
    except OSError:
        # What could not be written must not be tried again, with a second complaint, at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"aeruca: {_NOT_WRITTEN}", file=sys.stderr)
        return False
    return True


def _dataset(options: argparse.Namespace) -> _core.Dataset | None:
    dataset = _core.load_dataset(options.data) if options.data else None
    if options.add_data:
        dataset = _core.extend_dataset(dataset or _core.default_dataset(), options.add_data)
    return dataset
