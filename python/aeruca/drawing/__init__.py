"""Figures of typed results, one module a part; matplotlib is imported when the first is drawn."""

from .fields import plot_fields as plot_fields
from .fields import require_matplotlib as require_matplotlib
