"""aeruca: the chemistry of copper corrosion in conservation."""

from ._core import (
    Dataset,
    Error,
    Figure,
    FileError,
    InputError,
    LoggerRecord,
    MeasuredHumidity,
    OnsetBand,
    OnsetCurve,
    Salt,
    Source,
    Species,
    StoreAssessment,
    UnknownName,
    default_dataset,
    extend_dataset,
    load_dataset,
    molar_mass_g_per_mol,
    surface_rh_percent,
    version,
)
from .activity import ActivityResult, activity_coefficients
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
from .plot_store import plot_store
from .series import assess_store, onset, read_logger, record_from_arrays, record_times
from .water import (
    debye_hueckel_slopes,
    density_kg_per_m3,
    permittivity,
    pkw,
    saturation_pressure_pa,
)

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
