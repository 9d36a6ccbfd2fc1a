"""Many loggers at once: each outcome is that of its file alone, and Python is not held up."""

import inspect
import os
import signal
import threading
import time
from pathlib import Path

import numpy as np
import pytest

import aeruca
from aeruca.store import OnsetCurve, assess_stores, read_loggers

BAND = OnsetCurve("band", [42.0], [46.0])


def write_log(path: Path, seed: int, rows: int = 2000) -> None:
    rng = np.random.default_rng(seed)
    rh = (40 + seed + 4 * np.sin(np.arange(rows) / 90) + rng.normal(0, 0.3, rows)).round(2)
    times = np.datetime64("2024-01-01T00:00:00") + np.arange(rows) * np.timedelta64(10, "m")
    lines = [f"{a},{20 + i % 2 / 10},{b}" for i, (a, b) in enumerate(zip(times, rh, strict=True))]
    path.write_text("time,T,RH\n" + "\n".join(lines) + "\n")


@pytest.fixture(scope="module")
def logs(tmp_path_factory):
    folder = tmp_path_factory.mktemp("logs")
    paths = [folder / f"{seed}.csv" for seed in range(6)]
    for seed, path in enumerate(paths):
        write_log(path, seed)
    paths[2].write_text("nothing of a logger\n")
    return paths


@pytest.mark.parametrize("threads", [0, 1, 4])
def test_outcomes_are_those_of_each_file_alone(logs, threads):
    loggers = read_loggers(logs, threads=threads)
    stores = assess_stores(loggers, BAND, threads=threads)
    assert [one.path for one in loggers] == [str(path) for path in logs]
    for path, logger, store in zip(logs, loggers, stores, strict=True):
        if path == logs[2]:
            assert logger.record is None
            assert store.assessment is None
            assert "names a time and a humidity column" in logger.problem
            assert store.problem == logger.problem
            continue
        assert logger.problem == store.problem == ""
        alone = aeruca.read_logger(path)
        assert (logger.record.rh_percent == alone.rh_percent).all()
        assert str(store.assessment.describe()) == str(aeruca.assess_store(alone, BAND).describe())


def test_records_are_judged_as_well_as_outcomes_of_reading(logs):
    records = [
        aeruca.read_logger(logs[0]),
        aeruca.store.record_from_arrays([0, 60], None, [40, 41]),
    ]
    first, second = assess_stores(records, BAND, cooler_c=1.0)
    assert first.assessment is not None
    assert second.assessment is None
    assert "the record has no temperatures" in second.problem


def test_wrong_settings_are_refused_at_once(logs):
    with pytest.raises(aeruca.InputError, match=r"gap_factor = 1: accepted is 1\.5 or more"):
        read_loggers(logs, gap_factor=1)
    with pytest.raises(aeruca.InputError, match="threads = 257: accepted is a whole number, 0 to"):
        read_loggers(logs, threads=257)
    with pytest.raises(aeruca.InputError, match=r"paths = .a\.csv.: accepted is a list of paths"):
        read_loggers("a.csv")
    with pytest.raises(aeruca.InputError, match="records = 3: accepted is LoggerRecords, or"):
        assess_stores([3], BAND)
    with pytest.raises(TypeError, match=r"assess_stores\(\) got an unexpected keyword argument"):
        assess_stores([], BAND, warmer_c=1)


def test_help_shows_every_rule_with_its_default():
    read = inspect.signature(aeruca.read_logger).parameters
    arrays = inspect.signature(aeruca.store.record_from_arrays).parameters
    judge = inspect.signature(assess_stores).parameters
    assert read["gap_factor"].default == 2.5
    assert read["time_column"].default == ""
    assert "time_column" not in arrays
    assert judge["accuracy_meaning"].default == "uniform"
    assert judge["minimum_readings"].default == 24
    assert set(inspect.signature(aeruca.assess_store).parameters) <= set(judge) | {"record"}


def test_other_threads_go_on_and_an_interrupt_is_heeded(logs):
    many = [logs[0]] * 100_000  # a second of work and more, wherever it runs
    ticks = 0
    done = threading.Event()

    def tick() -> None:
        nonlocal ticks
        while not done.wait(0.001):
            ticks += 1

    ticker = threading.Thread(target=tick)
    alarm = threading.Timer(0.1, os.kill, (os.getpid(), signal.SIGINT))
    ticker.start()
    alarm.start()
    start = time.perf_counter()
    try:
        with pytest.raises(KeyboardInterrupt):
            read_loggers(many, threads=2)
    finally:
        done.set()
        ticker.join()
        alarm.join()
    assert ticks > 3
    assert time.perf_counter() - start < 60
