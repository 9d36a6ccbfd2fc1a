"""The reference pages: everything public has its place, before any generator is asked."""

import importlib
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import aeruca


@pytest.fixture(scope="module")
def tools(root: Path) -> Iterator[dict[str, ModuleType]]:
    """The scripts that lay the pages out."""
    names = ["pages", "python_parts", "set_by_hand"]
    sys.path.insert(0, str(root / "python" / "docs"))
    yield {name: importlib.import_module(name) for name in names}
    sys.path.remove(str(root / "python" / "docs"))
    for name in names:
        del sys.modules[name]


@pytest.fixture(scope="module")
def pages(tools: dict[str, ModuleType], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pages as the generator would read them."""
    target = tmp_path_factory.mktemp("docs") / "source"
    tools["pages"].lay_out(target)
    return target


def listed(pages: Path) -> set[str]:
    """Every page that the side bar leads to, from the first on."""
    waiting, found = ["index"], set[str]()
    while waiting:
        name = waiting.pop()
        found.add(name)
        file = pages / f"{name}.md"
        trees = re.findall(r"```\{toctree\}\n:hidden:\n\n(.*?)```", read(file), re.DOTALL)
        entries = [line for tree in trees for line in tree.splitlines()]
        waiting += [re.sub(r".*<(.*)>", r"\1", entry) for entry in entries]
    return found


def read(file: Path) -> str:
    return file.read_text(encoding="utf-8") if file.exists() else ""


def test_the_side_bar_leads_to_every_page_and_nowhere_else(pages: Path) -> None:
    files = [f for f in pages.rglob("*") if f.suffix in {".md", ".rst", ".ipynb"}]
    assert listed(pages) == {str(f.relative_to(pages).with_suffix("")) for f in files}


def test_every_header_notebook_and_schema_has_its_place(root: Path, pages: Path) -> None:
    found = listed(pages)
    for header in (root / "include").rglob("*.hpp"):
        assert f"cpp/{header.stem}" in found
        assert f"doxygenfile:: {header.name}\n" in read(pages / "cpp" / f"{header.stem}.rst")
        assert "\n/// \\file\n" in read(header), f"{header.name}: says nothing of itself"
    for notebook in (root / "notebooks").glob("*.ipynb"):
        assert f"notebooks/{notebook.stem}" in found
        assert f"(notebooks/{notebook.name})" in read(pages / "notebooks.md")
    for schema in (root / "data" / "schema").glob("*.json"):
        assert f"<data/schema/{schema.name}>" in read(pages / "schemas.md")


def documented(pages: Path) -> list[str]:
    """Full names of what the pages of Python show."""
    texts = [read(f) for f in (*(pages / "python").glob("*.rst"), pages / "python.md")]
    return [name for text in texts for name in re.findall(r"^\.\. auto\w+:: (\S+)", text, re.M)]


def test_every_public_name_of_python_is_shown_once(pages: Path) -> None:
    shown = documented(pages)
    assert len(set(shown)) == len(shown)
    last = [name.rsplit(".", 1)[-1] for name in shown]
    for name in set(dir(aeruca)) - {"__version__"}:
        assert name in last, name
    for name in [n.removeprefix("aeruca.") for n in shown if n.startswith("aeruca.")]:
        module = sys.modules.get(f"aeruca.{name}")
        for public in getattr(module, "__all__", []):
            assert public in last, f"{name}.{public}"


def test_every_result_is_shown(root: Path, pages: Path) -> None:
    last = [name.rsplit(".", 1)[-1] for name in documented(pages)]
    results = re.findall(r"^class (\w+)", read(root / "python/aeruca/_results.pyi"), re.M)
    assert results
    assert not set(results) - set(last)


def test_what_is_inner_is_there(root: Path, tools: dict[str, ModuleType]) -> None:
    for name, page in tools["python_parts"].INNER.items():
        if name != "_core":
            place = root / "python" / "aeruca" / name.replace(".", "/")
            assert place.with_suffix(".py").exists() or (place / "__init__.py").exists(), name
        assert not page or (root / "python" / "aeruca" / f"{page}.py").exists(), name


def test_a_table_of_a_header_stays_as_it_was_set(tools: dict[str, ModuleType]) -> None:
    header = "/// Words.\n///   dry   without water\n/// - a list\n///   goes on\nint a;  ///< b\n"
    assert tools["set_by_hand"].filtered(header) == (
        "/**\n Words.\n@verbatim\ndry   without water\n@endverbatim\n"
        " - a list\n   goes on\n*/\nint a;  ///< b\n"
    )


def test_the_filter_of_headers_leaves_code_alone(root: Path, tools: dict[str, ModuleType]) -> None:
    for header in (root / "include").rglob("*.hpp"):
        code = re.sub(r"^[ \t]*///(?!<).*\n", "", read(header), flags=re.M)
        filtered = tools["set_by_hand"].filtered(read(header))
        assert re.sub(r"^/\*\*\n(?:.*\n)*?\*/\n", "", filtered, flags=re.M) == code, header.name
