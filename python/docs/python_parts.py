"""What the pages of Python show: the modules that people import, and what each of them offers."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

# What the package is made of inside, each with the part on whose page its classes stand, if any.
INNER = {
    "_core": "",
    "cards": "",
    "case_workbook": "",
    "case_workbook.blank": "",
    "case_workbook.cells": "",
    "case_workbook.keys": "",
    "case_workbook.read": "",
    "case_workbook.sheets": "",
    "checks": "",
    "class_figures": "",
    "display": "",
    "commands": "",
    "commands.arguments": "",
    "commands.classroom": "",
    "commands.report": "",
    "drawing.report_figures": "",
    "drawn_fields": "",
    "equilibrium_result": "equilibrium",
    "equilibrium_table": "equilibrium",
    "handed_on": "",
    "page": "",
    "page.app": "",
    "page.command": "",
    "page.fields": "",
    "page.form": "",
    "page.guard": "",
    "page.kinds": "",
    "page.listen": "",
    "page.moved": "",
    "page.work": "",
    "store_options": "store",
    "toml_text": "",
    "tool": "",
    "workbook": "",
}
# A type that several parts hand on stands with the first of these, else with the first by name.
FIRST = ["dataset", "equilibrium", "stability", "store", "enclosure", "path", "ranges"]


@dataclass
class Part:
    """A module: its name below ``aeruca``, and full names of what stands on its page."""

    name: str
    module: ModuleType
    functions: list[str]
    classes: list[str]
    results: list[str]

    @property
    def title(self) -> str:
        """The first line that the module says of itself."""
        return (self.module.__doc__ or "").splitlines()[0].rstrip(".")


def stubs() -> dict[str, dict[str, str]]:
    """Return the attributes of each class of the compiled core with their types, as stubs say."""
    found = {}
    folder = Path(inspect.getfile(importlib.import_module("aeruca"))).parent
    for file in ("_results.pyi", "_core.pyi"):
        for node in ast.parse((folder / file).read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef):
                found[node.name] = dict(attributes(node))
    return found


def attributes(node: ast.ClassDef) -> list[tuple[str, str]]:
    """Return name and type of each attribute of a class of a stub."""
    listed = []
    for item in node.body:
        if isinstance(item, ast.AnnAssign) and isinstance(item.target, ast.Name):
            listed.append((item.target.id, ast.unparse(item.annotation)))
        elif isinstance(item, ast.FunctionDef) and item.returns is not None:
            marks = [ast.unparse(mark) for mark in item.decorator_list]
            listed += [(item.name, ast.unparse(item.returns))] * marks.count("property")
    return listed


def parts() -> list[Part]:
    """Return every part, in the order of the alphabet."""
    package = importlib.import_module("aeruca")
    found = (one.name for one in pkgutil.walk_packages(package.__path__, "aeruca."))
    names = sorted({name.removeprefix("aeruca.") for name in found} - set(INNER))
    made = [part(name) for name in names]
    typed, shown = stubs(), {entry.rsplit(".")[-1] for one in made for entry in one.classes}
    shown |= {"Error"}
    for one in sorted(made, key=lambda one: FIRST.index(one.name) if one.name in FIRST else 99):
        results = reached(one.module, typed) - shown
        shown |= results
        one.results = [f"aeruca._core.{name}" for name in sorted(results)]
    return made


def part(name: str) -> Part:
    """Return a part with what its module defines or names as its own, and classes of inner ones."""
    module = importlib.import_module(f"aeruca.{name}")
    inner = {f"aeruca.{one}" for one, page in INNER.items() if page == name}
    functions, classes = [], []
    for key, value in vars(module).items():
        home = getattr(value, "__module__", None)
        own = home == module.__name__ or key in getattr(module, "__all__", [])
        if key.startswith("_") or (home == "aeruca._core" and inspect.isclass(value)):
            continue
        if inspect.isclass(value) and (own or home in inner):
            classes.append(f"{module.__name__}.{key}")
        elif inspect.isroutine(value) and own:
            functions.append(f"{module.__name__}.{key}")
    return Part(name, module, functions, classes, [])


def reached(module: ModuleType, typed: dict[str, dict[str, str]]) -> set[str]:
    """Return the types of the core that a module hands on or names, and those in their attributes.

    What is only named must be a described result: the rest of the core is wrapped.
    """
    described = {name for name in typed if hasattr(getattr(_core(), name), "describe")}
    handed = {n for n, v in vars(module).items() if getattr(v, "__module__", "") == "aeruca._core"}
    named = set(re.findall(r"\b_core\.([A-Z]\w+)", inspect.getsource(module))) & described
    waiting, found = [name for name in handed | named if name in typed], set[str]()
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            words = re.findall(r"\w+", " ".join(typed[name].values()))
            waiting += [word for word in words if word in typed]
    return found


def _core() -> ModuleType:
    return importlib.import_module("aeruca._core")
