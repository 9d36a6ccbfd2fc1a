"""aeruca: the chemistry of copper corrosion in conservation."""

from ._core import Error, FileError, InputError, UnknownName, version

__version__ = version()
__all__ = ["Error", "FileError", "InputError", "UnknownName", "__version__"]
