"""aeruca: the chemistry of copper corrosion in conservation."""

from ._core import (
    Error,
    FileError,
    InputError,
    LoggerRecord,
    OnsetCurve,
    StoreAssessment,
    UnknownName,
    surface_rh_percent,
    version,
)
from .plot_store import plot_store
from .series import assess_store, onset, read_logger, record_from_arrays, record_times

__version__ = version()
__all__ = ["Error", "FileError", "InputError", "UnknownName", "__version__"]
__all__ += ["LoggerRecord", "OnsetCurve", "StoreAssessment", "assess_store", "onset", "plot_store"]
__all__ += ["read_logger", "record_from_arrays", "record_times", "surface_rh_percent"]
