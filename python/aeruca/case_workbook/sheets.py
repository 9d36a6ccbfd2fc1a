"""Which cell of a workbook is which key of a case file: labels, units, examples, remarks.

Every key of the case file's schema stands here once; what it accepts stands in the schema alone.
"""

from __future__ import annotations

from typing import NamedTuple


class Line(NamedTuple):
    """A label of a sheet, or a heading of a table, and the key it stands for.

    ``[]`` in a key marks a section that may be repeated: a column of its own for each water, a row
    for each thing seen. An empty key is an ion, whose key follows from label and unit.
    """

    key: str
    label: str
    unit: str = ""
    example: str | float = ""
    note: str = ""
    rows: int = 1


class Sheet(NamedTuple):
    """A sheet: its name, what it is for, and its lines; a text among them heads a group."""

    name: str
    purpose: str
    lines: tuple[Line | str, ...]
    values: tuple[str, ...] = ("value",)


_REPEAT = "one in each cell; add rows of the same label for more"
_BESIDE = "name of a file beside this workbook"

OBJECT = Sheet(
    "object",
    "The object. Fill in what is known, leave the rest empty.",
    (
        Line("schema", "form of this workbook", note="leave as it is"),
        Line("invented", "invented", example="no", note="yes: made up for teaching"),
        "The object",
        Line("object.name", "name", example="bowl 17"),
        Line("object.material", "material", example="cast bronze", note="the alloy in words"),
        Line("object.mass_g", "mass", "g", 184.5, "without it nothing is said per gram"),
        Line(
            "object.features",
            "feature",
            example="old coating",
            note="one in each cell; some end at: ask a conservator",
            rows=4,
        ),
        Line(
            "object.silver_nitrate_test",
            "silver nitrate test",
            example="positive",
            note="of a few lifted grains",
        ),
        Line("object.notes", "notes", example="found in 2019, cleaned dry"),
        "The liquid in a pit below the corrosion, for the second diagram",
        Line(
            "pit.chloride_activity",
            "chloride in the pit",
            "activity",
            1,
            "about mol per kg of water; without a figure 1",
        ),
        Line(
            "pit.copper_activity",
            "copper in the pit",
            "activity",
            0.1,
            "the same, of each dissolved form; without a figure 0.1",
        ),
    ),
)

SEEN = Sheet(
    "what was seen",
    "What was seen, one row for each day. The row marked example is left out.",
    (
        Line("observation[].date", "date", example="2026-03-04", note="year-month-day"),
        Line("observation[].kind", "kind", example="pale green powder"),
        Line("observation[].text", "in words", example="three raised spots on the rim"),
        Line("observation[].seen", "on a grain", example="colour=pale-green"),
        Line("observation[].seen", "on a grain", example="powdery"),
        Line("observation[].seen", "on a grain"),
        Line("observation[].seen", "on a grain"),
    ),
)

ION_UNITS = {
    "mg/L": "mg_per_l",
    "ug/L": "ug_per_l",
    "mmol/L": "mmol_per_l",
    "mg/kg": "mg_per_kg",
    "mmol/kg": "mmol_per_kg",
    "mol/kg": "mol_per_kg",
    "mg/L as CaCO3": "mg_per_l_as_caco3",
}

WATERS = Sheet(
    "waters",
    "Waters the object lay in, a column for each. A reading may be 640, 640 +/- 30, or < 5.",
    (
        Line("water[].name", "name", example="burial water"),
        Line("water[].temperature_c", "temperature", "°C", 12, "without a figure 25"),
        Line("water[].ph", "pH", example="6.4 +/- 0.1"),
        Line("water[].eh_mv", "Eh", "mV", 210, "as read"),
        Line(
            "water[].reference_electrode",
            "reference electrode",
            example="ag-agcl-3m",
            note="leave empty when Eh is already against the hydrogen electrode",
        ),
        Line("water[].eh_uncertainty_mv", "uncertainty of Eh", "mV", 20),
        Line("water[].aerated", "open to air", example="no", note="yes in place of Eh"),
        Line(
            "water[].carbon_dioxide_bar",
            "carbon dioxide",
            "bar",
            note="where soil gas or air holds it: it decides the carbonate",
        ),
        Line("water[].density_kg_per_l", "density", "kg/L", note="without a figure, of water"),
        Line(
            "water[].conductivity_us_per_cm",
            "conductivity",
            "uS/cm",
            2600,
            "at 25 °C; compared with the ions found",
        ),
        Line(
            "water[].charge_assigned_to",
            "charge assigned to",
            note="ion that closes the balance of charges",
        ),
        "Ions; change the unit where the laboratory has another, and add rows for other ions",
        Line("", "chloride", "mg/L", "640 +/- 30"),
        Line("", "bicarbonate", "mg/L", 310, "or alkalinity"),
        Line("", "alkalinity", "mg/L as CaCO3"),
        Line("", "sulfate", "mg/L", 95),
        Line("", "nitrate", "mg/L", "< 2"),
        Line("", "sodium", "mg/L", 405),
        Line("", "potassium", "mg/L", 14),
        Line("", "calcium", "mg/L", 88),
        Line("", "magnesium", "mg/L", 41),
        Line("", "copper", "mg/L", 0.3),
        Line("", "ammonium", "mmol/L", 0.1),
    ),
    ("water 1", "water 2", "water 3"),
)

