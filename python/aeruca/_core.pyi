from collections.abc import Callable, Mapping, Sequence
from typing import Any, overload

import numpy as np
import numpy.typing as npt

from ._results import *

# base
class Error(ValueError): ...

class InputError(Error):
    parameter: str | None
    value: str | None
    accepted: str | None

class FileError(Error):
    file: str | None
    line: int | None
    field: str | None
    problem: str | None

class UnknownName(Error, KeyError):  # noqa: N818
    kind: str | None
    name: str | None
    nearest: str | None

def version() -> str: ...
def _results_stub() -> str: ...
def run_tool(arguments: list[str]) -> tuple[int, str, str]: ...
def english_words() -> str: ...
def say(key: str, slots: Mapping[str, str]) -> str: ...
def languages() -> list[str]: ...
def localised(text: str) -> str: ...
def probability_text(probability: float) -> str: ...

class WordsScope:
    def __init__(self, language: str) -> None: ...
    def begin(self) -> None: ...
    def end(self) -> None: ...

# store
class LoggerReadOptions:
    max_bad_share: float
    rh_over_tolerance_percent: float
    gap_factor: float
    stuck_hours: float
    stuck_readings: int
    spike_rh_percent: float
    listed_faults: int
    sheet: str
    time_column: str
    temperature_column: str
    rh_column: str
    clock_column: str
    dew_point_column: str
    absolute_humidity_column: str
    date_order: str
    rh_unit: str
    temperature_unit: str
    future_times: str
    def __init__(self) -> None: ...

class StoreOptions:
    onset: OnsetCurve
    accuracy_rh_percent: float
    accuracy_meaning: str
    checks: list[SensorCheck]
    drift_rh_percent_per_year: float
    calibrated: str
    random_rh_percent: float
    cooler_c: float
    hysteresis_rh_percent: float
    active_spell_h: float
    active_share: float
    dormant_share: float
    dormant_probability: float
    minimum_coverage: float
    minimum_days: float
    minimum_readings: int
    def __init__(self) -> None: ...

def read_logger_files(
    names: Sequence[str], options: LoggerReadOptions, threads: int
) -> LoggerRecord: ...
def find_logger_files(names: Sequence[str]) -> list[str]: ...
def join_records(records: Sequence[LoggerRecord], options: LoggerReadOptions) -> LoggerRecord: ...
def judge_collection(
    names: Sequence[str],
    read: LoggerReadOptions,
    judge: StoreOptions,
    threads: int,
    progress: Callable[[int, int], object] | None,
) -> Collection: ...
def object_risk(
    record: LoggerRecord, assessment: StoreAssessment, name: str = ...
) -> ObjectRisk: ...
def refused_object(file: str, problem: str) -> ObjectRisk: ...
def ranked(objects: Sequence[ObjectRisk], onset: OnsetCurve) -> Collection: ...
def read_loggers(
    paths: list[str], options: LoggerReadOptions, threads: int
) -> list[tuple[LoggerRecord | None, str]]: ...
def judge_store(record: LoggerRecord, options: StoreOptions) -> StoreAssessment: ...
def judge_stores(
    records: list[LoggerRecord | None], options: StoreOptions, threads: int
) -> list[tuple[StoreAssessment | None, str]]: ...
def sensor_check(salt: str, temperature_c: float, reading_rh_percent: float) -> SensorCheck: ...
def compare_loggers(
    first: LoggerRecord,
    first_options: StoreOptions,
    second: LoggerRecord,
    second_options: StoreOptions,
    place_rh_percent: float,
) -> TwoLoggers: ...
def limit_onset(limit_rh_percent: float) -> OnsetCurve: ...
def published_onset(id: str) -> OnsetCurve: ...
def salt_onset(salt: str) -> OnsetCurve: ...
def surface_rh_percent(
    rh_percent: npt.ArrayLike, temperature_c: npt.ArrayLike, cooler_c: npt.ArrayLike
) -> float | npt.NDArray[np.float64]: ...

# enclosure
class EnclosureOptions:
    limit_rh_percent: float
    days: float
    exchange_relative_sd: float
    outside_rh_sd: float
    start_rh_sd: float
    temperature_sd: float
    draws: int
    seed: int
    threads: int
    def __init__(self) -> None: ...

