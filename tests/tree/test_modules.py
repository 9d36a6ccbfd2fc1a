"""Python modules import each other one way, for types as well; no source file grows too long."""

import ast
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

LONGEST = 400  # lines


def targets(node: ast.AST, package_of: str) -> set[str]:
    """Dotted names below aeruca that one import names, whether module or what stands in it."""
    if isinstance(node, ast.Import):
        return {a.name.partition(".")[2] for a in node.names if a.name.startswith("aeruca.")}
    if not isinstance(node, ast.ImportFrom):
        return set()
    module = node.module or ""
    if node.level:
        above = package_of.split(".")[: len(package_of.split(".")) - node.level + 1]
        module = ".".join(filter(None, [*above, module]))
    elif module != "aeruca" and not module.startswith("aeruca."):
        return set()
    else:
        module = module.partition(".")[2]
    return {module} | {f"{module}.{alias.name}".lstrip(".") for alias in node.names}


def circle(texts: dict[str, str]) -> list[str]:
    """Modules that import each other in a ring; empty: none."""
    # The empty name in front stands for the package itself: "..words" climbs to it.
    arrows = {
        name: set().union(
            *(
                targets(node, ".".join(["", *name.split(".")[:-1]]))
                for node in ast.walk(ast.parse(text))
            )
        )
        & set(texts)
        for name, text in texts.items()
    }
    try:
        TopologicalSorter(arrows).prepare()
    except CycleError as found:
        return [str(name) for name in found.args[1]]
    return []


def package(root: Path) -> dict[str, str]:
    """Text of every module of the package by its dotted name below aeruca."""
    folder = root / "python" / "aeruca"
    return {
        ".".join(file.relative_to(folder).with_suffix("").parts): file.read_text(encoding="utf-8")
        for file in sorted(folder.rglob("*.py"))
        if file.name != "__init__.py"
    }


def too_long(texts: dict[str, str]) -> list[str]:
    """Files above the limit."""
    counts = {name: len(text.splitlines()) for name, text in texts.items()}
    return [f"{name}: {count} lines" for name, count in counts.items() if count > LONGEST]


def test_no_modules_import_each_other_in_a_ring(root: Path) -> None:
    assert not circle(package(root))


@pytest.mark.parametrize(
    "line",
    [
        "from .stability import FieldDiagram",
        "if True:\n    from . import stability",
        "def late():\n    from aeruca.stability import FieldDiagram",
        "import aeruca.stability",
    ],
)
def test_a_line_that_closes_a_ring_is_seen(root: Path, line: str) -> None:
    texts = package(root)
    texts["drawn_fields"] += "\n" + line + "\n"
    assert {"drawn_fields", "stability"} <= set(circle(texts))


@pytest.mark.parametrize(
    "line", ["from ..brine import deliquescence", "from .. import brine", "import aeruca.brine"]
)
def test_a_ring_through_a_package_below_is_seen(root: Path, line: str) -> None:
    texts = package(root)
    assert "drawing.salts" in texts
    texts["drawing.salts"] += "\n" + line + "\n"
    assert {"brine", "drawing.salts"} <= set(circle(texts))


def test_every_source_file_stays_under_the_limit(root: Path) -> None:
    kinds = {".cpp", ".hpp", ".py", ".cmake"}
    files = [f for top in ("src", "include", "python") for f in sorted((root / top).rglob("*"))]
    texts = {
        str(f.relative_to(root)): f.read_text(encoding="utf-8") for f in files if f.suffix in kinds
    }
    assert texts
    assert not too_long(texts)


def test_a_line_beyond_the_limit_is_seen() -> None:
    assert not too_long({"a.cpp": "int a;\n" * LONGEST})
    assert too_long({"a.cpp": "int a;\n" * (LONGEST + 1)})


def test_what_is_not_given_is_one_number(root: Path) -> None:
    # One name for everybody: kNotGiven, which JSON shows as null.
    sources = [f for part in ("include", "src", "python") for f in (root / part).rglob("*.?pp")]
    others = [f.name for f in sources if "quiet_NaN" in f.read_text(encoding="utf-8")]
    assert others == ["not_given.hpp"]
