"""aeruca: the chemistry of copper corrosion in conservation.

One object, whole        assess_case, assess_cases, new_case, write_report; CaseAssessment
What is stable           speciate, Equilibrium; field_diagram, stable_at, FieldModel
How dry to keep it       deliquescence, single_salt; read_logger, assess_store, plot_store
How long to wash it      read_bath_log, summarise_bath_log, decide_bath, plan_baths,
                         fit_bath_log, weigh_out, plot_bath
What a number rests on   default_dataset, load_dataset, extend_dataset
What goes wrong          Error: InputError, FileError, UnknownName

The rest stands by part, with the types of the results: aeruca.case, analysis, equilibrium,
activity, stability, totals_fields, brine, store, enclosure, bath, bath_decision, minerals, path,
water, dataset, report, drawing, teaching, words. Each name has its help. To begin:
    case = aeruca.assess_case("data/demo/case.toml"); case.verdict, case.reason
"""

import typing as _typing
from importlib import import_module as _import_module

# Nothing is imported before it is asked for: `aeruca --help` needs no NumPy.
if _typing.TYPE_CHECKING:
    from . import activity as activity
    from . import analysis as analysis
    from . import bath as bath
    from . import bath_decision as bath_decision
    from . import brine as brine
    from . import case as case
    from . import dataset as dataset
    from . import drawing as drawing
    from . import enclosure as enclosure
    from . import equilibrium as equilibrium
    from . import minerals as minerals
    from . import path as path
    from . import report as report
    from . import stability as stability
    from . import store as store
    from . import teaching as teaching
    from . import totals_fields as totals_fields
    from . import water as water
    from . import words as words
    from ._core import Error as Error
    from ._core import FileError as FileError
    from ._core import InputError as InputError
    from ._core import UnknownName as UnknownName
    from .bath import fit_bath_log as fit_bath_log
    from .bath import read_bath_log as read_bath_log
    from .bath import summarise_bath_log as summarise_bath_log
    from .bath import weigh_out as weigh_out
    from .bath_decision import decide_bath as decide_bath
    from .bath_decision import plan_baths as plan_baths
    from .brine import deliquescence as deliquescence
    from .brine import single_salt as single_salt
    from .case import CaseAssessment as CaseAssessment
    from .case import assess_case as assess_case
    from .case import assess_cases as assess_cases
    from .case import new_case as new_case
    from .dataset import default_dataset as default_dataset
    from .dataset import extend_dataset as extend_dataset
    from .dataset import load_dataset as load_dataset
    from .drawing.bath import plot_bath as plot_bath
    from .drawing.store import plot_store as plot_store
    from .equilibrium import Equilibrium as Equilibrium
    from .equilibrium import speciate as speciate
    from .report import write_report as write_report
    from .stability import FieldModel as FieldModel
    from .stability import field_diagram as field_diagram
    from .stability import stable_at as stable_at
    from .store import assess_store as assess_store
    from .store import read_logger as read_logger

    __version__: str

# What a person looks for, and the part it stands in.
_HOME = {
    "assess_case": "case",
    "assess_cases": "case",
    "new_case": "case",
    "write_report": "report",
    "speciate": "equilibrium",
    "field_diagram": "stability",
    "stable_at": "stability",
    "deliquescence": "brine",
    "single_salt": "brine",
    "read_logger": "store",
    "assess_store": "store",
    "plot_store": "drawing.store",
    "read_bath_log": "bath",
    "summarise_bath_log": "bath",
    "fit_bath_log": "bath",
    "decide_bath": "bath_decision",
    "plan_baths": "bath_decision",
    "weigh_out": "bath",
    "plot_bath": "drawing.bath",
    "default_dataset": "dataset",
    "load_dataset": "dataset",
    "extend_dataset": "dataset",
    "CaseAssessment": "case",
    "Equilibrium": "equilibrium",
    "Error": "_core",
    "FieldModel": "stability",
    "FileError": "_core",
    "InputError": "_core",
    "UnknownName": "_core",
}
_PARTS = [
    "activity",
    "analysis",
    "bath",
    "bath_decision",
    "brine",
    "case",
    "dataset",
    "enclosure",
    "equilibrium",
    "minerals",
    "path",
    "drawing",
    "report",
    "stability",
    "totals_fields",
    "store",
    "teaching",
    "water",
    "words",
]


def __dir__() -> list[str]:
    """Name what tab completion shows."""
    return [*_HOME, *_PARTS, "__version__"]


if not _typing.TYPE_CHECKING:

    def __getattr__(name):
        if name in _PARTS:
            return _import_module(f".{name}", __name__)
        if name in _HOME:
            found = getattr(_import_module(f".{_HOME[name]}", __name__), name)
        elif name == "__version__":
            found = _import_module("._core", __name__).version()
        else:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        globals()[name] = found
        return found
