"""The words of every choice, as types."""

from __future__ import annotations

from typing import Literal, TypeAlias

ActivityModel: TypeAlias = Literal["ideal", "dilute", "sit", "pitzer"]
"""By what the activity coefficients are worked out."""
Acidity: TypeAlias = Literal["given_ph", "charge_balance"]
"""The pH is given, or follows from the charge balance."""
Redox: TypeAlias = Literal["eh", "oxygen", "conserved"]
"""Give ``eh_v``, or ``oxygen_bar``, or copper by valence and ``O2(aq)`` in the totals."""
Solvent: TypeAlias = Literal["one_kg", "water_activity"]
"""1 kg of water, or as much as has the ``water_activity`` that is given."""
Starts: TypeAlias = Literal["as_needed", "several"]
"""One start, and more where another answer may exist; or always several."""
BatchColumn: TypeAlias = Literal[
    "log10_molality",
    "solid_mol_per_kg",
    "leading_solid",
    "saturation_index",
    "log10_fugacity",
    "ph",
    "eh_v",
    "ionic_strength",
    "water_activity",
    "solvent_kg",
    "degenerate",
]
"""A figure of many waters that can be asked for."""
Precipitation: TypeAlias = Literal["none", "allowed"]
"""Whether solids may form."""
MissingEnthalpy: TypeAlias = Literal["refuse", "leave_out", "estimate"]
"""What becomes of a species or solid without an enthalpy away from 25 degrees C."""
