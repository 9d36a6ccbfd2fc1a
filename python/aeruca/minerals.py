"""What a lifted grain may be, from what was seen of it, and what it says of activity."""

from __future__ import annotations

from collections.abc import Sequence

from . import _core, checks
from ._core import (  # the types of this part
    Dataset,
)
from ._core import (
    FieldTest as FieldTest,
)
from ._core import (
    Mineral as Mineral,
)
from ._core import (
    MineralCandidate as MineralCandidate,
)
from ._core import (
    MineralIdentification as MineralIdentification,
)
from ._core import (
    MineralSight as MineralSight,
)
from ._core import (
    NextFieldTest as NextFieldTest,
)
from ._core import (
    OutcomeLeaves as OutcomeLeaves,
)

__all__ = ["field_tests", "guide", "identify", "mineral"]


def guide(dataset: Dataset | None = None) -> list[Mineral]:
    """Return every mineral of the guide: looks, meaning for activity, tests, molar volume."""
    return _core._minerals(checks.dataset(dataset))


def mineral(name: str, dataset: Dataset | None = None) -> Mineral:
    """Return one mineral of the guide by name. Raises UnknownName with the nearest."""
    return _core._mineral(checks.dataset(dataset), checks.text("name", name))


def field_tests(dataset: Dataset | None = None) -> list[FieldTest]:
    """Return the field tests: their outcomes, how they are done, their false results."""
    return _core._field_tests(checks.dataset(dataset))


def identify(seen: Sequence[str], dataset: Dataset | None = None) -> MineralIdentification:
    """Rank what a grain may be of which this was seen, and name the test that tells more.

    ``seen``: outcomes of field tests, such as ``["colour=pale-green", "powdery"]``, one of each
    test. No solid is a verdict: whether an object is active is told by growth, not by a name.
    Raises UnknownName for an outcome that no test has, InputError for two of one test.
    """
    return _core._identify_mineral(checks.dataset(dataset), checks.names("seen", seen))
