"""Some finds of a site were tested: how many of all may be active."""

from __future__ import annotations

from . import _core, checks
from ._core import FindsSample as FindsSample

__all__ = ["sample"]


def sample(finds: int, tested: int, active: int) -> FindsSample:
    """Return how many of all finds may be active, each bound with 95 % confidence.

    `tested` of the `finds` (at most 100000) were picked at random, `active` of these found active.
    Objects from one wet corner, or picked for their looks, are no such sample. By the
    hypergeometric distribution.
    """
    return _core.finds_sample(
        checks.integer("finds", finds, 1, 100_000),
        checks.integer("tested", tested, 0, finds),
        checks.integer("active", active, 0, tested),
    )