STORE = Sheet(
    "store",
    "Where the object is kept, and the record of a logger there.",
    (
        Line("store.name", "name", example="dry box 3"),
        "The record",
        Line(
            "store.log",
            "record",
            example="store-log.csv",
            note=f"{_BESIDE}, a folder, or a pattern such as logs/*.csv",
            rows=2,
        ),
        Line(
            "store.sheet",
            "sheet",
            example="room 3",
            note="where the record is a workbook; without a record, a further sheet of this one",
        ),
        Line("store.time_column", "time column", note="where the record has several"),
        Line("store.clock_column", "clock column", note="where date and time stand apart"),
        Line("store.temperature_column", "temperature column"),
        Line("store.rh_column", "humidity column", example="RH box"),
        Line("store.dew_point_column", "dew point column", note="in place of the humidity"),
        Line("store.absolute_humidity_column", "absolute humidity column", note="likewise"),
        Line(
            "store.date_order",
            "date order",
            example="day_first",
            note="where 03/04/2024 is 3 April",
        ),
        Line("store.rh_unit", "humidity unit"),
        Line("store.temperature_unit", "temperature unit"),
        Line("store.future_times", "future times", note="accept: times after today are meant"),
        "The sensor",
        Line(
            "store.sensor_accuracy_rh_percent",
            "accuracy",
            "% RH",
            3,
            "plus or minus, from its certificate",
        ),
        Line("store.sensor_drift_rh_percent_per_year", "drift", "% RH a year", 1),
        Line(
            "store.sensor_calibrated",
            "calibrated",
            example="2026-03-01",
            note="goes with the drift",
        ),
        Line(
            "store.sensor_check[].salt",
            "salt in the jar",
            example="bischofite",
            note="what it read over a saturated salt; repeat the three rows for more jars",
        ),
        Line("store.sensor_check[].temperature_c", "temperature of the jar", "°C", 21),
        Line("store.sensor_check[].reading_rh_percent", "reading in the jar", "% RH", 34.2),
        Line("store.beside", "second logger", example="second-log.csv", note=_BESIDE),
        Line("store.beside_accuracy_rh_percent", "accuracy of the second logger", "% RH", 2),
        "The object in it",
        Line("store.object_cooler_by_k", "object colder than the air by", "K", 1),
        Line("store.onset", "humidity limit", example="scott-1990", note="a published one"),
        Line(
            "store.salts",
            "salt found",
            example="halite",
            note=f"mineral or formula; {_REPEAT}",
            rows=3,
        ),
        Line(
            "store.salt_analysis",
            "salt analysis",
            example="salts.csv",
            note=f"{_BESIDE}: ion,amount such as chloride,535 mg/kg",
        ),
        "The box, bag or case it is kept in",
        Line("store.enclosure.volume_m3", "volume", "m3", 0.05, "of air"),
        Line("store.enclosure.exchange_per_day", "air exchange", "1/day", 0.5, "or a decay test"),
        Line(
            "store.enclosure.exchange_uncertainty_percent", "uncertainty of the exchange", "%", 20
        ),
        Line(
            "store.enclosure.decay_test",
            "decay test",
            example="decay.csv",
            note=f"{_BESIDE}: hours, readings of a tracer",
        ),
        Line("store.enclosure.decay_background", "tracer outside", "as in the test", 420),
        Line("store.enclosure.gel_kg", "silica gel", "kg", 0.4, "dry"),
        Line("store.enclosure.gel", "kind of gel", example="thu-2013", note="if it is known"),
        Line(
            "store.enclosure.contents_g_per_rh",
            "water that the contents take up",
            "g for 1 % RH",
            1.5,
            "wood, card or cloth; or their dry mass with moisture at humidities",
        ),
        Line("store.enclosure.contents_kg", "dry mass of the contents", "kg", 2),
        Line(
            "store.enclosure.contents_rh_percent",
            "humidity of a point",
            "% RH",
            40,
            "repeat for more points, in the order of the moistures",
            2,
        ),
        Line("store.enclosure.contents_moisture_percent", "moisture there", "% of dry", 7.5, "", 2),
        Line("store.enclosure.outside_log", "record outside", example="room.csv", note=_BESIDE),
        Line("store.enclosure.outside_rh_percent", "humidity outside", "% RH", 55, "or the record"),
        Line("store.enclosure.temperature_c", "temperature outside", "°C", 18),
        Line("store.enclosure.inside_temperature_c", "temperature inside", "°C", 20),
        Line("store.enclosure.start_rh_percent", "humidity at the start", "% RH", 8),
        Line("store.enclosure.started", "start", example="2026-05-12", note="year-month-day"),
        Line("store.enclosure.limit_rh_percent", "limit inside", "% RH", 40, "or the set-point"),
        Line("store.enclosure.visit_days", "between two visits", "days", 365),
    ),
)

