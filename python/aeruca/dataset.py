"""The data set: species, figures and sources, read, extended and asked."""

from __future__ import annotations

import os

from . import _core, checks
from ._core import (  # the types of this part
    Dataset as Dataset,
)
from ._core import (
    Figure as Figure,
)
from ._core import (
    MeasuredHumidity as MeasuredHumidity,
)
from ._core import (
    OnsetBand as OnsetBand,
)
from ._core import (
    Salt as Salt,
)
from ._core import (
    Source as Source,
)
from ._core import (
    Species as Species,
)

__all__ = ["default_dataset", "extend_dataset", "load_dataset", "molar_mass_g_per_mol"]


def default_dataset() -> Dataset:
    """Return the data set the library was built with."""
    return _core.default_dataset()


def load_dataset(directory: str | os.PathLike[str]) -> Dataset:
    """Read a data set from a directory with the files of ``data/``. Raises FileError."""
    return _core.load_dataset(checks.path("directory", directory))


def extend_dataset(base: Dataset, file: str | os.PathLike[str]) -> Dataset:
    """Return a copy with the records of one TOML file added; equal keys are replaced."""
    checks.instance("base", base, Dataset, "a Dataset, such as default_dataset()")
    return _core.extend_dataset(base, checks.path("file", file))


def molar_mass_g_per_mol(formula: str) -> float:
    """Molar mass of a formula such as ``CuCl2.2H2O`` (g/mol)."""
    return _core.molar_mass_g_per_mol(checks.text("formula", formula))