class Climate:
    @property
    def gap_days(self) -> float: ...
    @property
    def constant(self) -> bool: ...

def _enclosure(
    figures: dict[str, float],
    gel: str,
    contents_rh_percent: list[float],
    contents_moisture_percent: list[float],
) -> Enclosure: ...
def _constant_climate(temperature_c: float, rh_percent: float) -> Climate: ...
def _climate_of(record: LoggerRecord) -> Climate: ...
def _in_room(climate: Climate, inside_temperature_c: float) -> Climate: ...

class ReactionPath:
    added: dict[str, float]
    gas: str
    gas_bar: float | None
    to: float | None
    carried_over: float | None
    steps: int
    def __init__(self) -> None: ...
    def set_kind(self, arg0: str) -> None: ...
    def set_system(
        self,
        arg0: str,
        arg1: float,
        arg2: str,
        arg3: str,
        arg4: Sequence[str],
        arg5: Sequence[str],
        arg6: Sequence[str],
    ) -> None: ...
    def set_start(
        self,
        arg0: Mapping[str, float],
        arg1: float | None,
        arg2: float | None,
        arg3: float | None,
        arg4: Mapping[str, float],
    ) -> None: ...

def _follow_path(arg0: Dataset | None, arg1: ReactionPath) -> PathResult: ...
def _path_days(
    arg0: Dataset | None,
    arg1: PathResult,
    arg2: float,
    arg3: float,
    arg4: float,
    arg5: float,
    arg6: float,
) -> npt.NDArray[np.float64]: ...
def _oxygen_supply(
    arg0: Dataset | None, arg1: float, arg2: float, arg3: float, arg4: float
) -> float: ...
def _thickness_nm(arg0: Dataset | None, arg1: str, arg2: float) -> float: ...
def _copper_one_oxidation(
    arg0: Dataset | None, arg1: bool, arg2: float, arg3: float, arg4: float
) -> float: ...
def _coin_in_salt_water(
    arg0: Dataset | None, arg1: float, arg2: float, arg3: float, arg4: float
) -> CoinPath: ...
def _pit_in_moist_air(
    arg0: Dataset | None, arg1: float, arg2: float, arg3: float
) -> PitInMoistAir: ...
def _nantokite_of_pit_mg(arg0: Dataset | None, arg1: float) -> float: ...
def _nantokite_in_baths(arg0: Dataset | None, arg1: float) -> NantokiteInBaths: ...
def _carbonate_bath_in_air(
    arg0: Dataset | None, arg1: str, arg2: float, arg3: float, arg4: float, arg5: float
) -> CarbonateBathPath: ...
def finds_sample(finds: int, tested: int, active: int) -> FindsSample: ...
def _minerals(dataset: Dataset | None) -> list[Mineral]: ...
def _mineral(dataset: Dataset | None, name: str) -> Mineral: ...
def _field_tests(dataset: Dataset | None) -> list[FieldTest]: ...
def _identify_mineral(dataset: Dataset | None, seen: Sequence[str]) -> MineralIdentification: ...
def _gel_isotherms() -> list[GelIsotherm]: ...
def _gel_water(gel: str, rh_percent: float, temperature_c: float) -> float: ...
def _forecast_enclosure(
    enclosure: Enclosure, climate: Climate, options: EnclosureOptions
) -> EnclosureForecast: ...
def _climate_from(climate: Climate, start_s: int) -> Climate: ...
def _review_enclosure(
    enclosure: Enclosure,
    climate: Climate,
    options: EnclosureOptions,
    start_s: int | None,
    inside: LoggerRecord | None,
    store: StoreAssessment | None,
) -> Review: ...
def _fit_decay(
    hours: npt.NDArray[np.float64], values: npt.NDArray[np.float64], background: float
) -> ExchangeFit: ...
def _fit_exchange(
    enclosure: Enclosure, inside: LoggerRecord, outside: LoggerRecord
) -> ExchangeFit: ...

