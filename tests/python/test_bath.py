"""The bath part from Python: broadcasting, errors, log, fit, weigh-out, picture."""

import threading
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import aeruca

LOG = """# invented
start;end;volume_l;chloride_mg_per_l;detection_limit_mg_per_l;blank_mg_per_l
2025-01-06;2025-01-13;2,0;63,1;2;1,0
2025-01-13;2025-01-20;2,0;27,4;2;1,0
2025-01-20;2025-01-27;2,0;19,0;2;1,0
2025-01-27;2025-02-03;2,0;13,6;2;1,0
2025-02-03;2025-02-10;2,0;9,2;2;1,0
2025-02-10;2025-02-17;2,0;;2;1,0
2025-02-17;2025-02-24;2,0;5,4;2;1,0
2025-02-24;2025-03-03;2,0;<2;2;1,0
"""


@pytest.fixture
def log(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(LOG)
    return aeruca.read_bath_log(path)


def test_series_broadcasts_over_rates_and_lets_nan_through():
    rates = np.array([[0.001, 0.01], [np.nan, 0.1]])
    result = aeruca.bath.bath_series(rates, [7, 14, 14], alpha=[10, 20, 20], carry_over=0.05)
    assert result.left.shape == (2, 2, 3)
    assert np.isnan(result.left[1, 0]).all()
    single = aeruca.bath.bath_series(0.01, [7, 14, 14], alpha=[10, 20, 20], carry_over=0.05)
    assert single.left.shape == (3,)
    np.testing.assert_allclose(result.left[0, 1], single.left, atol=1e-13)
    assert result.truncation_error < 1e-9


@given(
    rate=st.floats(1e-6, 1), days=st.lists(st.floats(0.1, 60), min_size=1, max_size=6),
    alpha=st.floats(0.1, 1000), shape=st.sampled_from(["slab", "cylinder", "sphere"]),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_mass_is_conserved_and_falls(rate, days, alpha, shape):
    result = aeruca.bath.bath_series(rate, days, alpha=alpha, shape=shape)
    before = np.concatenate([[1.0], result.left[:-1]])
    np.testing.assert_allclose(before - result.left, result.in_bath, atol=1e-12)
    assert (np.diff(result.left) <= 1e-9).all()


def test_curve_meets_series():
    tau = np.linspace(0, 0.5, 11)
    in_bath, left = aeruca.bath.bath_curve(tau, [0.2, 0.3], alpha=5)
    ends = aeruca.bath.bath_series(1.0, [0.2, 0.3], alpha=5)
    assert left[0] == 1
    np.testing.assert_allclose([left[4], left[10]], ends.left, atol=1e-9)
    np.testing.assert_allclose([in_bath[4], in_bath[10]], ends.in_bath, atol=1e-9)


def test_fraction_of_final_release_broadcasts():
    alpha = np.array([[1.0], [10.0]])
    values = aeruca.bath.fraction_of_final_release("sphere", alpha, np.array([0.01, 0.1, np.nan]))
    assert values.shape == (2, 3)
    np.testing.assert_allclose(values[:, :2], [[0.4908, 0.9039], [0.3311, 0.7939]], atol=5.1e-5)
    assert np.isnan(values[:, 2]).all()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: aeruca.bath.bath_series(-1.0, [1]), "rate = -1: accepted is 0 or more"),
        (lambda: aeruca.bath.bath_series(1.0, [1], alpha=0), "alpha of bath 1 = 0"),
        (lambda: aeruca.bath.bath_series(1.0, [1, 2, 3], alpha=[1, 2]), r"shapes \(2,\), \(3,\)"),
        (lambda: aeruca.bath.bath_series(1.0, [[1, 2]]), r"days = an array of shape \(1, 2\)"),
        (
            lambda: aeruca.bath.bath_series(1.0, [1], load="at-metal", shape="sphere"),
            "load = at-metal",
        ),
        (lambda: aeruca.weigh_out("dihydrate"), "either percent_w_v or mol_per_l"),
        (lambda: aeruca.weigh_out("", percent_w_v=5), "what stands on the shelf"),
    ],
)
def test_bad_input_is_named(call, message):
    with pytest.raises(aeruca.InputError, match=message):
        call()


def test_an_unknown_shape_names_the_nearest():
    with pytest.raises(aeruca.UnknownName, match="nearest is 'sphere'"):
        aeruca.bath.bath_series(1.0, [1], shape="spere")


def test_log_summary_and_fit(log):
    assert len(log) == 8
    assert [bath.kind for bath in log.baths][5:] == ["not measured", "measured", "below detection"]
    summary = aeruca.summarise_bath_log(log, object_mass_g=180)
    assert summary.total_mg == pytest.approx(263.4)
    assert summary.total_mg_per_g == pytest.approx(263.4 / 180)
    fit = aeruca.fit_bath_log(log, object_mass_g=180, stop_mg_per_l=2)
    assert fit.status == "converged"
    assert fit.load_mg.low < fit.load_mg.median < fit.load_mg.high
    assert fit.forecast == "given"
    assert "not an empty object" in fit.forecast_reason
    assert "BathFit converged" in repr(fit)
    assert sum(fit.partition_weights) == pytest.approx(1)


def test_a_file_fault_names_file_line_and_column(tmp_path):
    path = tmp_path / "bad.csv"
    path.write_text(LOG.replace("27,4", "27.4"))
    with pytest.raises(
        aeruca.FileError, match=r"bad\.csv, line 4, chloride_mg_per_l: '27\.4' has a decimal point"
    ):
        aeruca.read_bath_log(path)


def test_the_fit_lets_other_threads_run(log):
    seen = []
    stop = threading.Event()

    def count():
        while not stop.is_set():
            seen.append(time.perf_counter())

    thread = threading.Thread(target=count)
    thread.start()
    begun = time.perf_counter()
    aeruca.fit_bath_log(log, shape="sphere", grid=1500)
    ended = time.perf_counter()
    stop.set()
    thread.join()
    inside = [moment for moment in seen if begun < moment < ended]
    assert max(np.diff([begun, *inside, ended])) < 0.8 * (ended - begun)


def test_weigh_out():
    out = aeruca.weigh_out("decahydrate", percent_w_v=5, reagent_chloride_percent=0.002)
    assert [round(r.grams, 2) for r in out.reagents] == [63.3, 18.58]
    assert out.traps[0][1] == pytest.approx(2.70, abs=0.005)
    assert "sheet" in out.cautions[-1]
    assert "decahydrate" in aeruca.bath.shelf_forms("sodium carbonate")
    assert "sodium sesquicarbonate" in aeruca.bath.bath_salts()


def test_the_picture_shows_readings_bands_and_what_comes_next(log):
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("Agg")
    fit = aeruca.fit_bath_log(log)
    axes = aeruca.plot_bath(log, fit, stop_mg_per_l=2)
    labels = [text.get_text() for text in axes.get_legend().get_texts()]
    assert any("below detection" in label for label in labels)
    assert any("next: 7 days in 2 L" in label for label in labels)
    assert len(axes.collections) >= len(log)
    assert axes.get_ylabel() == "chloride in the bath (mg/L)"
    import matplotlib.pyplot as plt

    plt.close(axes.figure)
