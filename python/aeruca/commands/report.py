"""`aeruca report`: the arguments, the report, and what is said of it."""

from __future__ import annotations

import argparse
import contextlib
import datetime
import sys
from collections.abc import Sequence
from pathlib import Path

from .. import _core
from ..words import Speaking
from .arguments import (
    BAD_INPUT,
    NO_ANSWER,
    USAGE,
    Parser,
    UsageError,
    add_data_options,
    dataset_of,
    given_text,
    printed,
)


def _parser() -> argparse.ArgumentParser:
    parser = Parser(
        prog="aeruca report",
        description="Assess one object and write a self-contained HTML report with figures.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "file",
        type=given_text,
        help="case file (TOML, or a workbook .xlsx) with its logs beside it",
    )
    parser.add_argument(
        "-o", "--output", type=given_text, help="HTML file to write (default: beside the case file)"
    )
    parser.add_argument(
        "--date", type=given_text, help="date written into the report (default: today)"
    )
    add_data_options(parser)
    return parser


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    options = _parser().parse_args(arguments)
    if options.json:
        raise UsageError("--json: the report is HTML; 'aeruca case FILE --json' prints JSON")
    return options


def run(arguments: Sequence[str]) -> int:
    """Run `aeruca report ARGUMENTS...`; returns the exit code."""
    try:
        options = _options(arguments)
    except UsageError as problem:
        print(f"aeruca: report: {problem}\nSee aeruca report --help.", file=sys.stderr)
        return USAGE
    try:
        from ..report import write_report

        output = Path(options.output) if options.output else Path(options.file).with_suffix(".html")
        with Speaking(options.words) if options.words else contextlib.nullcontext():
            assessment = write_report(
                options.file,
                output,
                date=options.date or datetime.date.today().isoformat(),
                dataset=dataset_of(options),
            )
    except (_core.Error, ImportError, OSError) as problem:
        print(f"aeruca: {problem}", file=sys.stderr)
        return BAD_INPUT
    if not printed(f"wrote {output}"):
        return BAD_INPUT
    unusable = [part for part in assessment.sections if part.status == "bad input"]
    for part in unusable:
        print(f"aeruca: {part.warnings[-1]}", file=sys.stderr)
    if unusable:
        return BAD_INPUT
    return 0 if assessment.complete else NO_ANSWER