# water, activity and brine
def saturation_pressure_pa(temperature_c: npt.ArrayLike) -> float | npt.NDArray[np.float64]: ...
def density_kg_per_m3(
    temperature_c: npt.ArrayLike, pressure_pa: npt.ArrayLike = 101325.0
) -> float | npt.NDArray[np.float64]: ...
def permittivity(
    temperature_c: npt.ArrayLike, density_kg_per_m3: npt.ArrayLike
) -> float | npt.NDArray[np.float64]: ...
def pkw(
    temperature_c: npt.ArrayLike, density_kg_per_m3: npt.ArrayLike
) -> float | npt.NDArray[np.float64]: ...
def _debye_hueckel_slopes(temperature_c: npt.ArrayLike) -> tuple[Any, Any, Any]: ...
def _activity_rows(
    model: str,
    species: list[str],
    molality: npt.NDArray[np.float64],
    temperature_c: float,
    dataset: Dataset | None,
) -> tuple[
    npt.NDArray[np.float64],
    npt.NDArray[np.float64],
    npt.NDArray[np.float64],
    npt.NDArray[np.float64],
    list[str],
    list[str],
]: ...
def _single_salt(
    salt: str, molality: float, temperature_c: float, pitzer_set: str, dataset: Dataset | None, /
) -> SaltSolution: ...
def _deliquescence(
    salt: str, temperature_c: float, pitzer_set: str, dataset: Dataset | None, /
) -> Deliquescence: ...
def _measured_humidity(
    solid: str, temperature_c: float, dataset: Dataset | None, /
) -> MeasuredCurvePoint: ...
def _hydration_changes(
    solid: str, temperature_c: float, dataset: Dataset | None, /
) -> list[HydrationChange]: ...
def _computable_salts(dataset: Dataset | None, /) -> list[str]: ...
def _crystallisation_humidities(salt: str, dataset: Dataset | None) -> list[MeasuredHumidity]: ...
def _nantokite_in_air(rh_percent: float, dataset: Dataset | None) -> NantokiteInAir: ...
def _mixture(
    ions: Mapping[str, float],
    rh_percent: npt.NDArray[np.float64],
    temperature_c: float,
    left_out: Sequence[str],
    dataset: Dataset | None,
    /,
) -> MixtureSweep: ...
def _salt_curve(
    salt: str,
    molality: npt.NDArray[np.float64],
    temperature_c: float,
    pitzer_set: str,
    dataset: Dataset | None,
    /,
) -> tuple[str, npt.NDArray[np.float64], npt.NDArray[np.float64], npt.NDArray[np.float64]]: ...
def _deliquescence_curve(
    salt: str, temperature_c: npt.NDArray[np.float64], pitzer_set: str, dataset: Dataset | None, /
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], str]: ...

# dataset

class Dataset:
    @property
    def version(self) -> str: ...
    @property
    def content_hash(self) -> str: ...
    @property
    def components(self) -> list[str]: ...
    @property
    def species(self) -> list[Species]: ...
    @property
    def figures(self) -> list[Figure]: ...
    @property
    def sources(self) -> list[Source]: ...
    @property
    def salts(self) -> list[Salt]: ...
    @property
    def humidities(self) -> list[MeasuredHumidity]: ...
    @property
    def onset_bands(self) -> list[OnsetBand]: ...
    def __contains__(self, name: str) -> bool: ...
    def __getitem__(self, name: str) -> Species: ...
    def figure(self, id: str) -> Figure: ...
    def source(self, key: str) -> Source: ...
    def salt(self, name: str) -> Salt: ...
    def onset_band(self, id: str) -> OnsetBand: ...
    @overload
    def log10_k(self, species: str, temperature_c: float) -> float: ...
    @overload
    def log10_k(
        self, species: str, temperature_c: Sequence[float] | npt.NDArray[np.float64]
    ) -> npt.NDArray[np.float64]: ...

def default_dataset() -> Dataset: ...
def load_dataset(directory: str) -> Dataset: ...
def extend_dataset(base: Dataset, file: str) -> Dataset: ...
def molar_mass_g_per_mol(formula: str) -> float: ...

# bath

