"""Run inside a bare virtual environment: the wheel alone must carry the main job."""

import sys

import aeruca
import numpy as np

result = aeruca.Equilibrium(components=["Cu(2+)", "Cl(-)", "Na(+)"], all_phases=True).solve(
    {"Cu(2+)": 1e-3, "halite": 0.1}, ph=7.0, eh_v=0.3
)
result.raise_if_failed()
assert result.ionic_strength > 0.05
ph = np.linspace(6, 9, 4)
assert np.all(np.isfinite(aeruca.saturation_pressure_pa(np.array([10.0, 20.0]))))
code = aeruca.tool.main(["salts", "halite"])
assert code == 0
print("smoke", aeruca.__version__, "numpy", np.__version__, "python", sys.version.split()[0])
