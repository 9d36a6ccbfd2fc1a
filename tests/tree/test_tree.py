"""The tree a reader sees: fixed top level, sizes, one version, no leftovers."""

import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import aeruca

TOP_LEVEL = {
    "CHANGELOG.md",
    "CITATION.cff",
    "CMakeLists.txt",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "data",
    "dev",
    "include",
    "notebooks",
    "pyproject.toml",
    "python",
    "src",
    "tests",
}
CODE = {".cpp", ".hpp", ".py", ".cmake"}


def tracked(root: Path) -> list[Path]:
    """Files of the project: what git tracks, or everything when there is no checkout."""
    done = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, text=True)
    if done.returncode == 0:
        return [root / name for name in done.stdout.split("\0") if name and (root / name).exists()]
    skipped = {"build", ".venv", "demo-out"}
    return [
        f for f in root.rglob("*") if f.is_file() and f.relative_to(root).parts[0] not in skipped
    ]


def test_top_level_is_the_fixed_one(root: Path) -> None:
    names = {f.relative_to(root).parts[0] for f in tracked(root)}
    assert {n for n in names if not n.startswith(".")} == TOP_LEVEL


def test_no_leftover_is_called_done(root: Path) -> None:
    words = re.compile(r"\b(TODO|FIXME|XXX|NotImplemented)\b|not implemented")
    wrong = [
        f"{f.relative_to(root)}: {m.group(0)}"
        for f in tracked(root)
        if f.suffix in CODE and f.relative_to(root).parts[0] in {"src", "include", "python"}
        if (m := words.search(f.read_text(encoding="utf-8")))
    ]
    assert not wrong, "\n".join(wrong)


def test_one_version_everywhere(
    root: Path, run: Callable[..., subprocess.CompletedProcess[str]]
) -> None:
    text = (root / "CMakeLists.txt").read_text(encoding="utf-8")
    match = re.search(r"project\(aeruca VERSION ([0-9.]+)", text)
    assert match
    version = match.group(1)
    assert aeruca.__version__ == version
    assert run("--version").stdout.strip() == version
    assert f"version: {version}\n" in (root / "CITATION.cff").read_text(encoding="utf-8")
    assert f"## {version}" in (root / "CHANGELOG.md").read_text(encoding="utf-8")


def test_notebooks_are_stripped(root: Path) -> None:
    for path in sorted((root / "notebooks").glob("*.ipynb")):
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                assert cell["outputs"] == [], path.name
                assert cell["execution_count"] is None, path.name


def test_text_files_end_in_a_newline_and_hold_no_trailing_blanks(root: Path) -> None:
    wrong = []
    for f in tracked(root):
        if f.suffix not in {".cpp", ".hpp", ".py", ".toml", ".md", ".cmake", ".txt"}:
            continue
        if (
            "kept" in f.parts
        ):  # what a fuzzer found stays as it was, bytes that are no text included
            continue
        text = f.read_text(encoding="utf-8")
        if text and not text.endswith("\n"):
            wrong.append(f"{f.relative_to(root)}: no newline at the end")
        if re.search(r"[ \t]+$", text, re.MULTILINE):
            wrong.append(f"{f.relative_to(root)}: trailing blanks")
    assert not wrong, "\n".join(wrong)
