"""Boxes, bags and cases: humidity inside, days to a limit, mass of gel, exchange of air."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from . import _core, checks
from ._core import (  # the types of this part
    Climate as Climate,
)
from ._core import (
    DrawnFigure as DrawnFigure,
)
from ._core import (
    Enclosure as Enclosure,
)
from ._core import (
    EnclosureForecast as EnclosureForecast,
)
from ._core import (
    EnclosureOptions,
    LoggerRecord,
    StoreAssessment,
)
from ._core import (
    ExchangeFit as ExchangeFit,
)
from ._core import (
    GelIsotherm as GelIsotherm,
)
from ._core import (
    GelOutcome as GelOutcome,
)
from ._core import (
    Review as Review,
)
from .drawing.enclosure import plot_enclosure as plot_enclosure

_NOT_GIVEN = float("nan")
_BIG = 2**63 - 1


def gel_isotherms() -> list[GelIsotherm]:
    """Return the published isotherms of silica gel, each with its source and range."""
    return _core._gel_isotherms()


def gel_water(gel: str, rh_percent: float, temperature_c: float = 25.0) -> float:
    """Return the water (kg per kg dry gel) that a gel of ``gel_isotherms`` holds."""
    return _core._gel_water(
        checks.text("gel", gel),
        checks.number("rh_percent", rh_percent),
        checks.number("temperature_c", temperature_c),
    )


def outside(
    record: LoggerRecord | None = None,
    *,
    temperature_c: float | None = None,
    rh_percent: float | None = None,
    inside_temperature_c: float | None = None,
) -> Climate:
    """Return what is outside: a record with temperatures, or one temperature and humidity.

    ``inside_temperature_c`` where the box is kept at a temperature of its own.
    """
    if record is not None:
        if temperature_c is not None or rh_percent is not None:
            raise TypeError("give a record, or a temperature and a humidity, not both")
        checks.instance("record", record, LoggerRecord, "a LoggerRecord, as read_logger returns it")
        climate = _core._climate_of(record)
    elif temperature_c is None or rh_percent is None:
        raise TypeError("give a record, or both temperature_c and rh_percent")
    else:
        climate = _core._constant_climate(
            checks.number("temperature_c", temperature_c), checks.number("rh_percent", rh_percent)
        )
    inside = checks.optional_number("inside_temperature_c", inside_temperature_c)
    return climate if inside is None else _core._in_room(climate, inside)


@dataclass(frozen=True)
class Moisture:
    """Contents by points of their moisture isotherm: dry kg, % RH, g of water per 100 g dry."""

    dry_kg: float
    rh_percent: npt.ArrayLike
    moisture_percent: npt.ArrayLike


def forecast(
    climate: Climate,
    *,
    volume_m3: float,
    exchange_per_day: float | ExchangeFit,
    start_rh_percent: float,
    gel_kg: float = 0.0,
    gel: str = "",
    contents: float | Moisture = 0.0,
    limit_rh_percent: float | None = None,
    days: float = 365.0,
    exchange_relative_sd: float | None = None,
    outside_rh_sd: float = 1.7,
    start_rh_sd: float = 2.0,
    temperature_sd: float = 1.0,
    draws: int = 200,
    seed: int = 1,
    threads: int = 0,
) -> EnclosureForecast:
    """Forecast the humidity inside, and, for a limit, how long it holds and how much gel it takes.

    ``gel`` is an id of ``gel_isotherms``; left out, the kind is not known and the range runs over
    all. ``contents`` is the water other things inside take up (g per % RH), or their ``Moisture``;
    ``days`` the time between two visits. ``exchange_relative_sd`` is 0.25 unless given (our own
    rule), or that of the fit when the exchange is one. Ranges are 5 to 95 % of ``draws``.
    """
    checks.instance("climate", climate, Climate, "a climate, as outside returns it")
    options = _options(exchange_per_day, exchange_relative_sd, limit_rh_percent)
    options.days = checks.number("days", days)
    options.outside_rh_sd = checks.number("outside_rh_sd", outside_rh_sd)
    options.start_rh_sd = checks.number("start_rh_sd", start_rh_sd)
    options.temperature_sd = checks.number("temperature_sd", temperature_sd)
    _draws(options, draws, seed, threads)
    box = _box(volume_m3, exchange_per_day, start_rh_percent, gel_kg, gel, contents)
    return _core._forecast_enclosure(box, climate, options)


def review(
    climate: Climate,
    *,
    volume_m3: float,
    exchange_per_day: float | ExchangeFit,
    start_rh_percent: float | None = None,
    start: str | None = None,
    inside: LoggerRecord | None = None,
    store: StoreAssessment | None = None,
    gel_kg: float = 0.0,
    gel: str = "",
    contents: float | Moisture = 0.0,
    limit_rh_percent: float | None = None,
    days: float = 365.0,
    exchange_relative_sd: float | None = None,
    draws: int = 200,
    seed: int = 1,
    threads: int = 0,
) -> Review:
    """Say by when a box must be looked at again: when 5 % and 50 % of the draws pass the limit.

    Left out, the start is the last day of the record ``inside``, at its last reading, and the limit
    the set-point of ``store``, what ``assess_store`` says of that record. ``start``: its date,
    YYYY-MM-DD. The rest as in ``forecast``.
    """
    checks.instance("climate", climate, Climate, "a climate, as outside returns it")
    if inside is not None:
        checks.instance("inside", inside, LoggerRecord, "a LoggerRecord, as read_logger returns it")
    if store is not None:
        told = "a StoreAssessment, as assess_store returns it"
        checks.instance("store", store, StoreAssessment, told)
    options = _options(exchange_per_day, exchange_relative_sd, limit_rh_percent)
    options.days = checks.number("days", days)
    _draws(options, draws, seed, threads)
    begin = checks.optional_number("start_rh_percent", start_rh_percent)
    begin = _NOT_GIVEN if begin is None else begin
    box = _box(volume_m3, exchange_per_day, begin, gel_kg, gel, contents)
    return _core._review_enclosure(box, climate, options, _seconds(start), inside, store)


def fit_decay(hours: npt.ArrayLike, values: npt.ArrayLike, background: float) -> ExchangeFit:
    """Find the exchange of air from the decay of a tracer, such as CO2, to its background."""
    return _core._fit_decay(
        _row("hours", hours), _row("values", values), checks.number("background", background)
    )


def fit_exchange(
    inside: LoggerRecord,
    outside: LoggerRecord,
    *,
    volume_m3: float = 1.0,
    gel_kg: float = 0.0,
    gel: str = "",
    contents: float | Moisture = 0.0,
) -> ExchangeFit:
    """Find the exchange of air from a record inside and one outside over the same time.

    The volume counts only beside gel and contents, which are known here.
    """
    for name, record in (("inside", inside), ("outside", outside)):
        checks.instance(name, record, LoggerRecord, "a LoggerRecord, as read_logger returns it")
    box = _box(volume_m3, 1.0, 50.0, gel_kg, gel, contents)
    return _core._fit_exchange(box, inside, outside)


def _options(
    exchange: float | ExchangeFit, relative_sd: float | None, limit: float | None
) -> EnclosureOptions:
    options = EnclosureOptions()
    if isinstance(exchange, ExchangeFit):
        options.exchange_relative_sd = exchange.relative_sd
    spread = checks.optional_number("exchange_relative_sd", relative_sd)
    if spread is not None:
        options.exchange_relative_sd = spread
    limited = checks.optional_number("limit_rh_percent", limit)
    options.limit_rh_percent = _NOT_GIVEN if limited is None else limited
    return options


def _draws(options: EnclosureOptions, draws: int, seed: int, threads: int) -> None:
    options.draws = checks.integer("draws", draws, 0, 10000)
    options.seed = checks.integer("seed", seed, 0, _BIG)
    options.threads = checks.integer("threads", threads, 0, 256)


def _seconds(date: str | None) -> int | None:
    if date is None:
        return None
    try:
        day = datetime.date.fromisoformat(checks.text("start", date))
    except ValueError:
        raise checks.refusal("start", checks.shown(date), "a date such as 2024-03-31") from None
    return 86400 * (day - datetime.date(1970, 1, 1)).days


def _box(
    volume_m3: float,
    exchange_per_day: float | ExchangeFit,
    start_rh_percent: float,
    gel_kg: float,
    gel: str,
    contents: float | Moisture,
) -> Enclosure:
    if isinstance(exchange_per_day, ExchangeFit):
        exchange_per_day = exchange_per_day.exchange_per_day
    points = contents if isinstance(contents, Moisture) else Moisture(0.0, [], [])
    straight = 0.0 if isinstance(contents, Moisture) else contents
    figures = {
        "volume_m3": volume_m3,
        "exchange_per_day": exchange_per_day,
        "start_rh_percent": start_rh_percent,
        "gel_kg": gel_kg,
        "contents_g_per_rh": straight,
        "contents_kg": points.dry_kg,
    }
    return _core._enclosure(
        {name: checks.number(name, figure) for name, figure in figures.items()},
        checks.text("gel", gel),
        checks.row("contents_rh_percent", points.rh_percent),
        checks.row("contents_moisture_percent", points.moisture_percent),
    )


def _row(name: str, values: npt.ArrayLike) -> npt.NDArray[np.float64]:
    return np.asarray(checks.row(name, values), dtype=np.float64)
