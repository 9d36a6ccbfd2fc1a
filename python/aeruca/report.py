"""The HTML report of one object: one file, nothing to fetch, fit to print and to file."""

from __future__ import annotations

import base64
import datetime
import os
import re
import secrets
import stat
from pathlib import Path
from typing import TYPE_CHECKING, Any

from . import _core
from .case import CaseAssessment, assess_case
from .words import say

if TYPE_CHECKING:
    from jinja2 import Environment

_INSTALL = 'the report needs {}; install it with: pip install "aeruca[report]"'


def write_report(
    case_file: str | os.PathLike[str],
    output: str | os.PathLike[str],
    *,
    date: str = "",
    dataset: _core.Dataset | None = None,
) -> CaseAssessment:
    """Assess a case and write its report as one self-contained HTML file.

    `date` (YYYY-MM-DD) is printed in the report; without it, today's.
    The file is written whole or not at all; an older report is replaced, the case file and its logs
    never. Raises FileError for input that cannot be used and for an output that cannot be written,
    ImportError when Jinja2 or matplotlib is missing.
    """
    environment = _environment()
    date = date or datetime.date.today().isoformat()
    assessment = assess_case(case_file, date=date, dataset=dataset)
    _refuse_input_as_output(assessment, Path(output))
    _write_whole(Path(output), render_report(assessment, environment=environment))
    return assessment


def render_report(
    assessment: CaseAssessment,
    *,
    environment: Environment | None = None,
) -> str:
    """Return the report of an assessment as HTML text."""
    from .drawing.report_figures import case_figures, front_figures

    template = (environment or _environment()).get_template("report.html.j2")
    data = assessment.to_dict()
    figures = case_figures(assessment)
    return template.render(
        case=data,
        figures=figures,
        pictures=front_figures(assessment),
        marks=_marks(),
        places={section["id"]: str(place) for place, section in enumerate(data["sections"], 1)},
        verdict=_verdict(data),
        verdict_class=_verdict_class(data["verdict"]),
    )


def _environment() -> Environment:
    try:
        import jinja2
    except ImportError as problem:
        raise ImportError(_INSTALL.format("Jinja2")) from problem
    try:
        import matplotlib  # noqa: F401
    except ImportError as problem:
        raise ImportError(_INSTALL.format("matplotlib")) from problem
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("aeruca", "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )
    environment.filters["said"] = _said
    environment.filters["chance"] = _core.probability_text
    environment.globals["say"] = say
    environment.filters["formula"] = _formula
    environment.filters["breakable"] = _breakable
    environment.filters["data_uri"] = _data_uri
    return environment


def _marks() -> dict[str, tuple[str, str]]:
    """Sign and meaning of each tone of the front sheet, told apart without colour."""
    return {
        "calm": ("○", say("front.tone.calm")),
        "watch": ("◐", say("front.tone.watch")),
        "alarm": ("●", say("front.tone.alarm")),
        "open": ("?", say("front.tone.open")),
    }


# How our plain text is set in type: signs and charges, after the text has been escaped.
_SIGNS: list[tuple[str, str]] = [
    ("+/-", "±"),
    ("degrees C", "°C"),
    ("m2/s", "m²/s"),
    ("log10", "log<sub>10</sub>"),
]
# A formula with its charge or phase: CuCl2(-), Cu(OH)4(2-), CuCO3(aq).
_SPECIES = re.compile(
    r"\b((?:[A-Z][a-z]?\d*|\((?:[A-Z][a-z]?\d*)+\)\d*)+)\((?:(\d?)([+-])|(aq|g))\)"
)
# A neutral formula in an equation or a salt's name: O2, H2O, Cu2(OH)3Cl, MgCl2.6H2O. Of elements
# that stand alone only the gases, for C09 and K10 are names of figures.
_ELEMENT = r"(?:H|O|N|C|S|Cl|F|Br|Na|K|Mg|Ca|Cu|Zn|Pb|Sn|Ag|Fe)"
_UNIT = rf"(?:{_ELEMENT}|\((?:{_ELEMENT}(?:[2-9]|1\d)?)+\))(?:[2-9]|1\d)?"
_NEUTRAL = re.compile(
    rf"(?<![\w<>&;.])((?:{_UNIT}){{2,}}(?:\.(?:[2-9]|1\d)?H2O)?|[OHN]2)(?![\w(]|<su)"
)
_ELECTRON = re.compile(r"\be\(-\)")
_MINUS = re.compile(r"(?<![\w.)-])-(?=\d)")
_TIME = re.compile(r"\b(\d{4}-\d\d-\d\d)T(\d\d:\d\d):\d\d\b")
_POWER = re.compile(r"10\^(-?\d+(?:[.,]\d+)?)")
_EXPONENT = re.compile(r"\b(\d+(?:[.,]\d+)?)e([+-])0*(\d+)\b")


def _exponent(match: re.Match[str]) -> str:
    sign = "−" if match[2] == "-" else ""
    return f"{match[1]} × 10<sup>{sign}{match[3]}</sup>"


def _species(match: re.Match[str]) -> str:
    formula = re.sub(r"(?<=[A-Za-z)])(\d+)", r"<sub>\1</sub>", match[1])
    if match[4]:
        return f"{formula}({match[4]})"
    return f"{formula}<sup>{match[2]}{'−' if match[3] == '-' else '+'}</sup>"


def _said(text: str) -> Any:
    from markupsafe import Markup, escape

    markup = str(escape(_core.localised(text)))
    for plain, sign in _SIGNS:
        markup = markup.replace(plain, sign)
    markup = _SPECIES.sub(_species, markup)
    markup = _ELECTRON.sub("e<sup>−</sup>", markup)
    markup = _NEUTRAL.sub(lambda m: str(_formula(m[1])), markup)
    markup = _TIME.sub(r"\1 \2", markup)
    markup = _MINUS.sub("−", markup)
    markup = _POWER.sub(lambda m: f"10<sup>{m[1].replace('-', '−')}</sup>", markup)
    return Markup(_EXPONENT.sub(_exponent, markup))


def _formula(text: str) -> Any:
    from markupsafe import Markup, escape

    markup = re.sub(r"(?<=[A-Za-z)])(\d+)", r"<sub>\1</sub>", str(escape(text)))
    return Markup(re.sub(r"\.(?=\d*H)", "·", markup))


def _breakable(key: str) -> Any:
    """Let a long key be broken behind its dots and underscores."""
    from markupsafe import Markup, escape

    return Markup(re.sub(r"([._])", r"\1<wbr>", str(escape(key))))


def _data_uri(svg: str) -> str:
    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode("utf-8")).decode("ascii")


