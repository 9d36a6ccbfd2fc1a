"""Water against the independent package `iapws`, and the manners of the functions."""

import numpy as np
import pytest

import aeruca

iapws97 = pytest.importorskip("iapws.iapws97")
iapws_releases = pytest.importorskip("iapws._iapws")


def test_saturation_pressure_over_a_grid() -> None:
    celsius = np.linspace(0, 370, 75)
    theirs = np.array([iapws97._PSat_T(t + 273.15) for t in celsius]) * 1e6
    np.testing.assert_allclose(aeruca.water.saturation_pressure_pa(celsius), theirs, rtol=1e-12)


def test_density_over_a_grid() -> None:
    celsius, pressure = np.meshgrid(np.linspace(0.5, 99, 23), [101325.0, 1e6, 25e6, 100e6])
    theirs = np.vectorize(lambda t, p: 1 / iapws97._Region1(t + 273.15, p / 1e6)["v"])(
        celsius, pressure
    )
    np.testing.assert_allclose(
        aeruca.water.density_kg_per_m3(celsius, pressure), theirs, rtol=1e-12
    )


def test_permittivity_over_a_grid() -> None:
    celsius, density = np.meshgrid(np.linspace(0, 350, 36), [600.0, 900.0, 997.0, 1100.0])
    theirs = np.vectorize(lambda t, rho: iapws_releases._Dielectric(rho, t + 273.15))(
        celsius, density
    )
    np.testing.assert_allclose(aeruca.water.permittivity(celsius, density), theirs, rtol=1e-7)


def test_ionic_product_of_liquid_water() -> None:
    """A known disagreement: the package (1.5.5) carries other coefficients than the release.

    Its own documented check, 13.906565 at 300 K and 1000 kg/m3, it gives as 13.906672. On liquid
    water the two differ by less than 0.004, and the printed table (12.165 at 25 MPa, 100 C) sides
    with the release.
    """
    assert aeruca.water.pkw(26.85, 1000.0) == pytest.approx(13.906565, abs=1e-6)
    celsius = np.linspace(0, 99, 34)
    density = aeruca.water.density_kg_per_m3(celsius, 25e6)
    theirs = np.vectorize(lambda t, rho: iapws_releases._Kw(rho, t + 273.15))(celsius, density)
    np.testing.assert_allclose(aeruca.water.pkw(celsius, density), theirs, atol=0.004)
    assert aeruca.water.pkw(100.0, aeruca.water.density_kg_per_m3(100.0, 25e6)) == pytest.approx(
        12.165, abs=0.001
    )


def test_slopes_keep_their_shape_and_belong_together() -> None:
    slopes = aeruca.water.debye_hueckel_slopes([[0.0, 25.0], [50.0, 100.0]])
    assert slopes.a_log10.shape == (2, 2)
    np.testing.assert_allclose(slopes.a_phi, slopes.a_log10 * np.log(10) / 3, rtol=1e-14)
    assert aeruca.water.debye_hueckel_slopes(25.0).a_log10 == pytest.approx(0.5098, abs=5e-4)


def test_scalars_stay_scalars_and_nan_passes() -> None:
    assert isinstance(aeruca.water.saturation_pressure_pa(25.0), float)
    assert np.isnan(aeruca.water.density_kg_per_m3([25.0, np.nan])).tolist() == [False, True]


@pytest.mark.parametrize(
    "function",
    [
        aeruca.water.saturation_pressure_pa,
        aeruca.water.density_kg_per_m3,
        aeruca.water.permittivity,
    ],
)
def test_none_is_refused(function: object) -> None:
    with pytest.raises(aeruca.InputError, match="temperature_c = None: accepted is a number"):
        function(*[None, 1000.0][: 2 if function is aeruca.water.permittivity else 1])  # type: ignore[operator]


def test_out_of_range_names_the_argument() -> None:
    with pytest.raises(aeruca.InputError, match="temperature_c = -1"):
        aeruca.water.saturation_pressure_pa([20.0, -1.0])
    with pytest.raises(aeruca.InputError, match=r"pressure_pa = 100000: accepted is .*liquid"):
        aeruca.water.density_kg_per_m3(120.0, 1e5)
