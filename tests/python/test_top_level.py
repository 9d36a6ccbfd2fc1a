"""What a person meets first: few names, one screen of help, tab completion that shows them."""

import inspect
import io
import pydoc

import aeruca

HELD = {"__version__"}


def test_the_top_level_has_at_most_thirty_verbs_and_types() -> None:
    names = [name for name in dir(aeruca) if not inspect.ismodule(getattr(aeruca, name))]
    assert len(set(names) - HELD) <= 30
    assert all(hasattr(aeruca, name) for name in names)


def test_help_of_the_package_fits_on_a_screen() -> None:
    out = io.StringIO()
    pydoc.Helper(output=out).help(aeruca)
    text = out.getvalue()
    assert len(text.splitlines()) <= 70
    for verb in ("assess_case", "speciate", "assess_store", "fit_bath_log"):
        assert verb in text


def test_every_name_of_the_help_exists_and_has_its_own_help() -> None:
    assert aeruca.__doc__
    for name in dir(aeruca):
        if name in HELD:
            continue
        assert name in aeruca.__doc__, name
        assert getattr(aeruca, name).__doc__, name


def test_the_types_of_a_part_stand_beside_its_functions() -> None:
    assert aeruca.bath.BathFit.__name__ == "BathFit"
    assert aeruca.store.StoreAssessment.__name__ == "StoreAssessment"
    assert aeruca.brine.deliquescence is aeruca.deliquescence
