"""How a record is read and judged, as keyword arguments: named once, defaults from the core."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal, TypedDict, TypeVar

from . import checks
from ._core import LoggerReadOptions, SensorCheck, StoreOptions
from .handed_on import Function, showing


class RecordRules(TypedDict, total=False):
    """How a record is made of its readings; described in ``LoggerReadOptions``."""

    max_bad_share: float
    rh_over_tolerance_percent: float
    gap_factor: float
    stuck_hours: float
    stuck_readings: int
    spike_rh_percent: float
    listed_faults: int


class ReadRules(RecordRules, total=False):
    """How a file is read.

    Names of columns overrule their recognition; what a file leaves open (the order of day and
    month, units, times after today) is said here.
    """

    sheet: str
    time_column: str
    temperature_column: str
    rh_column: str
    clock_column: str
    dew_point_column: str
    absolute_humidity_column: str
    date_order: Literal["from_file", "day_first", "month_first"]
    rh_unit: Literal["from_file", "percent", "fraction"]
    temperature_unit: Literal["from_file", "celsius", "fahrenheit"]
    future_times: Literal["ask", "accept"]


class JudgeRules(TypedDict, total=False):
    """How a store is judged; described in ``StoreOptions``."""

    accuracy_rh_percent: float
    accuracy_meaning: Literal["uniform", "normal_95"]
    checks: Sequence[SensorCheck]
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


Options = TypeVar("Options", LoggerReadOptions, StoreOptions)
_MOST = 1_000_000_000


def _checked(name: str, value: object, default: object) -> object:
    if isinstance(default, str):
        return checks.text(name, value)
    if isinstance(default, list):
        return checks.items(name, value, SensorCheck)
    if isinstance(default, int):
        return checks.integer(name, value, 0, _MOST)
    return checks.number(name, value)


def filled(options: Options, rules: type, given: Mapping[str, object], caller: str) -> Options:
    """Return `options` with what was given; a name that is no rule is refused as Python does."""
    for name, value in given.items():
        if name not in _names(rules):
            raise TypeError(f"{caller}() got an unexpected keyword argument '{name}'")
        setattr(options, name, _checked(name, value, getattr(options, name)))
    return options


def taking(
    rules: type, options: LoggerReadOptions | StoreOptions
) -> Callable[[Function], Function]:
    """Let help and completion show the rules of a function as arguments with their defaults."""
    return showing(
        inspect.Parameter(
            name,
            inspect.Parameter.KEYWORD_ONLY,
            default=getattr(options, name),
            annotation=kind,
        )
        for name, kind in _names(rules).items()
    )


def _names(rules: type) -> dict[str, Any]:
    """Return the rules and their kinds as written, those of a parent first."""
    kinds = rules.__annotations__
    return {name: getattr(kind, "__forward_arg__", kind) for name, kind in kinds.items()}
