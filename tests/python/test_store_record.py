"""The store part from Python, against the same job written in NumPy and against iapws."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import aeruca
from aeruca._core import OnsetCurve

BAND = OnsetCurve("band", [42.0], [46.0])
START = np.datetime64("2024-01-01T00:00:00", "s")


def weights_of(seconds, gap_limit):
    """Known time of each reading: half of each interval, half a median interval beside a gap."""
    steps = np.diff(seconds)
    median = np.sort(steps)[(len(steps) - 1) // 2]
    kept = np.where(steps > gap_limit * median, median, steps)
    return 0.5 * (np.append(median, kept) + np.append(kept, median)), steps > gap_limit * median


def longest_run(above, breaks, weights):
    """Hours of the longest run of true values that no break cuts."""
    best = run = 0.0
    for i, flag in enumerate(above):
        if i > 0 and breaks[i - 1]:
            run = 0.0
        run = run + weights[i] if flag else 0.0
        best = max(best, run)
    return best / 3600


def random_record(seed, n=3000, missing=0.1):
    rng = np.random.default_rng(seed)
    rh = np.clip(41 + np.cumsum(rng.normal(0, 0.5, n)) % 11 + rng.normal(0, 0.3, n), 0, 100).round(
        2
    )
    times = START + np.arange(n) * np.timedelta64(10, "m")
    keep = rng.random(n) > missing
    keep[500:560] = False
    return times[keep], (20 + rng.normal(0, 2, n)).round(2)[keep], rh[keep]


@pytest.mark.parametrize("seed", range(8))
def test_shares_spells_and_percentiles_agree_with_numpy(seed):
    times, temperature, rh = random_record(seed)
    record = aeruca.store.record_from_arrays(times, temperature, rh)
    found = aeruca.assess_store(record, BAND)
    weights, breaks = weights_of(times.astype(np.int64), 2.5)
    assert found.known_hours == pytest.approx(weights.sum() / 3600, rel=1e-13)
    for above, limit in ((found.above_low, 42.0), (found.above_high, 46.0)):
        for share, hours, shift in (
            (above.share.if_reads_high, above.longest_h.if_reads_high, -3),
            (above.share.as_read, above.longest_h.as_read, 0),
            (above.share.if_reads_low, above.longest_h.if_reads_low, 3),
        ):
            wet = limit - rh < shift
            assert share == pytest.approx(weights[wet].sum() / weights.sum(), rel=1e-12, abs=1e-15)
            assert hours == pytest.approx(longest_run(wet, breaks, weights), rel=1e-12)
        expected = np.clip((rh - limit + 3) / 6, 0, 1)
        assert above.share.expected == pytest.approx(
            (weights * expected).sum() / weights.sum(), rel=1e-11
        )
    order = np.argsort(rh, kind="stable")
    reached = np.cumsum(weights[order]) / weights.sum()
    for value, share in (
        (found.rh_percent.p5, 0.05),
        (found.rh_percent.p50, 0.5),
        (found.rh_percent.p95, 0.95),
    ):
        assert value == rh[order][np.searchsorted(reached, share * (1 - 1e-12))]


def test_surface_humidity_agrees_with_iapws():
    from iapws import iapws97

    for temperature in (5.0, 12.5, 20.0, 33.0):
        for cooler in (0.5, 1.0, 2.0, 4.5):
            ratio = iapws97._PSat_T(temperature + 273.15) / iapws97._PSat_T(
                temperature - cooler + 273.15
            )
            found = float(aeruca.store.surface_rh_percent(42.0, temperature, cooler))
            assert found == pytest.approx(42.0 * ratio, rel=1e-9)
    assert np.round(aeruca.store.surface_rh_percent(42.0, 20.0, [1.0, 2.0]), 1).tolist() == [
        44.7,
        47.6,
    ]


def test_surface_humidity_broadcasts_and_passes_nan():
    grid = aeruca.store.surface_rh_percent(
        np.array([[40.0], [np.nan]]), 20.0, np.array([0.0, 1.0, 2.0])
    )
    assert grid.shape == (2, 3)
    assert np.isnan(grid[1]).all()
    with pytest.raises(
        aeruca.InputError, match="temperature_c = 90: accepted is 0 to 60 degrees C"
    ):
        aeruca.store.surface_rh_percent(40.0, 90.0, 1.0)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0, 100).map(lambda x: round(x, 2)), min_size=2, max_size=60),
    st.sampled_from([",", ";", "\t"]),
    st.booleans(),
)
def test_a_file_and_arrays_give_the_same_record(tmp_path_factory, values, separator, windows):
    times = START + np.arange(len(values)) * np.timedelta64(1, "h")
    lines = [separator.join(["rh", "date time"])]
    lines += [separator.join([f"{v:.2f}", str(t)]) for v, t in zip(values, times, strict=True)]
    path = tmp_path_factory.mktemp("log") / "log.csv"
    path.write_bytes(("\r\n" if windows else "\n").join(lines).encode())
    # Drawn humidities may all lie below 1 %, which a file is asked about.
    record = aeruca.read_logger(path, rh_unit="percent")
    arrays = aeruca.store.record_from_arrays(times, None, values)
    assert record.rh_percent.tolist() == arrays.rh_percent.tolist() == values
    assert (aeruca.store.record_times(record) == times).all()
    assert not record.has_temperature()
    assert np.isnan(record.temperature_c).all()


def test_times_are_datetimes_or_seconds_and_nothing_else():
    assert aeruca.store.record_from_arrays([0, 3600], None, [40, 41]).times_s.tolist() == [0, 3600]
    days = np.array(["2024-01-01", "2024-01-02"], dtype="datetime64[D]")
    assert aeruca.store.record_from_arrays(days, [20, 21], [40, 41]).interval_s == 86400
    with pytest.raises(
        aeruca.InputError, match="times = an array of float64: accepted is datetime64 or"
    ):
        aeruca.store.record_from_arrays([0.5, 1.5], None, [40, 41])
    with pytest.raises(aeruca.InputError, match="times = NaT: accepted is times without a hole"):
        aeruca.store.record_from_arrays(np.array(["NaT"], dtype="datetime64[s]"), None, [40])
    with pytest.raises(
        aeruca.InputError, match=r"times = an array of shape \(1, 2\): accepted is one dim"
    ):
        aeruca.store.record_from_arrays([[0, 1]], None, [40])
    with pytest.raises(aeruca.InputError, match="rh_percent = 3 values: accepted is 2 values"):
        aeruca.store.record_from_arrays([0, 1], None, [40, 41, 42])


def test_limits_come_from_the_data_set_a_number_or_a_salt():
    chosen = aeruca.store.onset()
    assert (chosen.low_rh_percent, chosen.high_rh_percent) == ([42.0], [46.0])
    assert aeruca.store.onset(chosen.id).source == chosen.source
    assert aeruca.store.onset(40).low_rh_percent == [40.0]
    halite = aeruca.store.onset(salt="halite")
    assert 74 < halite.low_rh_percent[0] <= halite.high_rh_percent[0] < 77
    with pytest.raises(aeruca.UnknownName):
        aeruca.store.onset("no-such-band")
    with pytest.raises(
        aeruca.InputError, match="limit_rh_percent = 140: accepted is 0 to 100 % RH"
    ):
        aeruca.store.onset(140)
    with pytest.raises(TypeError, match="a limit or a salt, not both"):
        aeruca.store.onset(40, salt="halite")


def test_wrong_settings_are_refused_by_name():
    record = aeruca.store.record_from_arrays([0, 3600], None, [40, 41])
    with pytest.raises(TypeError, match="unexpected keyword argument 'warmer_c'"):
        aeruca.assess_store(record, BAND, warmer_c=1)
    with pytest.raises(TypeError, match="unexpected keyword argument 'gaps'"):
        aeruca.store.record_from_arrays([0], None, [40], gaps=1)
    with pytest.raises(
        aeruca.InputError, match="cooler_c = 1: accepted is 0 and a limit that does not"
    ):
        aeruca.assess_store(record, BAND, cooler_c=1)
    with pytest.raises(
        aeruca.InputError, match="accuracy_meaning = sigma: accepted is uniform or normal_95"
    ):
        aeruca.assess_store(record, BAND, accuracy_meaning="sigma")
    with pytest.raises(aeruca.FileError, match=r"nowhere\.csv: cannot be opened"):
        aeruca.read_logger("nowhere.csv")


@pytest.fixture(scope="module")
def demo(root: Path):
    return aeruca.read_logger(root / "data" / "demo" / "store-log.csv")


def test_the_demo_record_shows_each_of_its_faults(demo):
    counts = demo.fault_counts
    assert counts["gap"] == 3
    assert counts["impossible value"] == 3
    assert counts["unreadable"] == 1
    assert counts["missing value"] == 2
    assert counts["clock change"] == 2
    assert counts["stuck sensor"] == 1
    assert counts["duplicate"] == 3
    assert counts["conflicting duplicate"] == 1
    assert counts["out of order"] == 1
    assert demo.rows == len(demo) + demo.dropped
    stretch = demo.stuck[0]
    assert len(set(demo.rh_percent[stretch[0] : stretch[1] + 1])) == 1


def test_the_demo_file_is_what_its_script_writes(root, tmp_path):
    import subprocess
    import sys

    script = root / "data" / "demo" / "make_store_log.py"
    subprocess.run([sys.executable, str(script), str(tmp_path / "log.csv")], check=True)
    assert (tmp_path / "log.csv").read_bytes() == (root / "data/demo/store-log.csv").read_bytes()


def test_the_plot_shows_band_gaps_and_spell(demo):
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("Agg")
    import matplotlib.pyplot as plt

    assessment = aeruca.assess_store(demo, BAND, cooler_c=1.0)
    axes = aeruca.plot_store(demo, assessment)
    labels = [text.get_text() for text in axes.get_legend().get_texts()]
    assert any("onset band 42 to 46 % RH" in label for label in labels)
    assert any("1 K cooler" in label for label in labels)
    assert any("no reading, or sensor stuck" in label for label in labels)
    assert any("longest spell above the high end" in label for label in labels)
    plt.close("all")
