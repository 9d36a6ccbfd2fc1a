"""Run inside a bare virtual environment: the wheel alone must carry the main job.

One argument: the path of a case file.
"""

import sys

import numpy as np

import aeruca
import aeruca.tool

result = aeruca.Equilibrium(components=["Cu(2+)", "Cl(-)", "Na(+)"], precipitation="allowed").solve(
    {"Cu(2+)": 1e-3, "halite": 0.1}, ph=7.0, eh_v=0.3
)
result.raise_if_failed()
assert result.ionic_strength > 0.05
assert np.all(np.isfinite(aeruca.water.saturation_pressure_pa(np.array([10.0, 20.0]))))
case = aeruca.assess_case(sys.argv[1])
assert case.complete
assert case.verdict in {"dormant", "borderline", "active", "not known"}
assert aeruca.tool.main(["case", sys.argv[1]]) == 0
assert aeruca.tool.main(["class", "coin_in_salt_water"]) == 0
print("smoke", aeruca.__version__, "numpy", np.__version__, "python", sys.version.split()[0])
