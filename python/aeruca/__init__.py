"""aeruca: the chemistry of copper corrosion in conservation."""

from ._core import (
    BathExtract,
    BathFit,
    BathLog,
    BathRecord,
    BathSummary,
    Certificate,
    Corner,
    Dataset,
    Edge,
    Error,
    Field,
    Figure,
    FileError,
    HumidityComparison,
    InputError,
    LineEquation,
    LoggerFault,
    LoggerReadOptions,
    LoggerRecord,
    MeasuredCurvePoint,
    MeasuredHumidity,
    MonthSummary,
    OnsetBand,
    OnsetCurve,
    Percentiles,
    Range,
    ReadingErrors,
    Rival,
    Salt,
    SensorRange,
    Source,
    Species,
    Spell,
    StoreAssessment,
    StoreOptions,
    TimeAbove,
    UnknownName,
    WaterLine,
    WeighedReagent,
    WeighOut,
    version,
)
from .activity import ActivityResult, activity_coefficients
from .bath import (
    bath_curve,
    bath_salts,
    bath_series,
    fit_bath_log,
    fraction_of_final_release,
    mode_roots,
    read_bath_log,
    shelf_forms,
    summarise_bath_log,
    weigh_out,
)
from .brine import (
    Deliquescence,
    DeliquescenceCurve,
    SaltCurve,
    SaltSolution,
    computable_salts,
    deliquescence,
    deliquescence_curve,
    measured_humidity,
    salt_curve,
    single_salt,
)
from .cards import install as _install_cards
from .case import CaseAssessment, assess_case, new_case
from .dataset import default_dataset, extend_dataset, load_dataset, molar_mass_g_per_mol
from .equilibrium import Equilibrium, EquilibriumResult, EquilibriumTable, speciate
from .plot_bath import plot_bath
from .plot_store import plot_store
from .report import render_report, write_report
from .series import (
    assess_store,
    onset,
    read_logger,
    record_from_arrays,
    record_times,
    surface_rh_percent,
)
from .stability import FieldDiagram, FieldModel, StableAt, field_diagram, stable_at
from .water import (
    debye_hueckel_slopes,
    density_kg_per_m3,
    permittivity,
    pkw,
    saturation_pressure_pa,
)

_install_cards()

__version__ = version()
__all__ = ["Error", "FileError", "InputError", "UnknownName", "__version__"]
__all__ += ["LoggerRecord", "OnsetCurve", "StoreAssessment", "assess_store", "onset", "plot_store"]
__all__ += ["read_logger", "record_from_arrays", "record_times", "surface_rh_percent"]
__all__ += ["ActivityResult", "Deliquescence", "DeliquescenceCurve", "SaltCurve", "SaltSolution"]
__all__ += ["activity_coefficients", "computable_salts", "deliquescence", "deliquescence_curve"]
__all__ += ["measured_humidity", "salt_curve", "single_salt"]
__all__ += ["debye_hueckel_slopes", "density_kg_per_m3", "permittivity", "pkw"]
__all__ += ["saturation_pressure_pa"]
__all__ += ["Dataset", "Figure", "MeasuredHumidity", "OnsetBand", "Salt", "Source", "Species"]
__all__ += ["default_dataset", "extend_dataset", "load_dataset", "molar_mass_g_per_mol"]
__all__ += ["BathFit", "BathLog", "BathSummary", "ReadingErrors", "WeighOut", "bath_curve"]
__all__ += ["bath_salts", "bath_series", "fit_bath_log", "fraction_of_final_release", "mode_roots"]
__all__ += ["plot_bath", "read_bath_log", "shelf_forms", "summarise_bath_log", "weigh_out"]
__all__ += ["FieldDiagram", "FieldModel", "StableAt", "field_diagram", "stable_at"]
__all__ += ["CaseAssessment", "assess_case", "new_case", "render_report", "write_report"]
__all__ += ["Equilibrium", "EquilibriumResult", "EquilibriumTable", "speciate"]
__all__ += ["BathExtract", "BathRecord", "Certificate", "Corner", "Edge", "Field"]
__all__ += ["HumidityComparison", "LineEquation", "LoggerFault", "LoggerReadOptions"]
__all__ += ["MeasuredCurvePoint", "MonthSummary", "Percentiles", "Range", "Rival"]
__all__ += ["SensorRange", "Spell", "StoreOptions", "TimeAbove", "WaterLine", "WeighedReagent"]
