"""What each class experiment needs and shows, worked out by the library from its data set."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from .bath import bath_water, weigh_out
from .bath_decision import ChlorideStore, stores_series
from .brine import deliquescence, hydration_changes, mixture
from .dataset import default_dataset, molar_mass_g_per_mol
from .enclosure import forecast, outside
from .equilibrium import Equilibrium
from .path import coin_in_salt_water, pit_in_moist_air
from .stability import stable_at

if TYPE_CHECKING:
    from ._core import Dataset

__all__ = ["Worked", "work_out"]

Given = Mapping[str, Any]
_DAY_MIN = 1440.0
# Of damp absorbers, whose flakes are near the dihydrate: common practice, no source.
_FLAKES = "CaCl2.2H2O"


@dataclass
class Worked:
    """Amounts of one group (g or mL), what fills the slots of its sentences, and its waste."""

    amounts: dict[str, float] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    waste_ml: float = 0.0
    copper_mg: float | None = None
    temperature_c: float | None = None

    def weigh(self, name: str, amount: float) -> None:
        """Take an amount into the list of materials and into the sentences."""
        self.amounts[name] = amount
        self.words[name] = shown(amount)


def shown(value: float, digits: int = 2) -> str:
    """Return a number as it is weighed or read: `digits` significant ones, no exponent."""
    if value == 0:
        return "0"
    decimals = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, decimals)
    return f"{rounded:.{max(decimals, 0)}f}"


def work_out(notebook: str, given: Given, dataset: Dataset | None) -> Worked:
    """Return the figures of the experiment beside a notebook, for one group."""
    worked = _WORK[notebook](given, dataset or default_dataset())
    worked.temperature_c = given.get("temperature_c")
    return worked


def _coin_in_salt_water(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    dish_cm2 = math.pi / 4 * given["dish_cm"] ** 2
    exact = sum(0.1 * (mm + given["copper_mm"]) * dish_cm2 for mm in given["water_mm"])
    water_ml = 10.0 * math.ceil(exact / 10)
    worked.weigh("water_ml", water_ml)
    salt = dataset.salt("halite").molar_mass_g_per_mol * given["salt_mol_per_kg"]
    worked.weigh("salt_g", salt * water_ml / 1000)
    mg_per_cm2 = {}
    for mm in given["water_mm"]:
        coin = coin_in_salt_water(
            salt_mol_per_kg=given["salt_mol_per_kg"],
            days=given["days"],
            water_mm=mm,
            temperature_c=given["temperature_c"],
            dataset=dataset,
        )
        worked.words[f"nm_{mm}"] = shown(coin.cuprite_nm)
        # All oxygen that comes down makes Cu2O; mol of a square metre to mg of a square centimetre.
        metal_mol = 4 * coin.oxygen_mol_per_m2
        mg_per_cm2[mm] = 0.1 * metal_mol * molar_mass_g_per_mol("Cu")
        if mm == 5 and coin.rate.diffusion_min is not None:
            worked.words["minutes"] = shown(coin.rate.diffusion_min)
    worked.words["mg_per_cm2"] = shown(mg_per_cm2[5])
    worked.words["piece_mg"] = shown(given["copper_cm"] ** 2 * mg_per_cm2[5])
    worked.copper_mg = given["copper_cm"] ** 2 * sum(mg_per_cm2.values())
    worked.waste_ml = water_ml + given["cleaning_ml"]
    return worked


def _slurries(given: Given, dataset: Dataset, worked: Worked) -> tuple[float, float]:
    """Salts for a jar each, so that solid stays, and the humidities over them (g, g)."""
    kept, water_kg = given["excess"], given["slurry_ml"] / 1000
    table_salt = kept * water_kg * _soluble_g_per_kg("halite", given, dataset)
    held = deliquescence("antarcticite", given["temperature_c"], dataset=dataset).molality_measured
    # The flakes bring water, which takes up more of them.
    brought = 2 * molar_mass_g_per_mol("H2O") / 1000
    calcium = kept * water_kg * held / (1 - held * brought) * molar_mass_g_per_mol(_FLAKES)
    for name, salt in (("calcium_chloride", "antarcticite"), ("table_salt", "halite")):
        worked.words[f"rh_{name}"] = _rh(salt, given, dataset)
    worked.words["table_salt_slurry_g"] = shown(table_salt)
    worked.words["slurry_ml"] = shown(given["slurry_ml"])
    return table_salt, calcium


def _soluble_g_per_kg(salt: str, given: Given, dataset: Dataset) -> float:
    found = deliquescence(salt, given["temperature_c"], dataset=dataset)
    return float(found.molality_measured * dataset.salt(salt).molar_mass_g_per_mol)


def _rh(salt: str, given: Given, dataset: Dataset) -> str:
    found = deliquescence(salt, given["temperature_c"], dataset=dataset)
    apart = (abs(one.difference_percent) for one in found.measured)
    doubt = max([found.rh_uncertainty_percent, *apart])
    digits = 0 if doubt >= 1 else 1
    return f"{found.rh_percent:.{digits}f} +/- {doubt:.{digits}f}"


def _nantokite_in_moist_air(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    table_salt, calcium = _slurries(given, dataset, worked)
    worked.weigh("calcium_chloride_g", calcium)
    drop_g = given["salt_percent"] / 100 * given["drops_ml"]
    worked.words["drop_salt_g"], worked.words["drops_ml"] = shown(drop_g), shown(given["drops_ml"])
    worked.weigh("salt_g", table_salt + drop_g)
    worked.weigh("water_ml", 3 * given["slurry_ml"] + given["drops_ml"])
    band = dataset.onset_band(given["onset"])
    worked.words["band_low"] = f"{band.low_rh_percent:g}"
    worked.words["band_high"] = f"{band.high_rh_percent:g}"
    worked.words["oxygen_ug"] = shown(pit_in_moist_air(dataset=dataset).oxygen_ug_per_mg)
    # The jar of water, what is left of the drops, and what rinses the pieces.
    worked.waste_ml = given["slurry_ml"] + given["drops_ml"] + given["cleaning_ml"]
    return worked


def _which_salts_which_humidity(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    table_salt, calcium = _slurries(given, dataset, worked)
    pinches = 3 * given["pinch_g"]
    worked.words["calcium_chloride_slurry_g"] = shown(calcium)
    worked.words["pinch_g"] = shown(given["pinch_g"], 1)
    worked.weigh("pinches_g", pinches)
    worked.weigh("salt_g", table_salt + pinches)
    worked.weigh("calcium_chloride_g", calcium + pinches)
    worked.weigh("water_ml", 3 * given["slurry_ml"])
    worked.words["rh_epsom"] = _rh("epsomite", given, dataset)
    worked.words["rh_sylvite"] = _rh("sylvite", given, dataset)
    # How much there is of each does not move where the mixture begins.
    low_sodium = mixture(
        {"Na(+)": 0.5, "K(+)": 0.5, "Cl(-)": 1.0},
        rh_percent=[60.0, 70.0, 75.0, 80.0, 90.0],
        temperature_c=given["temperature_c"],
        dataset=dataset,
    )
    worked.words["rh_mixture"] = f"{low_sodium.mutual_deliquescence_rh_percent:.1f}"
    (loses,) = hydration_changes("epsomite", given["temperature_c"], dataset=dataset)
    worked.words["rh_hydration"] = f"{loses.rh_percent:.0f} +/- {loses.rh_uncertainty_percent:.0f}"
    return worked


def _hygrometer_check(given: Given, dataset: Dataset, worked: Worked) -> None:
    salt = given["excess"] * given["check_ml"] / 1000 * _soluble_g_per_kg("halite", given, dataset)
    worked.weigh("salt_g", salt)
    worked.weigh("water_ml", given["check_ml"])
    worked.words["check_ml"] = shown(given["check_ml"], 1)
    worked.words["rh_table_salt"] = _rh("halite", given, dataset)
    worked.waste_ml = given["check_ml"]


def _is_my_store_dry_enough(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    _hygrometer_check(given, dataset, worked)
    worked.words["start"] = f"{given['start_rh_percent']:g}"
    limit = dataset.onset_band(given["onset"]).low_rh_percent
    worked.words["limit"] = f"{limit:g}"
    worked.words["box_l"] = shown(given["box_l"], 1)
    worked.words["outside"] = f"{given['outside_rh_percent']:g}"
    room = outside(temperature_c=given["temperature_c"], rh_percent=given["outside_rh_percent"])
    for name, exchange in zip(("tight", "leaky"), given["exchange_per_day"], strict=True):
        days = forecast(
            room,
            volume_m3=given["box_l"] / 1000,
            exchange_per_day=exchange,
            start_rh_percent=given["start_rh_percent"],
            gel_kg=given["gel_g"] / 1000,
            limit_rh_percent=limit,
        ).days_to_limit
        worked.words[name] = f"{exchange:g}"
        worked.words[f"{name}_low"] = f"{days.low:.0f}"
        worked.words[f"{name}_high"] = f"{days.high:.0f}"
    return worked


def _salt_diffusion(dataset: Dataset) -> float:
    """Of sodium chloride in dilute water at 25 degrees C (m2/s): Nernst and Hartley."""
    sodium, chloride = (dataset.figure(f"conductivity-{ion}").value for ion in ("Na(+)", "Cl(-)"))
    gas, faraday, kelvin = 8.314462618, 96485.33212, 298.15  # CODATA 2018, exact
    return 2 * gas * kelvin / faraday**2 * 1e-4 * sodium * chloride / (sodium + chloride)


def _layer_ml(cup_cm: float, layer_mm: float) -> float:
    return math.pi / 4 * cup_cm**2 * layer_mm / 10


def _washed(
    layer_mm: float, layer_ml: float, bath_ml: float, minutes: Sequence[float], diffusion: float
) -> tuple[list[float], list[float]]:
    """Shares of the salt in each bath at its end and left inside."""
    tau = [diffusion * 60 * one / (layer_mm / 1000) ** 2 for one in minutes]
    series = stores_series([ChlorideStore()], tau, bath_ml / layer_ml)
    return [float(x) for x in series.in_bath], [float(x) for x in series.left]


def _does_changing_the_bath_help(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    layer_ml = _layer_ml(given["cup_cm"], given["layer_mm"])
    cast_ml = 10.0 * math.ceil(4 * layer_ml / 10)
    small, large = given["bath_ml"]
    count, minutes = given["changes"], given["minutes"]
    worked.weigh("agar_g", given["agar_percent"] / 100 * cast_ml)
    worked.weigh("salt_g", given["salt_percent"] / 100 * cast_ml)
    baths_ml = (1 + count) * (small + large)
    worked.weigh("water_ml", cast_ml + baths_ml)
    diffusion = _salt_diffusion(dataset)
    for name, bath_ml in (("small", small), ("large", large)):
        worked.words[f"{name}_ml"] = shown(bath_ml)
        for often, parts in (("one", 1), ("many", count)):
            baths = [minutes / parts] * parts
            left = _washed(given["layer_mm"], layer_ml, bath_ml, baths, diffusion)[1]
            worked.words[f"{name}_{often}"] = shown(100 * left[-1])
    worked.words |= {
        "cast_ml": shown(cast_ml),
        "layer_mm": shown(given["layer_mm"], 1),
        "minutes": shown(minutes),
        "part": shown(minutes / count),
        "load_mg": shown(10 * given["salt_percent"] * layer_ml),
        "diffusion": f"{1e9 * diffusion:.1f}",
    }
    worked.waste_ml = baths_ml
    return worked


def _when_may_i_stop(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    diffusion, bath_ml = _salt_diffusion(dataset), given["bath_ml"]
    minutes = [given["minutes"]] * given["baths"] + [60 * given["night_h"]]
    layers = zip(("thin", "thick"), given["layer_mm"], given["salt_percent"], strict=True)
    agar_ml = salt_g = 0.0
    for name, layer_mm, percent in layers:
        layer_ml = _layer_ml(given["cup_cm"], layer_mm)
        load_mg = 10 * percent * layer_ml
        out, left = _washed(layer_mm, layer_ml, bath_ml, minutes, diffusion)
        worked.words |= {
            f"{name}_ml": shown(layer_ml),
            f"{name}_mm": shown(layer_mm),
            f"{name}_percent": shown(percent, 1),
            f"{name}_first": shown(1000 * load_mg * out[0] / bath_ml),
            f"{name}_last": shown(1000 * load_mg * out[-2] / bath_ml),
            f"{name}_night": shown(1000 * load_mg * out[-1] / bath_ml),
            f"{name}_left": shown(100 * left[-2]),
            f"{name}_end": shown(100 * left[-1]),
            "load_mg": shown(load_mg),
        }
        agar_ml += layer_ml
        salt_g += load_mg / 1000
    worked.weigh("agar_g", given["agar_percent"] / 100 * agar_ml)
    worked.weigh("salt_g", salt_g)
    worked.waste_ml = 2 * bath_ml * len(minutes)
    worked.weigh("water_ml", agar_ml + worked.waste_ml)
    for name in ("agar_percent", "baths", "minutes", "bath_ml", "night_h"):
        worked.words[name] = f"{given[name]:g}"
    worked.words["diffusion"] = f"{1e9 * diffusion:.1f}"
    return worked


def _reading_a_diagram(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    glass_ml, salt = given["glass_ml"], given["salt_mol_per_kg"]
    glass_salt = dataset.salt("halite").molar_mass_g_per_mol * salt * glass_ml / 1000
    worked.weigh("salt_g", 3 * glass_salt)
    worked.weigh("vinegar_ml", given["vinegar_share"] * glass_ml)
    worked.weigh("water_ml", (3 - given["vinegar_share"]) * glass_ml)
    soda = weigh_out(
        given["soda_form"],
        salt="sodium carbonate",
        percent_w_v=given["soda_percent"],
        volume_l=glass_ml / 1000,
        dataset=dataset,
    )
    worked.weigh("soda_g", sum(one.grams for one in soda.reagents))
    worked.words["soda_trap"] = shown(_trap(given, dataset, soda.reagents[0].grams))
    acid_mol = 10 * given["vinegar_percent"] / molar_mass_g_per_mol("C2H4O2")
    system = Equilibrium(
        components=["CH3COO(-)", "Na(+)", "Cl(-)"], acidity="charge_balance", dataset=dataset
    )
    totals = {"CH3COO(-)": given["vinegar_share"] * acid_mol, "halite": salt}
    sour = system.solve(totals, eh_v=given["eh_v"])
    sour.raise_if_failed()
    alkaline = bath_water("sodium carbonate", soda.mol_per_l, dataset=dataset)
    alkaline.raise_if_failed()
    for name, ph in (
        ("acid", sour.ph),
        ("salt", given["salt_water_ph"]),
        ("soda", alkaline.ph),
    ):
        worked.words[f"ph_{name}"] = f"{ph:.1f}"
        form = stable_at(
            ph,
            given["eh_v"],
            log10_activity={"Cl(-)": math.log10(salt)},
            log10_copper=given["log10_copper"],
            dataset=dataset,
        )
        worked.words[f"form_{name}"] = (
            form.species if form.decided else f"{form.species} / {form.runner_up}"
        )
    worked.words |= {
        "glass_ml": shown(glass_ml),
        "glass_salt_g": shown(glass_salt),
        "vinegar_part_ml": worked.words["vinegar_ml"],
        "vinegar_percent": f"{given['vinegar_percent']:g}",
        "eh_v": f"{given['eh_v']:g}",
        "copper": f"{10.0 ** given['log10_copper']:g}",
    }
    worked.waste_ml = 3 * glass_ml + given["cleaning_ml"]
    return worked


def _trap(given: Given, dataset: Dataset, grams: float) -> float:
    """How many times too strong the bath is when the other form is weighed by these grams."""
    other = weigh_out(
        given["soda_other_form"],
        salt="sodium carbonate",
        percent_w_v=given["soda_percent"],
        volume_l=given["glass_ml"] / 1000,
        dataset=dataset,
    )
    return float(grams / other.reagents[0].grams)


def _collection(given: Given, dataset: Dataset) -> Worked:
    worked = Worked()
    _hygrometer_check(given, dataset, worked)
    return worked


def _demo_case(given: Given, dataset: Dataset) -> Worked:
    return Worked()


_WORK: dict[str, Callable[[Given, Dataset], Worked]] = {
    "coin_in_salt_water": _coin_in_salt_water,
    "nantokite_in_moist_air": _nantokite_in_moist_air,
    "which_salts_which_humidity": _which_salts_which_humidity,
    "is_my_store_dry_enough": _is_my_store_dry_enough,
    "does_changing_the_bath_help": _does_changing_the_bath_help,
    "when_may_i_stop": _when_may_i_stop,
    "reading_a_diagram": _reading_a_diagram,
    "collection": _collection,
    "demo_case": _demo_case,
}
