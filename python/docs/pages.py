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

import aeruca

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
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
    variables = "" if part.functions or part.classes else "   :members:\n   :undoc-members:\n"
    text = headline(name) + f".. automodule:: {name}\n{variables}\n"
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
    return "\n" + "".join(f"| {' | '.join(cells)} |\n" for cells in lines)


def contents(pages: list[str]) -> str:
    """Return the list of pages that the side bar shows."""
    return "\n```{toctree}\n:hidden:\n\n" + "\n".join(pages) + "\n```\n"


def write(page: Path, text: str) -> None:
    """Write a page, or go on with one that python/docs begins."""
    page.parent.mkdir(parents=True, exist_ok=True)
    with page.open("a", encoding="utf-8") as file:
        file.write(text)


def copy_guide(target: Path) -> None:
    """Copy what people and notebooks read, and the pictures in it, to where it stands here."""
    files = [file for pattern in GUIDE for file in sorted(ROOT.glob(pattern))]
    for page in [file for file in files if file.suffix == ".md"]:
        pictures = re.findall(r"!\[[^]]*\]\(([^):]+)\)", page.read_text(encoding="utf-8"))
        files += [page.parent / picture for picture in pictures]
    for file in files:
        place = target / (file.name if file.parent == HERE else file.relative_to(ROOT))
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(file, place)


def lay_out(target: Path) -> None:
    """Write every page below a folder that is made anew."""
    shutil.rmtree(target, ignore_errors=True)
    copy_guide(target)

    headers = sorted((ROOT / "include" / "aeruca").glob("*.hpp"))
    for header in headers:
        write(target / "cpp" / f"{header.stem}.rst", cpp_page(header))
    rows = [[f"[{header.name}](cpp/{header.stem}.rst)", question(header)] for header in headers]
    write(target / "cpp.md", table(["header", "what it is about"], rows))
    write(target / "cpp.md", contents([f"cpp/{header.stem}" for header in headers]))

    made = parts()
    for part in made:
        write(target / "python" / f"{part.name}.rst", python_page(part))
    rows = [[f"[{part.name}](python/{part.name}.rst)", part.title] for part in made]
    write(target / "python.md", f"\n```text\n{aeruca.__doc__.strip()}\n```\n")
    write(target / "python.md", table(["part", "what it is about"], rows))
    write(target / "python.md", contents([f"python/{part.name}" for part in made]))

    books = sorted((ROOT / "notebooks").glob("*.ipynb"))
    titles = [json.loads(book.read_text(encoding="utf-8"))["cells"][0]["source"] for book in books]
    rows = [
        [f"[{''.join(title).splitlines()[0].lstrip('# ')}](notebooks/{book.name})"]
        for book, title in zip(books, titles, strict=True)
    ]
    write(target / "notebooks.md", table(["notebook"], rows))
    write(target / "notebooks.md", contents([f"notebooks/{book.stem}" for book in books]))

    rows = []
    for file in sorted((ROOT / "data" / "schema").glob("*.json")):
        schema = json.loads(file.read_text(encoding="utf-8"))
        link = f"{{download}}`{file.name} <data/schema/{file.name}>`"
        rows.append([link, schema["title"], schema["description"]])
    write(target / "schemas.md", table(["file", "title", "what it describes"], rows))


if __name__ == "__main__":
    lay_out(Path(sys.argv[1]))
