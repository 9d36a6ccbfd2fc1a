"""The fields of the form, made from the JSON Schema of a case file: a new key is a new field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from .. import _core
from ..analysis import reference_electrodes
from ..bath import bath_salts, shelf_forms
from ..enclosure import gel_isotherms
from ..minerals import field_tests

Schema = Mapping[str, Any]
Choices = list[tuple[str, str]]  # what is written into the case, what is shown

# Ions that a water of every laboratory has; any other goes into the lines of `IONS`.
COMMON_IONS = (
    "chloride",
    "bicarbonate",
    "sulfate",
    "nitrate",
    "sodium",
    "potassium",
    "calcium",
    "magnesium",
    "copper",
)
IONS = "other_ions"
# What a person writes -> the end of the key.
ION_UNITS = {
    "mg/L as CaCO3": "mg_per_l_as_caco3",
    "mg/L": "mg_per_l",
    "ug/L": "ug_per_l",
    "mmol/L": "mmol_per_l",
    "mg/kg": "mg_per_kg",
    "mmol/kg": "mmol_per_kg",
    "mol/kg": "mol_per_kg",
}

# Asked of everybody; the rest of a part opens under "more".
_FIRST = {
    "object": {"name", "material", "mass_g", "silver_nitrate_test", "features", "notes"},
    "observation": {"date", "kind", "text"},
    "water": {"name", "temperature_c", "ph", "eh_mv", "reference_electrode", "aerated"},
    "store": {"name", "log", "onset", "sensor_accuracy_rh_percent", "object_cooler_by_k", "salts"},
    "store.sensor_check": {"salt", "temperature_c", "reading_rh_percent"},
    "store.enclosure": {
        "volume_m3",
        "exchange_per_day",
        "gel_kg",
        "outside_rh_percent",
        "temperature_c",
        "start_rh_percent",
        "started",
        "limit_rh_percent",
    },
    "bath": {
        "log",
        "shape",
        "load",
        "layer_thickness_mm",
        "stop_mg_per_l",
        "target_left_mg_per_g",
        "next_volume_l",
        "next_days",
        "chloride_method",
    },
    "bath.solution": {
        "salt",
        "strength_percent_w_v",
        "on_the_shelf",
        "volume_l",
        "temperature_c",
        "water_chloride_mg_per_l",
    },
    "pit": {"chloride_activity", "copper_activity"},
}
_LONG = {"object.notes", "observation.text"}


@dataclass(frozen=True)
class Field:
    """One key of a case file as a field; `path` has no numbers of blocks ("water.ph")."""

    path: str
    kind: str  # text long number numbers reading choice date flag many list file files seen ions
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    first: bool = True

    @property
    def key(self) -> str:
        """The key within its part."""
        return self.path.rpartition(".")[2]


@dataclass(frozen=True)
class Part:
    """One table of a case file; `several` where there may be more than one."""

    path: str
    several: bool
    fields: tuple[Field, ...]


def parts_of(schema: Schema) -> list[Part]:
    """Return the parts of the form in the order of the schema, tables below a table after it."""
    return list(_parts(schema, "", schema, several=False))


def _parts(table: Schema, path: str, schema: Schema, *, several: bool) -> Iterator[Part]:
    fields: list[Field] = []
    below: list[tuple[str, Schema, bool]] = []
    for key, given in table["properties"].items():
        shape, repeats = _shape(given, schema)
        name = f"{path}.{key}" if path else key
        if "properties" in shape:
            below.append((name, shape, repeats))
        elif name != "schema":
            fields.append(_field(name, shape, schema))
    if "patternProperties" in table:
        amount = next(iter(table["patternProperties"].values()))
        fields += [
            _field(f"{path}.{ion}_{ION_UNITS['mg/L']}", amount, schema) for ion in COMMON_IONS
        ]
        fields.append(Field(f"{path}.{IONS}", "ions"))
    yield Part(path, several, tuple(fields))
    for name, shape, repeats in below:
        yield from _parts(shape, name, schema, several=repeats)


def _shape(given: Schema, schema: Schema) -> tuple[Schema, bool]:
    """Return the form of a value, and whether it is one of several tables."""
    if "$ref" in given and given["$ref"] != "#/$defs/reading":
        return schema["$defs"][given["$ref"].rpartition("/")[2]], False
    if "oneOf" in given:  # a table, or several
        return _shape(given["oneOf"][0], schema)[0], True
    items = given.get("items", {})
    if "properties" in items:
        return items, True
    return given, False


def _field(path: str, shape: Schema, schema: Schema) -> Field:
    kind, low, high = _kind(path, shape), shape.get("minimum"), shape.get("maximum")
    if kind == "reading":
        amount = schema["$defs"]["reading"]["oneOf"][0]
        low, high = amount["minimum"], amount["maximum"]
    if kind == "numbers":
        low, high = shape["items"].get("minimum"), shape["items"].get("maximum")
    words = shape.get("enum") or shape.get("items", {}).get("enum") or ()
    part, _, key = path.rpartition(".")
    first = not part or key in _FIRST.get(part, {key}) or kind == "reading"
    return Field(path, kind, low, high, tuple(word for word in words if word), first)


def _kind(path: str, shape: Schema) -> str:
    if shape.get("$ref") == "#/$defs/reading":
        return "reading"
    if shape.get("format") == "path":
        return "file" if shape["type"] == "string" else "files"
    if "enum" in shape:
        return "choice"
    if "pattern" in shape:
        return "date"
    if path == "observation.seen":
        return "seen"
    if shape["type"] == "array":
        items = shape["items"]
        return "many" if "enum" in items else {"number": "numbers", "string": "list"}[items["type"]]
    if shape["type"] == "string":
        return "long" if path in _LONG else "text"
    return {"number": "number", "boolean": "flag"}[shape["type"]]


def suggestions(dataset: _core.Dataset | None) -> dict[str, Choices]:
    """Return what may be chosen where the data set knows the words, by path of the field."""
    salts = bath_salts(dataset)
    forms = {form: form for salt in salts for form in shelf_forms(salt, dataset)}
    data = dataset or _core.default_dataset()
    return {
        "store.onset": [(band.id, _shown_band(band)) for band in data.onset_bands],
        "store.enclosure.gel": [(gel.id, gel.title) for gel in gel_isotherms()],
        "water.reference_electrode": [
            (name, data.figure(name).subject) for name in reference_electrodes(dataset)
        ],
        "bath.solution.salt": [(salt, salt) for salt in salts],
        "bath.solution.on_the_shelf": list(forms.items()),
    }


def _shown_band(band: Any) -> str:
    low, high = f"{band.low_rh_percent:g}", f"{band.high_rh_percent:g}"
    return f"{low} % RH, {band.title}" if low == high else f"{low} to {high} % RH, {band.title}"


def grain_tests(dataset: _core.Dataset | None) -> list[tuple[str, str, list[str]]]:
    """Return id, question and outcomes of the field tests on one lifted grain."""
    return [(one.id, one.question, list(one.outcomes)) for one in field_tests(dataset)]
