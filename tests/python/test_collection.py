"""A collection over Dask: the same rows for any partition, on workers of their own processes."""

import pickle
import time

import numpy as np
import pytest

import aeruca
from aeruca.collection import (
    judge_collection,
    judge_readings,
    plot_collection,
    spread_collection,
    table,
)

dd = pytest.importorskip("dask.dataframe")
pytestmark = pytest.mark.filterwarnings("default")

LOGGERS = 1000
ROWS = 360  # an hour each: 15 days
HOURS = np.datetime64("2024-01-01T00:00:00") + np.arange(ROWS) * np.timedelta64(1, "h")
TIMES = HOURS.astype(str).tolist()


def humidities(seed: int) -> np.ndarray:
    rng = np.random.default_rng(seed)
    mean = 30 + 25 * (seed * 37 % LOGGERS) / LOGGERS
    return (mean + 4 * np.sin(np.arange(ROWS) / 40) + rng.normal(0, 0.3, ROWS)).round(1)


def text(rh: np.ndarray, times: list[str] = TIMES) -> str:
    rows = "\n".join(f"{t},20.5,{value}" for t, value in zip(times, rh.tolist(), strict=True))
    return f"time,T,RH\n{rows}\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A thousand loggers, one of them broken, one of a few readings."""
    logs = tmp_path_factory.mktemp("logs")
    for seed in range(LOGGERS):
        (logs / f"{seed:04}.csv").write_text(text(humidities(seed)))
    (logs / "0100.csv").write_text("nothing of a logger\n")
    (logs / "0200.csv").write_text(text(humidities(200)[:10], TIMES[:10]))
    return logs


@pytest.fixture(scope="module")
def client():
    """A cluster of two workers, each a process."""
    from distributed import Client, LocalCluster

    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        yield client


def rows(collection):
    return collection.to_csv("objects")


def test_a_thousand_loggers_on_two_workers_are_those_of_one_machine(folder, client):
    assert len(client.nthreads()) == 2
    whole = judge_collection(folder, "scott-1990")
    assert len(whole.objects) == LOGGERS
    assert whole.unusable == 1
    assert whole.not_known == 1
    assert whole.active > 100
    assert whole.dormant > 100
    for partitions in (0, 1, 7, 333):
        start = time.monotonic()
        spread = spread_collection(folder, "scott-1990", partitions=partitions, client=client)
        print(f"{partitions} partitions: {time.monotonic() - start:.1f} s")
        assert rows(spread) == rows(whole)
    assert [pickle.dumps(one) for one in spread.objects] == [
        pickle.dumps(one) for one in whole.objects
    ]


def test_the_work_is_shared_by_both_workers(folder, client):
    spread_collection(folder, 42, partitions=50, client=client)
    whose = client.run(lambda dask_worker: dask_worker.state.executed_count)
    assert len(whose) == 2
    assert all(count > 0 for count in whose.values())


def test_the_files_of_an_object_are_joined_on_its_worker(folder, tmp_path, client):
    objects = {}
    for seed in (3, 700):
        rh = humidities(seed)
        parts = tmp_path / f"bronze {seed}"
        parts.mkdir()
        for first, end in ((0, 100), (90, 250), (250, ROWS)):
            (parts / f"{first:03}.csv").write_text(text(rh[first:end], TIMES[first:end]))
        objects[f"bronze {seed}"] = parts
    spread = spread_collection(objects, 42, client=client)
    assert {one.file for one in spread.objects} == set(objects)
    for one in spread.objects:
        record = aeruca.read_logger(folder / f"{int(one.file.split()[1]):04}.csv")
        alone = aeruca.assess_store(record, 42)
        assert one.probability_dormant == alone.probability_dormant
        assert one.share_too_humid == alone.above_low.share.as_read
        assert one.reason == alone.reason


