"""What an exception carries, so that a program need not read its sentence."""

from pathlib import Path

import pytest

import aeruca


def test_wrong_input_carries_parameter_value_and_accepted() -> None:
    with pytest.raises(aeruca.InputError) as caught:
        aeruca.water.density_kg_per_m3(-5.0)
    error = caught.value
    assert error.parameter == "temperature_c"
    assert error.value == "-5"
    assert "0 to 350" in error.accepted
    assert str(error) == f"{error.parameter} = {error.value}: accepted is {error.accepted}"


def test_wrong_input_seen_by_python_carries_the_same() -> None:
    with pytest.raises(aeruca.InputError) as caught:
        aeruca.water.density_kg_per_m3("warm")
    error = caught.value
    assert (error.parameter, error.value) == ("temperature_c", "'warm'")
    assert str(error) == f"{error.parameter} = {error.value}: accepted is {error.accepted}"


def test_a_bad_file_carries_file_line_and_field(tmp_path: Path) -> None:
    case = tmp_path / "case.toml"
    case.write_text('[object]\nmass_g = "heavy"\n', encoding="utf-8")
    with pytest.raises(aeruca.FileError) as caught:
        aeruca.assess_case(case)
    error = caught.value
    assert (error.file, error.line, error.field) == (str(case), 2, "object.mass_g")
    assert error.problem in str(error)


def test_a_file_that_is_not_there_has_no_line(tmp_path: Path) -> None:
    with pytest.raises(aeruca.FileError) as caught:
        aeruca.read_logger(tmp_path / "none.csv")
    assert caught.value.line is None
    assert caught.value.file == str(tmp_path / "none.csv")


def test_an_unknown_name_carries_kind_name_and_nearest() -> None:
    with pytest.raises(aeruca.UnknownName) as caught:
        aeruca.deliquescence("halit")
    error = caught.value
    assert (error.kind, error.name, error.nearest) == ("salt", "halit", "halite")
    assert isinstance(error, KeyError)
    assert isinstance(error, aeruca.Error)


def test_attributes_of_a_class_are_none_until_set() -> None:
    assert aeruca.InputError("words").parameter is None