def read_bath_log(path: str) -> BathLog: ...
def _chloride_by_meter(
    dataset: Dataset,
    conductivity_us_per_cm: float,
    tds_mg_per_l: float,
    temperature_c: float,
    blank_us_per_cm: float,
    chloride_sought_mg_per_l: float,
    error_us_per_cm: float,
    error_percent: float,
    salt: str,
    mol_per_l: float,
    /,
) -> MeterAnswer: ...
def _bath_salts(dataset: Dataset, /) -> list[str]: ...
def _shelf_forms(dataset: Dataset, salt: str, /) -> list[str]: ...
def _bath_table(
    shape: str,
    load: str,
    biot: float,
    rates: npt.NDArray[np.float64],
    alpha: npt.NDArray[np.float64],
    days: npt.NDArray[np.float64],
    fill: npt.NDArray[np.float64],
    carry_over: npt.NDArray[np.float64],
    accuracy: float,
    /,
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], float]: ...
def _bath_curve(
    shape: str,
    load: str,
    biot: float,
    alpha: npt.NDArray[np.float64],
    tau_of_bath: npt.NDArray[np.float64],
    fill: npt.NDArray[np.float64],
    carry_over: npt.NDArray[np.float64],
    tau: npt.NDArray[np.float64],
    /,
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]: ...
def _mode_roots(
    shape: str, alpha: float, count: int, biot: float, /
) -> npt.NDArray[np.float64]: ...
def _fraction_of_final_release(
    shape: str, alpha: npt.NDArray[np.float64], tau: npt.NDArray[np.float64], /
) -> npt.NDArray[np.float64] | float: ...
def _with_blank(log: BathLog, blank_mg_per_l: float, /) -> BathLog: ...
def _reading_error_mg_per_l(bath: BathRecord, errors: ReadingErrors, /) -> float: ...
def _summarise_bath_log(
    log: BathLog, object_mass_g: float, errors: ReadingErrors, /
) -> BathSummary: ...
def _fit_bath_log(
    log: BathLog,
    shape: str,
    load: str,
    biot: float,
    alphas: list[float],
    errors: ReadingErrors,
    object_mass_g: float,
    next_volume_l: float,
    next_days: float,
    stop_mg_per_l: float,
    grid: int,
    /,
) -> BathFit: ...
def _stores_series(
    given: list[tuple[str, str, float, float, float, float]],
    tau: npt.NDArray[np.float64],
    alpha: npt.NDArray[np.float64],
    fill: npt.NDArray[np.float64],
    carry_over: npt.NDArray[np.float64],
    /,
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]: ...
def _spread_stores(
    spread: float, count: int, /
) -> list[tuple[str, str, float, float, float, float]]: ...
def _reserve_series(
    solid_over_dissolved: float,
    tau: npt.NDArray[np.float64],
    alpha: npt.NDArray[np.float64],
    fill: npt.NDArray[np.float64],
    carry_over: npt.NDArray[np.float64],
    /,
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], npt.NDArray[np.float64]]: ...
def _infer_bath_log(
    log: BathLog,
    models: list[str],
    priors: dict[str, tuple[float, float]],
    errors: ReadingErrors,
    object_mass_g: float,
    object_area_cm2: float,
    draws: int,
    seed: int,
    /,
) -> BathPosterior: ...
def _decide_bath(
    log: BathLog,
    dataset: Dataset,
    models: list[str],
    priors: dict[str, tuple[float, float]],
    errors: ReadingErrors,
    object_mass_g: float,
    object_area_cm2: float,
    draws: int,
    seed: int,
    next_volume_l: float,
    next_days: float,
    target_left_mg: float,
    blank_mg_per_l: float,
    stop_mg_per_l: float,
    /,
) -> BathDecision: ...
def _schedule_baths(
    log: BathLog,
    models: list[str],
    priors: dict[str, tuple[float, float]],
    errors: ReadingErrors,
    draws: int,
    seed: int,
    total_days: float,
    bath_l: float,
    water_l: float,
    baths_most: int,
    target_left_mg: float,
    blank_mg_per_l: float,
    temperature_c: float,
    log_temperature_c: float,
    /,
) -> BathSchedule: ...
def _bath_course(
    log: BathLog,
    posterior: BathPosterior,
    points: int,
    baths_to_come: int,
    errors: ReadingErrors,
    /,
) -> list[BathCoursePoint]: ...
def _parse_bath_log(text: str, name: str, /) -> BathLog: ...
def _forecast_baths(
    shape: str,
    load: str,
    biot: float,
    rate_per_day: float,
    volumes_l: list[float],
    days: list[float],
    load_mg: float,
    capacity_l: float,
    fill_mg_per_l: float,
    carry_over: float,
    /,
) -> BathForecast: ...
def _chemistry_of_bath(
    dataset: Dataset,
    salt: str,
    percent_w_v: float,
    mol_per_l: float,
    volume_l: float,
    form: str,
    purity_percent: float,
    reagent_chloride_percent: float,
    water_chloride_mg_per_l: float,
    water_chloride_error_mg_per_l: float,
    temperature_c: float,
    carbon_dioxide_bar: float,
    headspace_l_per_l: float,
    object_mass_g: float,
    nantokite_g: float,
    metals: list[str],
    /,
) -> BathChemistry: ...
def _log_against_bath(log: BathLog, bath: BathChemistry, acid: bool, /) -> LogAgainstBath: ...
def _rinse_pores(
    pore_ml: float,
    porosity: float,
    body_cm3: float,
    pore_factor: float,
    start_mg_per_l: float,
    rinse_l: float,
    clinging_ml: float,
    water_mg_per_l: float,
    rinses: int | None,
    target_percent: float,
    minutes: float,
    rate_per_day: float,
    shape: str,
    /,
) -> RinseResult: ...
def _compare_bath_counts(
    shape: str,
    load: str,
    biot: float,
    alpha: float,
    total_tau: float,
    counts: list[int],
    divided: bool,
    /,
) -> BathComparison: ...
def _bath_water(
    dataset: Dataset, salt: str, mol_per_l: float, temperature_c: float, open: bool, /
) -> EquilibriumAnswer: ...
def _copper_over(
    dataset: Dataset,
    salt: str,
    mol_per_l: float,
    temperature_c: float,
    solid: str,
    open: bool,
    /,
) -> CopperOverSolid: ...
def _weigh_out(
    dataset: Dataset,
    salt: str,
    strength: float,
    molar: bool,
    volume_l: float,
    form: str,
    purity_percent: float,
    reagent_chloride_percent: float,
    /,
) -> WeighOut: ...