def test_readings_in_any_partitions_give_the_same_rows(client):
    import pandas as pd

    seeds = range(40)
    frame = pd.DataFrame(
        {
            "object": np.repeat([f"bronze {seed}" for seed in seeds], ROWS),
            "time": np.tile(HOURS, len(seeds)),
            "rh_percent": np.concatenate([humidities(seed) for seed in seeds]),
            "temperature_c": 20.5,
        }
    )
    # Some hours twice: again the same, and another value.
    frame = pd.concat([frame, frame[::50], frame[::70].assign(rh_percent=41.0)])
    shuffled = frame.sample(frac=1, random_state=7)
    whole = judge_readings(frame, 42, client=client)
    assert len(whole.objects) == len(seeds)
    for partitions in (1, 5, 23):
        parts = dd.from_pandas(shuffled, npartitions=partitions, sort=False)
        assert rows(judge_readings(parts, 42, client=client)) == rows(whole)
    renamed = shuffled.rename(columns={"object": "logger", "rh_percent": "RH"})
    given = {"object": "logger", "rh_percent": "RH"}
    parts = dd.from_pandas(renamed, npartitions=3, sort=False)
    assert rows(judge_readings(parts, 42, columns=given, client=client)) == rows(whole)
    # Against the readings of one object alone, put in order by hand.
    one = frame[frame["object"] == "bronze 7"].sort_values(
        ["time", "rh_percent"], ascending=[True, False]
    )
    record = aeruca.store.record_from_arrays(
        one["time"].to_numpy(), one["temperature_c"].to_numpy(), one["rh_percent"].to_numpy()
    )
    alone = aeruca.assess_store(record, 42)
    row = next(found for found in whole.objects if found.file == "bronze 7")
    assert row.probability_dormant == alone.probability_dormant
    assert row.share_too_humid == alone.above_low.share.as_read


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda f: spread_collection(f, 42, cooler=1), "unexpected keyword argument 'cooler'"),
        (lambda f: spread_collection(f, 42, partitions=-1), "partitions = -1: accepted is"),
        (lambda f: spread_collection([], 42), "names = none: accepted is at least one file"),
        (lambda f: spread_collection(f / "no*", 42), "fits no file; accepted is a pattern"),
        (lambda f: judge_collection(f, 420), "0 to 100"),
        (lambda f: judge_readings(aeruca, 42, time_column="t"), "argument 'time_column'"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_before_any_work(folder, call, says):
    with pytest.raises((TypeError, aeruca.Error)) as refused:
        call(folder)
    assert says in str(refused.value)


def test_a_table_of_readings_without_a_column_is_refused():
    import pandas as pd

    frame = pd.DataFrame({"object": ["a"], "time": [HOURS[0]], "RH": [40.0]})
    with pytest.raises(aeruca.InputError, match="columns = rh_percent: accepted is names of"):
        judge_readings(frame, 42)
    with pytest.raises(aeruca.InputError, match="columns = rh: accepted is object, time, rh_p"):
        judge_readings(frame, 42, columns={"rh": "RH"})


def test_readings_of_no_object_are_not_lost_and_other_kinds_are_refused():
    import pandas as pd

    frame = pd.DataFrame({"object": ["a"] * ROWS + [None] * ROWS, "time": np.tile(HOURS, 2)})
    frame["rh_percent"] = np.tile(humidities(5), 2)
    found = judge_readings(frame, 42)
    assert {one.file for one in found.objects} == {"a", "(no name)"}
    assert {one.readings for one in found.objects} == {ROWS}
    with pytest.raises(aeruca.InputError, match=r"time = .*: accepted is times as datetime64"):
        judge_readings(frame.assign(time=frame["time"].astype(str)), 42)
    with pytest.raises(aeruca.InputError, match=r"rh_percent = .*: accepted is numbers, % RH"):
        judge_readings(frame.assign(rh_percent="40"), 42)


def test_progress_is_told_and_an_error_in_it_ends_the_work(folder):
    told = []
    judge_collection(folder / "00*.csv", 42, threads=1, progress=lambda *each: told.append(each))
    assert told == [(k, 100) for k in range(1, 101)]

    def stop(done, _):
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        judge_collection(folder, 42, threads=1, progress=stop)


def test_the_table_and_the_picture_hold_every_object(folder):
    pytest.importorskip("matplotlib")
    collection = judge_collection(folder / "0[1-2]*.csv", "scott-1990")
    frame = table(collection)
    assert frame["file"].tolist() == [one.file for one in collection.objects]
    assert frame["probability_dormant"].iloc[3] == collection.objects[3].probability_dormant
    assert str(frame["from"].dtype).startswith("datetime64")
    assert frame["rank"].isna().sum() == 2
    axes = plot_collection(collection)
    chances, worst = axes
    assert len(chances.patches) == 3
    assert len(worst.patches) == 15
    assert chances.get_title() == "200 objects against scott-1990; 2 without a rank"


def test_without_dask_one_sentence_says_what_to_install(folder, monkeypatch):
    def missing(name):
        raise ImportError(name)

    monkeypatch.setattr("aeruca.spread.import_module", missing)
    with pytest.raises(ModuleNotFoundError) as refused:
        spread_collection(folder, 42)
    assert str(refused.value) == 'a spread collection needs Dask: pip install "aeruca[collection]"'
