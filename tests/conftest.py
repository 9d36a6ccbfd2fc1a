"""Where things are: shared by every Python test."""

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


HEAVY = ("install", "notebooks")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Longest first: with several workers none is left waiting for a last long test."""
    folders = {item: item.path.relative_to(ROOT / "tests").parts[0] for item in items}
    items.sort(
        key=lambda item: HEAVY.index(folders[item]) if folders[item] in HEAVY else len(HEAVY)
    )


@pytest.fixture(scope="session")
def root() -> Path:
    """Top of the source tree."""
    return ROOT


@pytest.fixture(scope="session")
def tool() -> Path:
    """The C++ executable: AERUCA_TOOL, or the plain build's."""
    path = Path(os.environ.get("AERUCA_TOOL", ROOT / "build" / "aeruca"))
    if not path.exists():
        pytest.fail(f"no tool at {path}: build it, or set AERUCA_TOOL")
    return path


@pytest.fixture(scope="session")
def run(tool: Path) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the tool: run("salts", "--json", cwd=...) -> completed process with text output."""

    def call(*arguments: str, **options: object) -> subprocess.CompletedProcess[str]:
        return subprocess.run(  # type: ignore[call-overload, no-any-return]
            [str(tool), *arguments], capture_output=True, text=True, timeout=300, **options
        )

    return call
