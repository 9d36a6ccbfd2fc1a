"""How Sphinx sets the reference pages; `./dev docs` runs it over what pages.py laid out."""

from __future__ import annotations

import importlib
import re
import sys
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(HERE))

from python_parts import stubs  # noqa: E402
from sphinx.errors import ExtensionError  # noqa: E402

project = "aeruca"
copyright = "the authors of aeruca, BSD-3-Clause"
version = re.search(
    r"project\(aeruca VERSION ([0-9.]+)", (ROOT / "CMakeLists.txt").read_text(encoding="utf-8")
)[1]
release = version

extensions = ["sphinx.ext.autodoc", "myst_nb", "breathe"]
exclude_patterns = ["data/demo"]
highlight_language = "none"
default_role = "code"
smartquotes = False  # of "--json" they make a dash

# Python: signatures as `help` shows them, types by their last word.
autodoc_member_order = "bysource"
autodoc_typehints_format = "short"
python_use_unqualified_type_names = True
python_maximum_signature_line_length = 90
add_module_names = False

# C++: what Doxygen read.
breathe_projects = {"aeruca": str(ROOT / "build/docs-made/xml")}
breathe_default_project = "aeruca"
breathe_show_include = False
cpp_maximum_signature_line_length = 90
suppress_warnings = ["duplicate_declaration.cpp"]  # every header opens the namespace aeruca

# Notebooks are run: what the pages show is what this version answers.
nb_execution_mode = "force"
nb_execution_raise_on_error = True
nb_execution_timeout = 300
nb_ipywidgets_js: dict[str, Any] = {}
myst_heading_anchors = 3

html_theme = "furo"
html_title = f"aeruca {version}"
html_static_path = ["pages.css"]
html_css_files = ["pages.css"]
html_copy_source = False
html_show_sourcelink = False
html_show_sphinx = False


def show_types(_: object) -> None:
    """Give the attributes of the compiled core their types, which only the stubs know."""
    core = importlib.import_module("aeruca._core")
    for name, attributes in stubs().items():
        kind = getattr(core, name)
        for attribute, type_ in attributes.items():
            found = vars(kind).get(attribute)
            if isinstance(found, property) and found.fget:
                setattr(kind, attribute, typed(found, type_))


def typed(plain: property, type_: str) -> property:
    """Return a property that says its type."""

    def read(self: object) -> Any:
        return plain.__get__(self)

    read.__annotations__["return"] = type_
    return property(read, doc=plain.__doc__)


def leave_out(_app: object, _what: str, _name: str, value: object, skip: bool, _: object) -> bool:
    """Leave out what a named tuple says of its fields: its signature shows them."""
    return skip or (getattr(value, "__doc__", None) or "").startswith("Alias for field number")


def stay_here(app: Any, failed: Exception | None) -> None:
    """Refuse pages that would fetch scripts, styles, fonts or pictures from elsewhere."""
    outside = re.compile(r"""<(?:script|link|img|iframe)\b[^>]*(?:src|href)=["'](?:https?:)?//""")
    for page in [] if failed else sorted(Path(app.outdir).rglob("*.html")):
        if found := outside.search(page.read_text(encoding="utf-8")):
            raise ExtensionError(f"{page.name} would fetch from elsewhere: {found[0]}")


def setup(app: Any) -> None:
    """Tell Sphinx what is asked of it beside its options."""
    app.connect("builder-inited", show_types)
    app.connect("autodoc-skip-member", leave_out)
    app.connect("build-finished", stay_here)
