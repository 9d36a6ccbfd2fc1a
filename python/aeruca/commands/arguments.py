"""What the sub-commands that stand in Python have in common: arguments, data set, exit codes."""

from __future__ import annotations

import argparse
import os
import sys
from typing import NoReturn

from .. import _core
from ..words import languages

BAD_INPUT, USAGE, NO_ANSWER = 1, 2, 3
_NOT_WRITTEN = "the result could not be written to the output (a full disk, or a closed pipe)"


class UsageError(Exception):
    """The arguments make no sense; the message says why."""


class Parser(argparse.ArgumentParser):
    """A parser that raises UsageError in place of ending the program."""

    def error(self, message: str) -> NoReturn:
        """Raise UsageError."""
        raise UsageError(message)


def given_text(given: str) -> str:
    """Return an argument as it is; an empty one is refused."""
    if not given:
        raise argparse.ArgumentTypeError("'' is empty; accepted is a text")
    return given


def add_data_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that every command of the tool takes: data set and language."""
    parser.add_argument(
        "--data",
        type=given_text,
        help="directory with a data set to use in place of the built-in one",
    )
    parser.add_argument(
        "--add-data", type=given_text, help="TOML file whose records are added to the data set"
    )
    parser.add_argument(
        "--words",
        type=given_text,
        help=f"language of results: {', '.join(languages())}, or a TOML file with its words",
    )
    parser.add_argument("--json", action="store_true", help=argparse.SUPPRESS)


def dataset_of(options: argparse.Namespace) -> _core.Dataset | None:
    """Return the data set that the options name; None for the built-in one."""
    dataset = _core.load_dataset(options.data) if options.data else None
    if options.add_data:
        dataset = _core.extend_dataset(dataset or _core.default_dataset(), options.add_data)
    return dataset


def printed(text: str) -> bool:
    """Print a line or a page; what cannot be written is said, and False returned.

    A reader that has seen enough (`aeruca ... | head`) is no fault and gets no complaint.
    """
    try:
        print(text, flush=True)
    except OSError as problem:
        # What could not be written must not be tried again, with a second complaint, at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if not isinstance(problem, BrokenPipeError):
            print(f"aeruca: {_NOT_WRITTEN}", file=sys.stderr)
        return False
    return True