# stability

class FieldModel:
    def __init__(
        self,
        dataset: Dataset | None,
        x: tuple[str, float, float],
        y: tuple[str, float, float],
        temperature_c: float,
        ph: float | None,
        eh_v: float | None,
        log10_activity: Mapping[str, float],
        log10_ligand: Mapping[str, float],
        log10_copper: float,
        log10_water: float,
        left_out: Sequence[tuple[str, str]],
        only: Sequence[str],
        coverage: float,
        missing_enthalpy: str,
    ) -> None: ...
    def candidates(self) -> list[str]: ...
    def diagram(self) -> FieldDiagram: ...
    def at_many(self, x: npt.ArrayLike, y: npt.ArrayLike) -> tuple[npt.NDArray[Any], ...]: ...
    def probabilities(
        self, x: npt.ArrayLike, y: npt.ArrayLike, samples: int, seed: int
    ) -> npt.NDArray[np.float64]: ...

def totals_views() -> list[tuple[str, str]]: ...
def totals_view(name: str, cells: int) -> TotalsFieldDiagram: ...

class TotalsFields:
    def __init__(
        self,
        dataset: Dataset | None,
        x: tuple[str, float, float],
        y: tuple[str, float, float],
        totals: Mapping[str, float],
        ph: float | None,
        eh_v: float | None,
        oxygen_bar: float | None,
        gases: Mapping[str, float],
        water_activity: float | None,
        temperature_c: float,
        activity: str,
        left_out: Sequence[str],
        cells: int,
        missing_enthalpy: str,
    ) -> None: ...
    def diagram(self) -> TotalsFieldDiagram: ...
    def at(self, x: npt.ArrayLike, y: npt.ArrayLike) -> list[str]: ...

# case
def assess_case(path: str, date: str, dataset: Dataset | None) -> CaseAssessment: ...

class CaseOutcome:
    @property
    def path(self) -> str: ...
    @property
    def assessment(self) -> CaseAssessment | None: ...
    @property
    def problem(self) -> str: ...