def _verdict(data: dict[str, Any]) -> Any:
    """Return the verdict in bold, of the conditions where the store record gave it."""
    from markupsafe import Markup, escape

    word = Markup("<strong>{}</strong>").format(say(f"verdict.{data['verdict'].replace(' ', '_')}"))
    if data["odds"]["dormant"] is None:
        return word
    return Markup(escape(say("page.verdict", verdict="\0")).replace("\0", word))


def _verdict_class(verdict: str) -> str:
    return verdict.replace(" ", "-")


def _refuse_input_as_output(assessment: CaseAssessment, output: Path) -> None:
    data = assessment.to_dict()
    beside = Path(data["case_file"]).parent
    for item in data["inputs"]:
        path = Path(item["path"])
        source = path if item["role"] == "case file" or path.is_absolute() else beside / path
        if output.exists() and source.exists() and output.samefile(source):
            raise _core.Error(
                f"{output}: is the {item['role']} of this case and is never overwritten; "
                "accepted is another file name"
            )


def _write_whole(output: Path, text: str) -> None:
    target = _target(output)
    fresh = target.with_name(f".aeruca-{secrets.token_hex(8)}.new")
    try:
        # Opened anew, so that the file gets the access rights the user's settings give new files.
        with fresh.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        os.replace(fresh, target)
    except BaseException as problem:
        fresh.unlink(missing_ok=True)
        if isinstance(problem, OSError):
            raise _unwritable(output) from problem
        raise


def _target(output: Path) -> Path:
    """Where a link leads; raises for what is there and is no file (a device, a pipe)."""
    try:
        target = output.resolve(strict=False)
        kind = target.stat().st_mode
    except FileNotFoundError:
        return target
    except (OSError, RuntimeError) as problem:  # RuntimeError: links in a circle
        raise _unwritable(output) from problem
    if stat.S_ISREG(kind):
        return target
    what = "a directory" if stat.S_ISDIR(kind) else "a pipe or a device"
    raise _core.Error(f"{output}: is {what}; accepted is a new file name, or an older report")


def _unwritable(output: Path) -> _core.Error:
    return _core.Error(f"{output}: cannot be written; a writable place is wanted")
