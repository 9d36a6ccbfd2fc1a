"""A sample of finds, against SciPy's hypergeometric distribution over every possible truth."""

import numpy as np
import pytest
from scipy.stats import hypergeom

import aeruca
from aeruca import finds


def bounds(all_finds, tested, active):
    """Every truth that leaves the sample more than 5 % likely on its side."""
    truths = range(active, all_finds - (tested - active) + 1)
    most = [k for k in truths if hypergeom.cdf(active, all_finds, k, tested) > 0.05]
    least = [k for k in truths if hypergeom.sf(active - 1, all_finds, k, tested) > 0.05]
    return min(least), max(most)


def test_the_bounds_are_those_of_the_distribution():
    random = np.random.default_rng(20261127)
    for _ in range(200):
        number = int(random.integers(1, 120))
        tested = int(random.integers(0, number + 1))
        active = int(random.integers(0, tested + 1))
        found = finds.sample(number, tested, active)
        assert (found.at_least, found.at_most) == bounds(number, tested, active)


def test_tests_for_a_tenth_are_the_fewest_that_serve():
    for number in (1, 9, 10, 37, 200, 1000):
        found = finds.sample(number, 0, 0)
        unseen = hypergeom.pmf(0, number, number // 10 + 1, np.arange(number + 1))
        assert found.tests_for_a_tenth == int(np.argmax(unseen <= 0.05))


def test_bounds_hold_in_95_of_100_samples():
    random = np.random.default_rng(5)
    number, truly, tested = 150, 30, 25
    seen = random.hypergeometric(truly, number - truly, tested, size=2000)
    by_seen = {int(one): finds.sample(number, tested, int(one)) for one in set(seen)}
    assert np.mean([by_seen[one].at_most >= truly for one in seen]) >= 0.945
    assert np.mean([by_seen[one].at_least <= truly for one in seen]) >= 0.945


@pytest.mark.parametrize("given", [(0, 0, 0), (10, 11, 0), (10, 5, 6), (10, -1, 0)])
def test_counts_that_cannot_be_are_refused(given):
    with pytest.raises(aeruca.InputError, match="accepted is"):
        finds.sample(*given)