def assess_case_text(
    text: str, path: str, date: str, dataset: Dataset | None
) -> CaseAssessment: ...
def assess_cases(
    paths: Sequence[str], date: str, dataset: Dataset | None, threads: int
) -> list[CaseOutcome]: ...
def find_case_files(names: Sequence[str]) -> list[str]: ...
def assess_collection(
    paths: Sequence[str],
    date: str,
    dataset: Dataset | None,
    threads: int,
    progress: Callable[[int, int], object] | None,
) -> CaseCollection: ...
def ranked_cases(
    objects: Sequence[ObjectCase], date: str, dataset: Dataset | None
) -> CaseCollection: ...
def check_case_text(text: str, path: str) -> None: ...
def case_file_schema() -> str: ...
def assessment_schema() -> str: ...
def write_case_template(path: str) -> None: ...
def run_tool_here(arguments: list[str]) -> int: ...

# equilibrium
STATUS_NAMES: tuple[str, ...]
BATCH_COLUMNS: tuple[str, ...]

class EquilibriumSystem:
    def __init__(
        self,
        dataset: Dataset | None,
        activity: str,
        temperature_c: float,
        redox: str,
        acidity: str,
        solvent: str,
        starts: str,
        components: list[str],
        precipitation: str,
        allowed_solids: list[str],
        left_out: list[str],
        inert: list[str],
        iteration_limit: int,
        threads: int,
        missing_enthalpy: str,
    ) -> None: ...
    @property
    def species(self) -> list[str]: ...
    @property
    def allowed_solids(self) -> list[str]: ...
    @property
    def estimated_heats(self) -> list[str]: ...
    def solve(
        self,
        totals_mol_per_kg: dict[str, float],
        ph: float | None,
        eh_v: float | None,
        oxygen_bar: float | None,
        fugacity_bar: dict[str, float],
        water_activity: float | None,
    ) -> EquilibriumAnswer: ...
    def solve_rows(
        self,
        ingredients: list[str],
        totals: npt.NDArray[np.float64],
        ph: npt.NDArray[np.float64] | None,
        eh_v: npt.NDArray[np.float64] | None,
        oxygen_bar: npt.NDArray[np.float64] | None,
        water_activity: npt.NDArray[np.float64] | None,
        temperature_c: npt.NDArray[np.float64] | None,
        held_gases: list[str],
        fugacity_bar: npt.NDArray[np.float64],
        columns: list[str],
        species: list[str],
        solids: list[str],
        gases: list[str],
    ) -> tuple[dict[str, list[str]], dict[str, npt.NDArray[Any]]]: ...

class WaterAnalysis:
    potential_mv: float | None
    potential_uncertainty_mv: float | None
    reference_electrode: str
    oxygen_bar: float | None
    held_gas_bar: dict[str, float]
    temperature_c: float
    density_kg_per_l: float | None
    conductivity_us_per_cm: float | None
    charge_assigned_to: str
    def __init__(self) -> None: ...
    def add_ion(self, name: str, amount: str) -> None: ...
    def set_alkalinity(self, amount: str) -> None: ...
    def set_ph(self, reading: str) -> None: ...
    def set_ph_number(self, ph: float) -> None: ...

def reference_electrodes(dataset: Dataset | None) -> list[str]: ...
def ion_words(dataset: Dataset | None) -> list[str]: ...
def amount_units() -> list[str]: ...
def ranges_of_analysis(
    dataset: Dataset | None, water: Speciation, draws: int, seed: int, threads: int
) -> WaterRanges: ...
def ranges_of_water(
    dataset: Dataset | None,
    system: EquilibriumSystem,
    totals_mol_per_kg: dict[str, float],
    ph: float | None,
    eh_v: float | None,
    oxygen_bar: float | None,
    fugacity_bar: dict[str, float],
    water_activity: float | None,
    draws: int,
    seed: int,
    threads: int,
) -> WaterRanges: ...
def solve_analysis(
    dataset: Dataset | None,
    analysis: WaterAnalysis,
    activity: str,
    acidity: str,
    conserved: bool,
    precipitation: str,
    allowed_solids: list[str],
    left_out: list[str],
    inert: list[str],
    missing_enthalpy: str,
) -> Speciation: ...
