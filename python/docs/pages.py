"""Lay out what Sphinx reads: the guide copied, and a page for every part of Python and C++.

    python python/docs/pages.py TARGET

No part is listed by hand: a new module, header, notebook or schema has its page. Needs the package.
"""

from __future__ import annotations

import json
import re
import shutil
import sys
from pathlib import Path

from python_parts import Part, parts

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "data/README.md", "data/demo/*"]
GUIDE += ["data/schema/*.json", "notebooks/*.ipynb", "tests/reference/*.md", "python/docs/*.md"]
# Of the module itself, what is its own; of its classes, what not every result has.
MEMBERS = ":members:\n   :undoc-members:\n   :exclude-members: describe, to_csv"


def headline(title: str) -> str:
    """Return a title as reStructuredText sets it."""
    return f"{title}\n{'=' * len(title)}\n\n"


def python_page(part: Part) -> str:
    """Return the page of a module: its own functions and classes, then the types of its results."""
    name = part.module.__name__
    text = headline(name) + f".. automodule:: {name}\n\n"
    for kind, entries in (("function", part.functions), ("class", part.classes)):
        members = f"\n   {MEMBERS}" if kind == "class" else ""
        text += "".join(f".. auto{kind}:: {entry}{members}\n\n" for entry in entries)
    if part.results:
        text += "Results\n-------\n\n"
        text += "".join(f".. autoclass:: {entry}\n   {MEMBERS}\n\n" for entry in part.results)
    return text


def cpp_page(header: Path) -> str:
    """Return the page of a public header; what it says of itself comes first."""
    return headline(header.name) + f".. doxygenfile:: {header.name}\n   :project: aeruca\n"


def question(header: Path) -> str:
    """Return the first sentence that a header says of itself."""
    text = header.read_text(encoding="utf-8").split("/// \\file", 1)[1]
    words = re.sub(r"\n///", " ", text.split("\n///\n")[0].split("\n\n")[0])
    return re.split(r"(?<=[.?:])\s+(?=[A-Z(]|$)", " ".join(words.split()))[0].rstrip(":.")


def table(head: list[str], rows: list[list[str]]) -> str:
    """Return a table in Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in lines)


def contents(pages: list[str]) -> str:
    """Return the list of pages that the side bar shows."""
    return "\n```{toctree}\n:hidden:\n\n" + "\n".join(pages) + "\n```\n"


def write(target: Path, text: str) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, encoding="utf-8")


def lay_out(target: Path) -> None:
    """Write every page below a folder that is made anew."""
    shutil.rmtree(target, ignore_errors=True)
    for pattern in GUIDE:
        for file in sorted(ROOT.glob(pattern)):
            place = target / (file.name if file.parent.name == "docs" else file.relative_to(ROOT))
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(file, place)
    headers = sorted((ROOT / "include" / "aeruca").glob("*.hpp"))
    for header in headers:
        write(target / "cpp" / f"{header.stem}.rst", cpp_page(header))
    rows = [[f"[{h.name}](cpp/{h.stem}.rst)", question(h)] for h in headers]
    add(target / "cpp.md", table(["header", "what it answers"], rows), [f"cpp/{h.stem}" for h in headers])
    made = parts()
    for part in made:
        write(target / "python" / f"{part.name}.rst", python_page(part))
    rows = [[f"[{part.name}](python/{part.name}.rst)", part.title] for part in made]
    add(target / "python.md", table(["part", "what it is for"], rows), [f"python/{p.name}" for p in made])
    books = sorted((ROOT / "notebooks").glob("*.ipynb"))
    add(target / "notebooks.md", "", [f"notebooks/{book.stem}" for book in books])
    schemas = [(f, json.loads(f.read_text(encoding="utf-8"))) for f in sorted((ROOT / "data/schema").glob("*.json"))]
    rows = [[f"{{download}}`{f.name} <data/schema/{f.name}>`", s["title"], s["description"]] for f, s in schemas]
    add(target / "schemas.md", table(["file", "describes", ""], rows), [])


def add(page: Path, text: str, pages: list[str]) -> None:
    """Complete a page of python/docs by what was found."""
    write(page, page.read_text(encoding="utf-8") + "\n" + text + (contents(pages) if pages else ""))


if __name__ == "__main__":
    lay_out(Path(sys.argv[1]))
