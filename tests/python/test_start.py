"""Starting is cheap: what is not asked for is not imported."""

import ast
import importlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

import aeruca

PACKAGE = Path(__file__).parents[2] / "python/aeruca"
HEAVY = {"numpy", "matplotlib", "jinja2", "scipy", "pandas"}


def imported_after(statements: str, *watched: str) -> set[str]:
    """Which of the watched modules a new interpreter has imported after the statements."""
    script = f"import sys\n{statements}\nprint('imported', *(set(sys.modules) & {set(watched)}))"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, env=dict(os.environ)
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.splitlines()[-1].split()[1:])


def test_the_watch_sees_what_is_imported() -> None:
    assert imported_after("import numpy, json", "numpy", "json", "jinja2") == {"numpy", "json"}


def test_importing_the_package_imports_nothing_heavy() -> None:
    parts = {f"aeruca.{part}" for part in ("case", "report", "plot", "equilibrium", "_core")}
    assert not imported_after("import aeruca", *HEAVY, *parts)


@pytest.mark.parametrize("arguments", [["--help"], ["fields", "--help"], ["fields"], ["salts"]])
def test_the_tool_runs_without_numpy(arguments: list[str]) -> None:
    run = f"import aeruca.tool\nassert aeruca.tool.main({arguments}) == 0"
    assert not imported_after(run, *HEAVY, "argparse")


@pytest.mark.parametrize("verb", ["speciate", "assess_case", "field_diagram", "fit_bath_log"])
def test_a_verb_imports_neither_drawing_nor_report(verb: str) -> None:
    rest = {"aeruca.report", "aeruca.drawing", "aeruca.drawing.bath", "aeruca.drawing.store"}
    assert not imported_after(f"import aeruca\naeruca.{verb}", *HEAVY - {"numpy"}, *rest)


def test_the_report_imports_what_it_draws_with_only_when_it_draws() -> None:
    assert not imported_after("import aeruca\naeruca.write_report", *HEAVY - {"numpy"})


def imports_for_type_checkers() -> dict[str, str]:
    """Name and part of each import in the package that only a type checker runs."""
    found = {}
    for node in ast.walk(ast.parse((PACKAGE / "__init__.py").read_text())):
        if isinstance(node, ast.ImportFrom) and node.level == 1:
            found |= {name.asname or name.name: node.module or "" for name in node.names}
    return found


def test_every_name_stands_where_type_checkers_are_told() -> None:
    told = imports_for_type_checkers()
    assert set(told) == set(dir(aeruca)) - {"__version__"}
    for name, part in told.items():
        module = importlib.import_module(f"aeruca.{part or name}")
        expected = getattr(module, name) if part else module
        assert getattr(aeruca, name) is expected, name


def test_no_verb_is_hidden_by_a_module_of_its_name() -> None:
    modules = {file.stem for file in PACKAGE.glob("*.py")}
    verbs = {name for name, part in imports_for_type_checkers().items() if part}
    assert not verbs & modules


def test_a_name_that_is_not_there_is_refused_as_python_does() -> None:
    with pytest.raises(AttributeError, match="module 'aeruca' has no attribute 'speciat'"):
        aeruca.speciat  # noqa: B018
