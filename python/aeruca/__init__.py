"""aeruca: the chemistry of copper corrosion in conservation.

One object, whole        assess_case, assess_cases, new_case, write_report; CaseAssessment
What is stable           speciate, Equilibrium; field_diagram, stable_at, FieldModel
How dry to keep it       deliquescence, single_salt; read_logger, assess_store, plot_store
How long to wash it      read_bath_log, summarise_bath_log, fit_bath_log, weigh_out, plot_bath
What a number rests on   default_dataset, load_dataset, extend_dataset
What goes wrong          Error: InputError, FileError, UnknownName

The rest stands by part, with the types of the results: aeruca.case, analysis, equilibrium,
activity, stability, brine, store, bath, water, dataset, report, plot. Each name has its help.

    case = aeruca.assess_case("data/demo/case.toml")
    case.verdict, case.reason
"""

from . import activity as activity
from . import analysis as analysis
from . import plot as plot
from . import water as water
from ._core import Error as Error
from ._core import FileError as FileError
from ._core import InputError as InputError
from ._core import UnknownName as UnknownName
from ._core import version as _version
from .bath import fit_bath_log as fit_bath_log
from .bath import read_bath_log as read_bath_log
from .bath import summarise_bath_log as summarise_bath_log
from .bath import weigh_out as weigh_out
from .brine import deliquescence as deliquescence
from .brine import single_salt as single_salt
from .cards import install as _install_cards
from .case import CaseAssessment as CaseAssessment
from .case import assess_case as assess_case
from .case import assess_cases as assess_cases
from .case import new_case as new_case
from .dataset import default_dataset as default_dataset
from .dataset import extend_dataset as extend_dataset
from .dataset import load_dataset as load_dataset
from .equilibrium import Equilibrium as Equilibrium
from .equilibrium import speciate as speciate
from .plot_bath import plot_bath as plot_bath
from .plot_store import plot_store as plot_store
from .report import write_report as write_report
from .stability import FieldModel as FieldModel
from .stability import field_diagram as field_diagram
from .stability import stable_at as stable_at
from .store import assess_store as assess_store
from .store import read_logger as read_logger

_install_cards()

__version__ = _version()

# What a person looks for: the names above, then the parts.
_VERBS = [
    "assess_case",
    "assess_cases",
    "new_case",
    "write_report",
    "speciate",
    "field_diagram",
    "stable_at",
    "deliquescence",
    "single_salt",
    "read_logger",
    "assess_store",
    "plot_store",
    "read_bath_log",
    "summarise_bath_log",
    "fit_bath_log",
    "weigh_out",
    "plot_bath",
    "default_dataset",
    "load_dataset",
    "extend_dataset",
]
_TYPES = [
    "CaseAssessment",
    "Equilibrium",
    "Error",
    "FieldModel",
    "FileError",
    "InputError",
    "UnknownName",
]
_PARTS = [
    "activity",
    "analysis",
    "bath",
    "brine",
    "case",
    "dataset",
    "equilibrium",
    "plot",
    "report",
    "stability",
    "store",
    "water",
]


def __dir__() -> list[str]:
    """Name what tab completion shows."""
    return [*_VERBS, *_TYPES, *_PARTS, "__version__"]
