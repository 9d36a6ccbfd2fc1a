"""`aeruca class`: the arguments, and which sheet is printed."""

from __future__ import annotations

import argparse
import contextlib
import json
import sys
from collections.abc import Sequence
from typing import Any

from .. import _core
from ..teaching import coins, sheet_titles, teacher_sheet
from ..words import Speaking, say
from .arguments import (
    BAD_INPUT,
    USAGE,
    Parser,
    UsageError,
    add_data_options,
    dataset_of,
    given_text,
    printed,
)


def _whole(given: str) -> int:
    if not given.isascii() or not given.isdigit() or len(given) > 9:
        raise argparse.ArgumentTypeError(
            f"'{given}' is no whole number; accepted is a number such as 8"
        )
    return int(given)


def _parser() -> argparse.ArgumentParser:
    parser = Parser(
        prog="aeruca class",
        description="Teacher's sheet of the class experiment beside a notebook: time, materials, "
        "grams for the class, what will be seen when, hazards, disposal.",
        epilog="Without SHEET the sheets are listed. --json prints everything as JSON. Exit codes: "
        "0 done, 1 bad input, 2 usage.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "sheet",
        nargs="?",
        type=given_text,
        metavar="SHEET",
        help="name of a sheet, or coins: which coins are solid alloy and which plated",
    )
    parser.add_argument("--groups", type=_whole, help="groups in the class, 1 to 60 (default: 8)")
    parser.add_argument("--width", type=_whole, help="columns of the text, 60 to 200 (default: 88)")
    add_data_options(parser)
    return parser


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    options = _parser().parse_args(arguments)
    if options.sheet in (None, "coins"):
        for name in ("groups", "data", "add_data"):
            if getattr(options, name) is not None:
                option = "--" + name.replace("_", "-")
                raise UsageError(f"{option} has no effect here; accepted with the name of a sheet")
    if options.width is not None and (options.json or options.sheet is None):
        raise UsageError("--width has no effect here; accepted with a page of text")
    return options


def run(arguments: Sequence[str]) -> int:
    """Run `aeruca class ARGUMENTS...`; returns the exit code."""
    try:
        options = _options(arguments)
    except UsageError as problem:
        print(f"aeruca: class: {problem}\nSee aeruca class --help.", file=sys.stderr)
        return USAGE
    try:
        with Speaking(options.words) if options.words else contextlib.nullcontext():
            page = _page(options)
    except (_core.Error, OSError) as problem:
        more = ", coins" if getattr(problem, "kind", "") == "teacher's sheet" else ""
        print(f"aeruca: {problem}{more}", file=sys.stderr)
        return BAD_INPUT
    return 0 if printed(page) else BAD_INPUT


def _page(options: argparse.Namespace) -> str:
    if options.sheet is None:
        titles = sheet_titles()
        return _json({"sheets": titles}) if options.json else _list(titles)
    found = (
        coins()
        if options.sheet == "coins"
        else teacher_sheet(
            options.sheet,
            groups=8 if options.groups is None else options.groups,
            dataset=dataset_of(options),
        )
    )
    if options.json:
        return _json(found.to_dict())
    return found.to_text(88 if options.width is None else options.width).rstrip("\n")


def _list(titles: dict[str, str]) -> str:
    widest = max(map(len, titles))
    lines = [f"  {name.ljust(widest)}  {title}" for name, title in titles.items()]
    return "\n".join([say("class.heading.list"), *lines, "", say("class.list.more")])


def _json(content: dict[str, Any]) -> str:
    return json.dumps(content, indent=2, ensure_ascii=False)
