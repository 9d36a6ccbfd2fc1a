"""Write `python/aeruca/_results.pyi` anew, from the descriptions of results in the compiled core.

Run it with the package of the build tree, after a change of a description; then read the diff.
"""

import shutil
import subprocess
import sys
from pathlib import Path

from aeruca import _core

STUB = Path(__file__).parents[2] / "python/aeruca/_results.pyi"


def main() -> None:
    """Write the stub, formatted where ruff is at hand."""
    STUB.write_text(_core._results_stub(), encoding="utf-8")
    ruff = shutil.which("ruff", path=str(Path(sys.executable).parent))
    if ruff:
        subprocess.run([ruff, "format", "--quiet", str(STUB)], check=True)


if __name__ == "__main__":
    main()
