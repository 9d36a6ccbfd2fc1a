"""What several tests of the package begin with."""

import openpyxl
import pytest

import aeruca


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


@pytest.fixture
def blank(tmp_path):
    """A new workbook, as `aeruca case --new` writes it."""
    path = tmp_path / "case.xlsx"  # as long a name as case.toml: lines break alike
    aeruca.case.new_case(path)
    return path


@pytest.fixture
def typed(blank):
    """Types values into cells of a new workbook: typed(("object", "B9", 62.4), ...) -> its path."""

    def fill(*cells, then=None):
        book = openpyxl.load_workbook(blank)
        for sheet, cell, value in cells:
            book[sheet][cell] = value
        if then:
            then(book)
        book.save(blank)
        return blank

    return fill
