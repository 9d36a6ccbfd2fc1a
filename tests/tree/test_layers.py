"""The layer table of DEVELOPERS.md: arrows go down only, third parties stop at a boundary."""

import re
from pathlib import Path

import pytest

# Part -> what its sources may include besides itself: lower parts, and the named exceptions.
BASE = {"base"}
LOWER = BASE | {"numerics"}
GROUND = LOWER | {"water", "dataset", "uncertainty"}
CHEMISTRY = GROUND | {"activity", "equilibrium", "brine", "analysis"}
ALLOWED = {
    "base": set(),
    "numerics": BASE,
    "water": LOWER,
    "dataset": LOWER,
    "uncertainty": LOWER | {"dataset"},
    "activity": GROUND,
    "equilibrium": GROUND | {"activity"},
    "brine": GROUND | {"activity", "equilibrium"},
    "analysis": GROUND | {"activity", "equilibrium"},
    "stability": CHEMISTRY,
    "path": CHEMISTRY,
    "store": CHEMISTRY,
    "bath": CHEMISTRY | {"path"},
    "minerals": CHEMISTRY,
}
ALLOWED["casefile"] = set(ALLOWED)
ALLOWED["render"] = set(ALLOWED)
ALLOWED["cli"] = set(ALLOWED)

# Public header -> the part it belongs to, where the name does not say it.
HEADER_PART = {
    "errors": "base",
    "front_sheet": "casefile",
    "finds_sample": "uncertainty",
    "constants": "base",
    "not_given": "base",
    "provenance": "base",
    "version": "base",
    "words": "base",
    "equilibrium_rows": "equilibrium",
    "mineral_records": "dataset",
    "mixture": "brine",
    "hydration": "brine",
    "salt_analysis": "analysis",
    "enclosure": "store",
    "line_numbers": "store",
    "review": "store",
    "logger": "store",
    "logger_files": "store",
    "collection": "store",
    "many_loggers": "store",
    "crystallisation": "brine",
    "nantokite": "brine",
    "sensor_check": "store",
    "totals_fields": "stability",
    "two_loggers": "store",
    "bath_chemistry": "bath",
    "bath_fit": "bath",
    "bath_forecast": "bath",
    "bath_log": "bath",
    "bath_bodies": "bath",
    "bath_course": "bath",
    "bath_decision": "bath",
    "bath_meter": "bath",
    "bath_plan": "bath",
    "bath_posterior": "bath",
    "bath_recipe": "bath",
    "bath_rinse": "bath",
    "log_against_bath": "bath",
    "bath_schedule": "bath",
    "weigh_out": "bath",
    "assessment": "casefile",
    "case_collection": "casefile",
    "ranges": "analysis",
    "ready_paths": "path",
    "speciation": "analysis",
}

# Third-party include prefix -> parts whose sources may use it.
THIRD_PARTY = {
    "Eigen/": {"numerics", "activity", "equilibrium", "bath"},
    "boost/": {
        "numerics",
        "water",
        "uncertainty",
        "activity",
        "equilibrium",
        "brine",
        "stability",
        "store",
        "bath",
    },
    "toml++/": {"dataset", "casefile"},
    "nlohmann/": {"dataset", "casefile", "render", "cli"},
    "CLI/": {"cli"},
    "pybind11/": set(),
}

INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]', re.MULTILINE)


def part_of_header(name: str) -> str:
    """Part of a public header, by its file name without ending."""
    return HEADER_PART.get(name, name)


def files(root: Path) -> list[tuple[str, Path]]:
    """Every (part, file) of the core."""
    found = [(part_of_header(f.stem), f) for f in sorted((root / "include/aeruca").glob("*.hpp"))]
    for part in ALLOWED:
        for pattern in ("*.hpp", "*.cpp"):
            found += [(part, f) for f in sorted((root / "src" / part).rglob(pattern))]
    return found


def included_part(include: str) -> str | None:
    """Part an include line reaches, or None for system and third-party headers."""
    if include.startswith("aeruca/"):
        return part_of_header(Path(include).stem)
    head = include.split("/")[0]
    return head if head in ALLOWED and "/" in include else None


def test_every_public_header_belongs_to_a_known_part(root: Path) -> None:
    unknown = [f.name for part, f in files(root) if part not in ALLOWED]
    assert not unknown


def slips(part: str, text: str) -> list[str]:
    """Include lines of a source of `part` that the table forbids."""
    wrong = []
    for include in re.findall(r'^\s*#\s*include\s*"([^"]+)"', text, re.MULTILINE):
        if "/" not in include or include.startswith("."):
            wrong.append(f"{include} (write it from src/ or as aeruca/...)")
    for include in INCLUDE.findall(text):
        reached = included_part(include)
        if reached and reached != part and reached not in ALLOWED[part]:
            wrong.append(f"{include} ({reached})")
    return wrong


def test_includes_go_down_only(root: Path) -> None:
    wrong = [
        f"{file.relative_to(root)} ({part}) includes {slip}"
        for part, file in files(root)
        for slip in slips(part, file.read_text(encoding="utf-8"))
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(
    ("part", "line"),
    [
        ("water", '#include "aeruca/equilibrium.hpp"'),
        ("bath", '#include "stability/line.hpp"'),
        ("store", "#include <aeruca/bath.hpp>"),
        ("casefile", "#include <aeruca/render.hpp>"),
        ("brine", "#include <aeruca/analysis.hpp>"),
        ("base", '#include "../bath/modes.hpp"'),
        ("base", '#include "text.hpp"'),
    ],
)
def test_a_line_that_breaks_the_table_is_seen(part: str, line: str) -> None:
    assert slips(part, line)


def test_third_party_types_stop_at_their_boundary(root: Path) -> None:
    wrong = []
    for part, file in files(root):
        for include in INCLUDE.findall(file.read_text(encoding="utf-8")):
            for prefix, parts in THIRD_PARTY.items():
                public = file.is_relative_to(root / "include")
                if include.startswith(prefix) and (part not in parts or public):
                    wrong.append(f"{file.relative_to(root)} includes {include}")
    assert not wrong, "\n".join(wrong)


def test_the_core_never_prints_or_exits(root: Path) -> None:
    forbidden = re.compile(
        r"std::(cout|cerr|clog|exit|abort|quick_exit|terminate)\b|\b(f?printf|f?puts)\s*\("
    )
    wrong = []
    for _, file in files(root):
        if file.name == "main.cpp":
            continue
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
            code = line.split("//")[0]
            if forbidden.search(code) and "snprintf" not in code:
                wrong.append(f"{file.relative_to(root)}:{number}: {line.strip()}")
    assert not wrong, "\n".join(wrong)


def test_no_two_parts_define_a_type_of_one_name(root: Path) -> None:
    # All private types share one namespace: of two of one name the linker picks either.
    # (Specialisations of one template are types of their own.)
    defined: dict[str, list[str]] = {}
    for file in sorted((root / "src").rglob("*.hpp")):
        for name in re.findall(
            r"^(?:struct|class) (\w+)\b(?!<)[^;\n]*\{", file.read_text(), re.MULTILINE
        ):
            defined.setdefault(name, []).append(str(file.relative_to(root)))
    assert not {name: places for name, places in defined.items() if len(places) > 1}


@pytest.mark.parametrize("name", ["pybind11"])
def test_bindings_include_pybind_in_one_place(root: Path, name: str) -> None:
    users = {
        file.name
        for file in (root / "python/bindings").glob("*.?pp")
        if any(i.startswith(f"{name}/") for i in INCLUDE.findall(file.read_text(encoding="utf-8")))
    }
    assert users == {"pybind.hpp"}
