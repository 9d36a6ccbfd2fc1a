"""`aeruca page`: starts the page on this machine's own address, opens it, ends it cleanly."""

from __future__ import annotations

import argparse
import contextlib
import os
import secrets
import shutil
import signal
import sys
import tempfile
import webbrowser
from collections.abc import Iterator, Sequence
from pathlib import Path

from .. import _core
from ..commands.arguments import (
    BAD_INPUT,
    USAGE,
    Parser,
    UsageError,
    add_data_options,
    dataset_of,
    given_text,
)
from ..words import Speaking

_INSTALL = 'the page needs {}; install it with: pip install "aeruca[page]"'


def _port(given: str) -> int:
    if not given.isdecimal() or not 1 <= int(given) <= 65535:
        raise argparse.ArgumentTypeError(f"'{given}' is no port; accepted is 1 to 65535")
    return int(given)


def _parser() -> argparse.ArgumentParser:
    parser = Parser(
        prog="aeruca page",
        description="Fill in, assess and save a case in the browser, on this machine alone: it "
        "listens to no other, and its address holds a key. Ctrl-C ends it.",
        allow_abbrev=False,
    )
    parser.add_argument("--port", type=_port, help="port to listen on (default: a free one)")
    parser.add_argument(
        "--folder",
        type=given_text,
        help="where files are kept (default: a private folder, removed at the end)",
    )
    parser.add_argument(
        "--no-browser", action="store_true", help="print the address and open no browser"
    )
    add_data_options(parser)
    return parser


def run(arguments: Sequence[str]) -> int:
    """Run `aeruca page ARGUMENTS...` until it is interrupted; returns the exit code."""
    try:
        options = _parser().parse_args(arguments)
        if options.json:
            raise UsageError("--json: the page is HTML; 'aeruca case FILE --json' prints JSON")
    except UsageError as problem:
        print(f"aeruca: page: {problem}\nSee aeruca page --help.", file=sys.stderr)
        return USAGE
    try:
        with _folder(options.folder) as folder:
            _serve(options, folder)
    except (_core.Error, ImportError, OSError) as problem:
        print(f"aeruca: {problem}", file=sys.stderr)
        return BAD_INPUT
    return 0


@contextlib.contextmanager
def _folder(given: str | None) -> Iterator[Path]:
    """Give the folder of this run: one that is named stays, one of our own goes at the end."""
    if given is None:
        own = Path(tempfile.mkdtemp(prefix="aeruca-page-")).resolve()
        try:
            yield own
        finally:
            shutil.rmtree(own, ignore_errors=True)
        return
    folder = Path(given)
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        usable = os.access(folder, os.W_OK | os.X_OK)
    except OSError:
        usable = False
    if not usable:
        raise _core.Error(
            f"{folder}: is no folder that can be written to; accepted is one, or the name of a new "
            "one in a folder that is there"
        )
    yield folder.resolve()


def _serve(options: argparse.Namespace, folder: Path) -> None:
    try:
        from .app import Settings, make_app
        from .listen import HOST, listening, make_server
    except ImportError as problem:
        raise ImportError(_INSTALL.format(problem.name or "Flask")) from problem
    dataset = dataset_of(options)
    if options.words:
        with Speaking(options.words):  # refused now, not at the first question
            pass
    with listening(options.port) as (port, descriptor):
        settings = Settings(folder, secrets.token_urlsafe(32), port, dataset, options.words)
        app, page = make_app(settings)
        server = make_server(app, port, descriptor)
    address = f"http://{HOST}:{port}/{settings.token}/"
    print(f"the page is at {address}\nfor you alone on this machine; Ctrl-C ends it", flush=True)
    before = signal.signal(signal.SIGTERM, _interrupt)
    try:
        with contextlib.suppress(KeyboardInterrupt), _way_in(folder, address) as way:
            if not options.no_browser:
                webbrowser.open(way.as_uri())
            server.serve_forever()
        print("\nthe page is ended", flush=True)
    finally:
        signal.signal(signal.SIGTERM, before)
        page.end()
        server.server_close()


def _interrupt(number: int, frame: object) -> None:
    raise KeyboardInterrupt


@contextlib.contextmanager
def _way_in(folder: Path, address: str) -> Iterator[Path]:
    """Give a private file that leads to the address: others see what a browser is started with."""
    way = folder / f"open-{secrets.token_hex(8)}.html"
    text = (
        '<!DOCTYPE html><meta charset="utf-8"><title>aeruca</title>'
        f'<meta http-equiv="refresh" content="0; url={address}"><a href="{address}">aeruca</a>\n'
    )
    try:
        with open(os.open(way, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as stream:
            stream.write(text)
        yield way
    finally:
        way.unlink(missing_ok=True)
