"""Names of species and reactions as chemists set them, and small helpers for notebook display."""

from __future__ import annotations

import html
import re

_SUBSCRIPT = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_SUPERSCRIPT = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")

# `CuCl2(-)`, `Cu(OH)4(2-)`: the last parentheses with a sign are the charge.
_CHARGE = re.compile(r"\((\d*[+-])\)$")
_PHASE = re.compile(r"\((aq|g|s|l)\)$")
# Elements and groups with counts, hydrate water, then charge or phase.
_GROUP = r"(?:[A-Z][a-z]?\d*|\((?:[A-Z][a-z]?\d*)+\)\d*)+"
_FORMULA = re.compile(
    rf"(?<![A-Za-z)])(?:e\(-\)|{_GROUP}(?:\.\d*{_GROUP})*(?:\((?:\d*[+-]|aq|g)\))?)(?![a-z])"
)


def _parts(name: str) -> tuple[str, str, str]:
    """Split a species name into formula, charge and phase."""
    charge = _CHARGE.search(name)
    if charge:
        return name[: charge.start()], charge.group(1), ""
    phase = _PHASE.search(name)
    if phase:
        return name[: phase.start()], "", phase.group(1)
    return name, "", ""


def is_formula(name: str) -> bool:
    """Whether a name is written as a formula (`CuCl2(-)`) and not as a mineral (`nantokite`)."""
    return name == "e(-)" or name[:1].isupper()


def species_text(name: str) -> str:
    """Return a species name with Unicode sub- and superscripts: `CuCl2(-)` as CuCl₂⁻."""
    if not is_formula(name):
        return name
    formula, charge, phase = _parts(name)
    text = re.sub(r"(?<=[A-Za-z)])(\d+)", lambda m: m.group(1).translate(_SUBSCRIPT), formula)
    text = text.replace(".", "·")
    return text + charge.translate(_SUPERSCRIPT) + (f"({phase})" if phase else "")


def species_html(name: str) -> str:
    """Return a species name as HTML with `<sub>` and `<sup>`."""
    if not is_formula(name):
        return html.escape(name)
    formula, charge, phase = _parts(name)
    text = re.sub(r"(?<=[A-Za-z)])(\d+)", r"<sub>\1</sub>", html.escape(formula))
    sign = charge.replace("-", "−")
    return (
        text.replace(".", "·")
        + (f"<sup>{sign}</sup>" if sign else "")
        + (f"({phase})" if phase else "")
    )


def species_mathtext(name: str) -> str:
    """Return a species name for matplotlib: `CuCl2(-)` as upright mathtext."""
    if not is_formula(name):
        return name
    formula, charge, phase = _parts(name)
    text = re.sub(r"(?<=[A-Za-z)])(\d+)", r"_{\1}", formula).replace(".", r"\cdot ")
    sign = f"{{}}^{{{charge}}}" if charge else ""  # the empty group sets the charge after the count
    return rf"$\mathregular{{{text}{sign}}}$" + (f"({phase})" if phase else "")


def sentence_text(text: str) -> str:
    """Return a line of text with every formula in Unicode sub- and superscripts."""
    plain = _FORMULA.sub(lambda m: species_text(m.group(0)), text)
    return plain.replace("log10 ", "log₁₀ ").replace("degrees C", "°C")


def reaction_text(reaction: str) -> str:
    """Return a reaction with formulas in Unicode and an equilibrium arrow."""
    return sentence_text(reaction).replace(" = ", " ⇌ ")


def html_table(columns: list[str], rows: list[list[str]], caption: str = "") -> str:
    """Return a plain HTML table; cells are taken as HTML, the caption as text."""
    head = "".join(f"<th>{html.escape(column)}</th>" for column in columns)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    title = f"<caption>{html.escape(caption)}</caption>" if caption else ""
    return f"<table>{title}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
