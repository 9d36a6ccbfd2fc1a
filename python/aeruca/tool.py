"""The `aeruca` command that pip installs: the C++ tool; report, class and page on top."""

from __future__ import annotations

import importlib
import signal
import sys
import threading
from collections.abc import Sequence

from . import _core

_WITH_VALUE = {"--data", "--add-data", "--words"}
# Sub-commands that stand in Python, each imported only when it is asked for.
_IN_PYTHON = {
    "report": ".commands.report",
    "class": ".commands.classroom",
    "page": ".page.command",
}


def _place_of_own(arguments: Sequence[str]) -> int | None:
    """Position of a sub-command that stands in Python; options of the tool may stand before it."""
    skip = False
    for place, argument in enumerate(arguments):
        if skip:
            skip = False
        elif argument in _WITH_VALUE:
            skip = True
        elif not argument.startswith("-"):
            return place if argument in _IN_PYTHON else None
    return None


def main(arguments: Sequence[str] | None = None) -> int:
    """Run `aeruca ARGUMENTS...`; returns 0 done, 1 bad input, 2 usage, 3 no answer."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    place = _place_of_own(given)
    if place is not None:
        command = importlib.import_module(_IN_PYTHON[given[place]], __package__)
        return int(command.run(given[:place] + given[place + 1 :]))
    sys.stdout.flush()
    if threading.current_thread() is not threading.main_thread():
        return _core.run_tool_here(given)
    # The tool runs outside the interpreter: an interrupt ends it at once, not when it returns; and
    # so does a reader that has seen enough (`aeruca ... | head`).
    ending = [getattr(signal, name) for name in ("SIGINT", "SIGPIPE") if hasattr(signal, name)]
    before = [signal.signal(number, signal.SIG_DFL) for number in ending]
    try:
        return _core.run_tool_here(given)
    finally:
        for number, handler in zip(ending, before, strict=True):
            signal.signal(number, handler)


if __name__ == "__main__":
    sys.exit(main())