WASHING = Sheet(
    "washing",
    "How the baths are to be read, and what they are made of.",
    (
        Line(
            "bath.log",
            "bath log",
            example="bath-log.csv",
            note=f"{_BESIDE}, in place of the sheet baths",
        ),
        Line("bath.shape", "shape", example="slab", note="of the corroded layer"),
        Line("bath.layer_thickness_mm", "layer thickness", "mm", 0.8, "or radius of a rod or ball"),
        Line(
            "bath.load", "chloride lies", example="uniform", note="through the layer, or at-metal"
        ),
        Line("bath.stop_mg_per_l", "stop at", "mg/L", 5, "of the house rule"),
        Line("bath.target_left_mg_per_g", "chloride that may stay", "mg/g", 0.4),
        Line("bath.next_volume_l", "volume of the next bath", "L", 2),
        Line("bath.next_days", "days of the next bath", "days", 28),
        Line("bath.chloride_method", "chloride method", example="silver titration"),
        Line(
            "bath.reading_error_percent", "error of a reading", "%", 5, "where the baths say none"
        ),
        Line("bath.volume_error_percent", "error of a volume", "%", 2),
        "What the bath is made of",
        Line(
            "bath.solution.salt",
            "salt",
            example="sodium sesquicarbonate",
            note="empty for water alone",
        ),
        Line("bath.solution.strength_percent_w_v", "strength", "% w/v", 1, "g in 100 mL of bath"),
        Line("bath.solution.on_the_shelf", "on the shelf", example="decahydrate"),
        Line("bath.solution.purity_percent", "purity", "%", 99.5),
        Line("bath.solution.salt_chloride_percent", "chloride in the salt", "% by mass", 0.002),
        Line("bath.solution.water_chloride_mg_per_l", "chloride in the water", "mg/L", 0.1),
        Line("bath.solution.volume_l", "volume of a filling", "L", 2),
        Line("bath.solution.temperature_c", "temperature", "°C", 20),
    ),
)

# The keys are those of columns of a bath log.
BATHS = Sheet(
    "baths",
    "The baths, one row for each, in order of time. The row marked example is left out.",
    (
        Line("start", "start", example="2026-01-12", note="date, or date and time"),
        Line("end", "end", example="2026-01-19"),
        Line("read_on", "read on", note="of a bath still running, in place of its end"),
        Line("volume_l", "volume (L)", example=1.0),
        Line(
            "chloride_mg_per_l",
            "chloride (mg/L)",
            example=37.6,
            note="also < 5, n.d., 30 to 60, > 300, ~37; empty: not measured",
        ),
        Line("error_mg_per_l", "error (mg/L)", example=1.4, note="standard"),
        Line("detection_limit_mg_per_l", "detection limit (mg/L)", example=2.5),
        Line("blank_mg_per_l", "blank (mg/L)", example=0.35, note="chloride of the fresh bath"),
        Line("dilution", "dilution", note="the sample was diluted this many times"),
        Line("temperature_c", "temperature (°C)", example=20),
        Line("method", "method", example="silver titration"),
        Line("note", "note", example="first bath"),
    ),
)

SHEETS = (OBJECT, SEEN, WATERS, STORE, WASHING, BATHS)
TABLES = (SEEN, BATHS)  # headings across; the others have labels down
LISTS = "lists"  # hidden: what the drop-down lists show

LABEL, UNIT, EXAMPLE, NOTE, NUMBER = "what", "unit", "example", "note", "no."
