"""What several tests of the package begin with."""

import pytest


@pytest.fixture
def sea() -> dict[str, float]:
    """Sea water of salinity 35, mol per kg of water."""
    return {
        "Na(+)": 0.4861,
        "Mg(2+)": 0.0547,
        "Ca(2+)": 0.01065,
        "K(+)": 0.01058,
        "Cl(-)": 0.5658,
        "SO4(2-)": 0.0293,
        "CO3(2-)": 0.0021,
    }
