"""What a notebook and a prompt show of results that the compiled core makes; units in the text."""

from __future__ import annotations

import html
from typing import Any

from .display import html_table


def _line_of(result: Any) -> str:
    line: str = result._line()
    return line


def card(result: Any) -> str:
    """Return the HTML card of a described result: what matters first, the rest folded away."""
    rows, tables = result._sheet()
    first = [row for row in rows if row[3]] or rows
    rest = [row for row in rows if row not in first]
    heading = [type(result).__name__, ""]
    parts = [html_table(heading, _figures(first), _line_of(result))]
    parts += [
        html_table(columns, [[html.escape(cell) for cell in row] for row in cells], title)
        for title, columns, cells in tables
        if cells
    ]
    if rest:
        folded = html_table(["figure", ""], _figures(rest))
        parts.append(f"<details><summary>all figures</summary>{folded}</details>")
    return "".join(parts)


def _figures(rows: list[tuple[str, str, str, bool]]) -> list[list[str]]:
    return [
        [f'<span title="{html.escape(name)}">{html.escape(meaning)}</span>', html.escape(value)]
        for name, meaning, value, _ in rows
    ]
