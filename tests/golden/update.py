"""Write the accepted texts anew: python tests/golden/update.py TOOL. Then read the diff."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = {
    "demo_case.txt": ["case", "data/demo/case.toml", "--date", "2026-06-30", "--full"],
    "demo_front.txt": ["case", "data/demo/case.toml", "--date", "2026-06-30"],
    "new_case.toml": ["case", "--new", "{file}"],
}


def printed(tool: str, name: str, scratch: Path) -> str:
    """What the tool prints, or writes where the command names {file}."""
    written = scratch / name
    arguments = [a.replace("{file}", str(written)) for a in GOLDEN[name]]
    done = subprocess.run([tool, *arguments], cwd=ROOT, capture_output=True, text=True, check=True)
    return written.read_text(encoding="utf-8") if written.exists() else done.stdout


if __name__ == "__main__":
    import tempfile

    for golden in GOLDEN:
        with tempfile.TemporaryDirectory() as place:
            text = printed(sys.argv[1], golden, Path(place))
        (Path(__file__).parent / golden).write_text(text, encoding="utf-8")
        print(f"wrote tests/golden/{golden}")
