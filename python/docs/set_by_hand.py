"""Filter of Doxygen: tables and equations of a header stay as they were set by hand.

    python set_by_hand.py HEADER

In a comment of the headers what is indented beyond the text, and no list, is a table or equation.
"""

import re
import sys
from itertools import groupby
from pathlib import Path
from textwrap import dedent

COMMENT = re.compile(r"\s*///(?!<)")
LIST = re.compile(r" +- ")


def by_hand(words: list[str]) -> list[str]:
    """Return the lines of one comment with each run of indented lines marked as verbatim."""
    lines: list[str] = []
    for indented, run in groupby(words, lambda line: line.startswith("   ")):
        block = list(run)
        item = LIST.match(block[0]) or (lines and LIST.match(lines[-1]))
        if indented and not item:
            block = ["@verbatim", *dedent("\n".join(block)).splitlines(), "@endverbatim"]
        lines += block
    return lines


def filtered(header: str) -> str:
    """Return a header with blocks for its comments of three strokes: verbatim needs them."""
    lines: list[str] = []
    for is_comment, run in groupby(header.splitlines(), lambda line: bool(COMMENT.match(line))):
        if is_comment:
            words = by_hand([COMMENT.sub("", line) for line in run])
            lines += ["/**", *words, "*/"]
        else:
            lines += run
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.stdout.write(filtered(Path(sys.argv[1]).read_text(encoding="utf-8")))
