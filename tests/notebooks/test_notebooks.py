"""Every notebook runs from top to bottom against the installed package; each ends in assertions."""

import json
import os
import re
import sys
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


@pytest.fixture
def kernel(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A kernel that starts this very Python."""
    place = tmp_path / "kernels" / "here"
    place.mkdir(parents=True)
    argv = [
        sys.executable,
        "-Xfrozen_modules=off",
        "-m",
        "ipykernel_launcher",
        "-f",
        "{connection_file}",
    ]
    spec = {"argv": argv, "display_name": "here", "language": "python"}
    (place / "kernel.json").write_text(json.dumps(spec), encoding="utf-8")
    monkeypatch.setenv("JUPYTER_PATH", str(tmp_path))
    monkeypatch.setenv("JUPYTER_PLATFORM_DIRS", "1")
    monkeypatch.setenv("PYDEVD_DISABLE_FILE_VALIDATION", "1")
    monkeypatch.setenv("MPLBACKEND", "agg")
    return "here"


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_notebook_runs(path: Path, kernel: str) -> None:
    notebook = nbformat.read(path, as_version=4)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert "assert" in code[-1].source, "the last code cell must check what the notebook claims"
    where = {"metadata": {"path": str(path.parent)}}
    NotebookClient(notebook, timeout=300, kernel_name=kernel, resources=where).execute()


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_notebook_asks_before_it_computes_and_ends_in_doubt(path: Path) -> None:
    cells = nbformat.read(path, as_version=4).cells
    first_code = next(i for i, cell in enumerate(cells) if cell.cell_type == "code")
    opening = "\n".join(cell.source for cell in cells[:first_code])
    assert "**Question.**" in cells[0].source
    assert "## Before you run this: what do you expect?" in opening
    told = [cell for cell in cells if cell.cell_type == "markdown"]
    assert told[-1].source.startswith("## What would change my mind\n")
    assert len(re.findall(r"(?m)^## In class$", "\n".join(cell.source for cell in told))) == 1
    code = "\n".join(cell.source for cell in cells if cell.cell_type == "code")
    assert f'teacher_sheet("{path.stem}", groups=' in code
    assert cells[-1].cell_type == "code"
    assert len({cell.id for cell in cells}) == len(cells)


def test_there_is_a_notebook_that_walks_the_demo_case() -> None:
    assert any("demo" in path.read_text(encoding="utf-8") for path in NOTEBOOKS), os.listdir()
