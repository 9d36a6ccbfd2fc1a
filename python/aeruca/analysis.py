"""From what a laboratory writes to the water at equilibrium.

In a script::

    from aeruca.analysis import solve_analysis

    water = solve_analysis(
        {"chloride": "640 +/- 30 mg/L", "sodium": "405 mg/L", "copper": "< 0.05 mg/L"},
        alkalinity="310 mg/L", ph="6.4 +/- 0.1", potential_mv=85, reference_electrode="ag-agcl-3m")
    print(water)                       # as ``aeruca speciate`` prints it
    water.shares_percent["copper"]     # each form, percent of the copper
    water.needs["nantokite"]           # factor on each ingredient that would let it form

The same analysis has the same answer in a case file and on the command line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from . import _core, checks
from .choices import Acidity, ActivityModel, MissingEnthalpy, Precipitation
from .display import html_table, species_html
from .equilibrium import EquilibriumResult
from .ranges import WaterRanges, drawn

__all__ = ["SolvedWater", "amount_units", "ion_words", "reference_electrodes", "solve_analysis"]


class SolvedWater:
    """A water at equilibrium that answers its analysis; amounts are mol per kg water."""

    def __init__(self, core: _core.Speciation, dataset: _core.Dataset | None) -> None:
        self._core = core
        self._dataset = dataset
        self.result = EquilibriumResult(core.result)
        """The water: species, saturation indices, pH, Eh, warnings, certificate."""

    @property
    def totals_mol_per_kg(self) -> dict[str, float]:
        """What was dissolved, by ingredient; the carbonate as the titration asks for it."""
        return self._core.totals_mol_per_kg

    @property
    def charge(self) -> _core.ChargeBalance:
        """Cations, anions (equivalents per kg), the error in percent, and what was assigned."""
        return self._core.charge

    @property
    def alkalinity_mol_per_kg(self) -> float:
        """Equivalents of acid to the end point where carbonate is CO2(aq)."""
        return self._core.alkalinity_mol_per_kg

    @property
    def conductivity_us_per_cm(self) -> float:
        """Of the ions found, at 25 degrees C; NaN above an ionic strength of 1 mol/kg."""
        return self._core.conductivity.us_per_cm

    @property
    def index_uncertainty(self) -> dict[str, float]:
        """One standard uncertainty of each index: readings and constants, shared figures once."""
        return self._core.index_uncertainty

    @property
    def elements(self) -> list[_core.ElementShares]:
        """Where each element is: amounts, shares and activities of its forms; copper first."""
        return self._core.elements

    @property
    def solids(self) -> list[_core.SolidNeed]:
        """Every solid with its index and what it would need to form, largest index first."""
        return self._core.solids

    def describe(self) -> str:
        """Return every figure with its unit and meaning, as text."""
        return self._core.describe()

    def to_csv(self, list: str) -> str:
        """Return a list of this water, "elements" or "solids", as CSV text."""
        return self._core.to_csv(list)

    @property
    def shares_percent(self) -> dict[str, dict[str, float]]:
        """Percent of each element in each of its forms, solids included; copper first."""
        return self._core.shares_percent()

    @property
    def needs(self) -> dict[str, dict[str, float]]:
        """Of each solid below saturation: by how much an ingredient alone would have to rise."""
        return self._core.needs()

    @property
    def assumed(self) -> list[str]:
        """What had to be assumed, and which readings agree."""
        return self._core.assumed

    @property
    def not_given(self) -> list[str]:
        """Major ions that were not given, taken as absent."""
        return self._core.not_given

    @property
    def below_limit(self) -> list[str]:
        """Ions below their detection limit, taken as absent."""
        return self._core.below_limit

    @property
    def at_limit(self) -> list[str]:
        """Ions below their detection limit and taken at it: their indices are "at most"."""
        return self._core.at_limit

    @property
    def set_aside(self) -> list[str]:
        """Ions left out because their form hangs on a potential that was not given."""
        return self._core.set_aside

    def ranges(self, draws: int = 1000, *, seed: int = 1, threads: int = 0) -> WaterRanges:
        """Return how far the constants let this water be known, from draws of them.

        ``draws``: 100 to 100 000, of each of two spreads. The same ``seed`` gives the same ranges
        on any number of ``threads`` (0: all there are). Of a water without an answer, the reason.
        """
        core = _core.ranges_of_analysis(self._dataset, self._core, *drawn(draws, seed, threads))
        return WaterRanges(core, self._core, self._dataset)

    def raise_if_failed(self) -> None:
        """Raise Error unless converged and certified."""
        self.result.raise_if_failed()

    def __str__(self) -> str:
        return self._core.text(self._dataset)

    def __repr__(self) -> str:
        return f"SolvedWater({self.result!r})"

    def _repr_html_(self) -> str:
        rows = [
            [element, species_html(form), f"{percent:.1f} %"]
            for element, forms in self.shares_percent.items()
            for form, percent in forms.items()
            if percent >= 0.1
        ]
        return html_table(["element", "form", "share"], rows, repr(self))


def reference_electrodes(dataset: _core.Dataset | None = None) -> list[str]:
    """Ids of the reference electrodes that ``solve_analysis`` takes."""
    return _core.reference_electrodes(checks.dataset(dataset))


def ion_words(dataset: _core.Dataset | None = None) -> list[str]:
    """Words for ions that ``solve_analysis`` takes, besides every name of the data set."""
    return _core.ion_words(checks.dataset(dataset))


def amount_units() -> list[str]:
    """Units of an amount."""
    return _core.amount_units()


def _amount(name: str, value: object, unit: str) -> str:
    """Return an amount as text: a number takes the unit given for all."""
    if isinstance(value, str):
        return value
    if not unit:
        accepted = 'an amount with its unit, such as "640 mg/L", or numbers beside unit="mg/L"'
        raise checks.refusal(name, checks.shown(value), accepted)
    return f"{checks.number(name, value)!r} {unit}"


def _analysis(
    ions: Mapping[str, str | float], unit: str, alkalinity: str | float | None
) -> _core.WaterAnalysis:
    if not isinstance(ions, Mapping):
        accepted = 'amounts by name, such as {"chloride": "640 mg/L"}'
        raise checks.refusal("ions", checks.shown(ions), accepted)
    analysis = _core.WaterAnalysis()
    for name, value in ions.items():
        analysis.add_ion(checks.text("name in ions", name), _amount(name, value, unit))
    if alkalinity is not None:
        analysis.set_alkalinity(_amount("alkalinity", alkalinity, unit))
    return analysis


def solve_analysis(
    ions: Mapping[str, str | float],
    *,
    unit: str = "",
    alkalinity: str | float | None = None,
    ph: str | float | None = None,
    potential_mv: float | None = None,
    potential_uncertainty_mv: float | None = None,
    reference_electrode: str = "",
    oxygen_bar: float | None = None,
    held_gas_bar: Mapping[str, float] | None = None,
    temperature_c: float = 25.0,
    density_kg_per_l: float | None = None,
    conductivity_us_per_cm: float | None = None,
    charge_assigned_to: str = "",
    acidity: Acidity = "given_ph",
    redox: Literal["as_analysed", "conserved"] = "as_analysed",
    activity: ActivityModel = "sit",
    precipitation: Precipitation = "none",
    allowed_solids: Sequence[str] = (),
    left_out: Sequence[str] = (),
    inert: Sequence[str] = (),
    missing_enthalpy: MissingEnthalpy = "estimate",
    dataset: _core.Dataset | None = None,
) -> SolvedWater:
    """Bring a laboratory's analysis of one water to equilibrium.

    ``ions``: amounts by name, a laboratory's word ("chloride", "calcium") or any species or solid
    of the data set, as text with a unit of ``amount_units()``: "640 mg/L", "640 +/- 30 mg/L",
    "< 5 mg/L"; numbers need ``unit``. "bicarbonate", "carbonate" and ``alkalinity`` are titrated,
    and the carbonate follows from them. ``ph``: 6.4 or "6.4 +/- 0.1". ``potential_mv``: as read
    against ``reference_electrode``, hydrogen where that is left out; or ``oxygen_bar`` held, 0.21
    in air; with neither, copper is set aside. ``held_gas_bar``: {"CO2(g)": 4.2e-4} decides the
    carbonate and is compared with a titration. ``charge_assigned_to``: ion that takes up the
    imbalance of charge; left out, it is reported only. ``allowed_solids``: empty is every solid,
    with ``precipitation="allowed"``. ``inert``: ions counted without their acid or base, which the
    data set lacks (that of the library none); they are refused otherwise.

    Raises InputError and UnknownName; a water without an answer is a status of the result.
    """
    analysis = _analysis(ions, checks.text("unit", unit), alkalinity)
    if isinstance(ph, str):
        analysis.set_ph(ph)
    elif ph is not None:
        analysis.set_ph_number(checks.number("ph", ph))
    analysis.potential_mv = checks.optional_number("potential_mv", potential_mv)
    analysis.potential_uncertainty_mv = checks.optional_number(
        "potential_uncertainty_mv", potential_uncertainty_mv
    )
    analysis.reference_electrode = checks.text("reference_electrode", reference_electrode)
    analysis.oxygen_bar = checks.optional_number("oxygen_bar", oxygen_bar)
    if held_gas_bar is not None:
        analysis.held_gas_bar = checks.number_by_name("held_gas_bar", held_gas_bar)
    analysis.temperature_c = checks.number("temperature_c", temperature_c)
    analysis.density_kg_per_l = checks.optional_number("density_kg_per_l", density_kg_per_l)
    analysis.conductivity_us_per_cm = checks.optional_number(
        "conductivity_us_per_cm", conductivity_us_per_cm
    )
    analysis.charge_assigned_to = checks.text("charge_assigned_to", charge_assigned_to)
    data = checks.dataset(dataset)
    core = _core.solve_analysis(
        data,
        analysis,
        checks.text("activity", activity),
        checks.text("acidity", acidity),
        _is("redox", redox, "as_analysed", "conserved"),
        checks.text("precipitation", precipitation),
        checks.names("allowed_solids", allowed_solids),
        checks.names("left_out", left_out),
        checks.names("inert", inert),
        checks.text("missing_enthalpy", missing_enthalpy),
    )
    return SolvedWater(core, data)


def _is(name: str, value: object, otherwise: str, wanted: str) -> bool:
    """Tell which of two words a choice is."""
    if value not in (otherwise, wanted):
        raise checks.refusal(name, checks.shown(value), f'"{otherwise}" or "{wanted}"')
    return value == wanted
