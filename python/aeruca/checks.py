"""Checks of what is given: a refusal names the parameter, the value and what is accepted."""

from __future__ import annotations

import operator
import os
from collections.abc import Iterable, Mapping
from enum import Enum
from typing import Any, Final, Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from ._core import Dataset, InputError, UnknownName

FloatArray = NDArray[np.float64]
Item = TypeVar("Item")


class NotGiven(Enum):
    """Mark of an argument that was left out, where None would be a mistake."""

    NOT_GIVEN = "not given"

    def __repr__(self) -> str:
        return "not given"


NOT_GIVEN: Final[Literal[NotGiven.NOT_GIVEN]] = NotGiven.NOT_GIVEN


def shown(value: object) -> str:
    """Return a short repr."""
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def refusal(name: str, given: str, accepted: str) -> InputError:
    """Return the error for a parameter, as the compiled core words it."""
    error = InputError(f"{name} = {given}: accepted is {accepted}")
    error.parameter, error.value, error.accepted = name, given, accepted
    return error


def unknown(kind: str, name: str) -> UnknownName:
    """Return the error for a name that does not exist."""
    error = UnknownName(f"no {kind} named '{name}'")
    error.kind, error.name, error.nearest = kind, name, ""
    return error


def _odd_element(array: NDArray[Any]) -> str:
    """Tell the first element that is no number, and its place."""
    if array.ndim == 0:
        return shown(array.item())
    for place, element in np.ndenumerate(array):
        if isinstance(element, bool) or not isinstance(element, (int, float, np.number)):
            at = place[0] if len(place) == 1 else place
            return (
                f"{shown(element.item() if isinstance(element, np.generic) else element)} at {at}"
            )
    return f"an array of {array.dtype}"


def numbers(
    name: str, value: object, accepted: str = "a number or an array of numbers"
) -> FloatArray:
    """Return float64 values; None, text, truth values, objects and masked arrays are refused."""
    if value is None:
        raise refusal(name, "None", accepted)
    if isinstance(value, np.ma.MaskedArray):
        raise refusal(name, "a masked array", accepted + "; NaN where one is missing")
    try:
        array = np.asarray(value)
    except (ValueError, TypeError) as problem:
        raise refusal(name, "rows of different lengths", accepted) from problem
    if array.dtype.kind not in "iuf":
        raise refusal(name, _odd_element(array), accepted)
    return np.asarray(array, dtype=np.float64)


def number(name: str, value: object) -> float:
    """Return one number."""
    if isinstance(value, float):
        return value
    array = numbers(name, value, "a number")
    if array.ndim != 0:
        raise refusal(name, f"an array of shape {array.shape}", "a single number")
    return float(array)


def optional_number(name: str, value: object) -> float | None:
    """Return one number, or None when that is what was given."""
    return None if value is None else number(name, value)


def row(name: str, value: object) -> list[float]:
    """Return numbers of one dimension."""
    array = numbers(name, value, "a list of numbers")
    if array.ndim != 1:
        raise refusal(name, f"an array of shape {array.shape}", "a list of numbers")
    return [float(each) for each in array]


def integer(name: str, value: object, low: int, high: int) -> int:
    """Return a whole number of a range."""
    highest = f"{high:,}".replace(",", " ")
    accepted = f"a whole number, {low} to {highest}"
    if isinstance(value, (bool, np.bool_)):
        raise refusal(name, shown(value), accepted)
    try:
        whole = operator.index(value)  # type: ignore[arg-type]
    except TypeError as problem:
        raise refusal(name, shown(value), accepted) from problem
    if not low <= whole <= high:
        raise refusal(name, str(whole), accepted)
    return whole


def items(name: str, value: object, kind: type[Item]) -> list[Item]:
    """Return a list of one type."""
    accepted = f"a list of {kind.__name__}"
    if isinstance(value, str) or not isinstance(value, Iterable):
        raise refusal(name, shown(value), accepted)
    given = list(value)
    for item in given:
        if not isinstance(item, kind):
            raise refusal(name, shown(item), accepted)
    return given


def text(name: str, value: object) -> str:
    """Return a text."""
    if not isinstance(value, str):
        raise refusal(name, shown(value), "a text")
    return str(value)


def path(name: str, value: object) -> str:
    """Return the path of a file or directory as text."""
    if not isinstance(value, (str, os.PathLike)):
        raise refusal(name, shown(value), "a path")
    return os.fsdecode(value)


def paths(name: str, value: object) -> list[str]:
    """Return a list of paths as text; one path alone, which would fall apart, is refused."""
    if isinstance(value, (str, bytes, os.PathLike)) or not isinstance(value, Iterable):
        raise refusal(name, shown(value), "a list of paths")
    return [path(name, each) for each in value]


def names(name: str, value: object) -> list[str]:
    """Return a list of names; a bare text, which would fall apart into letters, is refused."""
    if isinstance(value, (str, bytes)) or not isinstance(value, Iterable):
        raise refusal(name, shown(value), "a list of names")
    found = list(value)
    for each in found:
        if not isinstance(each, str):
            raise refusal(name, f"{shown(each)} among the names", "a list of names")
    return [str(each) for each in found]


def by_name(name: str, value: object) -> dict[str, FloatArray]:
    """Return numbers or arrays by name."""
    if not isinstance(value, Mapping):
        raise refusal(name, shown(value), 'numbers by name, such as {"Cl(-)": 0.1}')
    return {text(f"name in {name}", key): numbers(f"{name} of {key}", each)
            for key, each in value.items()}  # fmt: skip


def number_by_name(name: str, value: object) -> dict[str, float]:
    """Return one number by name."""
    if isinstance(value, dict) and all(
        isinstance(key, str) and isinstance(each, float) for key, each in value.items()
    ):
        return value
    return {key: number(f"{name} of {key}", each) for key, each in by_name(name, value).items()}


def dataset(value: object) -> Dataset | None:
    """Return a data set, or None for the one built in."""
    if value is not None and not isinstance(value, Dataset):
        raise refusal("dataset", shown(value), "a Dataset, or None for the one built in")
    return value


def instance(name: str, value: object, kind: type, accepted: str) -> Any:
    """Return the value when it is of a kind."""
    if not isinstance(value, kind):
        raise refusal(name, shown(value), accepted)
    return value


def broadcast(**arrays: FloatArray) -> list[FloatArray]:
    """Broadcast arrays against each other."""
    return broadcast_named(arrays)


def broadcast_named(arrays: Mapping[str, FloatArray]) -> list[FloatArray]:
    """Broadcast arrays whose names are no Python names."""
    try:
        return [np.asarray(each) for each in np.broadcast_arrays(*arrays.values())]
    except ValueError as problem:
        shapes = ", ".join(str(each.shape) for each in arrays.values())
        raise refusal(
            ", ".join(arrays), f"arrays of shapes {shapes}", "shapes that broadcast"
        ) from problem
