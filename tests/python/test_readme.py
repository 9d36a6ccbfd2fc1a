"""Every snippet of the README runs: shell, Python and C++."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """Fenced blocks of a language, in order."""
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def tool_lines() -> list[str]:
    """Lines of the shell blocks that call the tool."""
    return [
        line for block in blocks("sh") for line in block.splitlines() if line.startswith("aeruca ")
    ]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of what the snippets read, so that they may write beside it."""
    tree = tmp_path_factory.mktemp("readme")
    shutil.copytree(ROOT / "data" / "demo", tree / "data" / "demo")
    return tree


@pytest.mark.parametrize("line", tool_lines())
def test_shell_lines_run(line: str, place: Path) -> None:
    program = Path(sys.executable).parent / "aeruca"
    words = shlex.split(line, comments=True)[1:]
    done = subprocess.run([str(program), *words], cwd=place, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip()


@pytest.mark.parametrize("block", blocks("python"), ids=range(len(blocks("python"))))
def test_python_blocks_run(block: str, place: Path) -> None:
    done = subprocess.run([sys.executable, "-c", block], cwd=place, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    # What the README says is printed is printed.
    for promised in re.findall(r"#> (.*)$", block, re.MULTILINE):
        assert promised in done.stdout


@pytest.mark.parametrize("block", blocks("cpp"), ids=range(len(blocks("cpp"))))
def test_cpp_blocks_build_and_run(block: str, place: Path, tmp_path: Path) -> None:
    build = Path(os.environ.get("AERUCA_BUILD", ROOT / "build" / "dev"))
    source = tmp_path / "main.cpp"
    source.write_text(block, encoding="utf-8")
    program = tmp_path / "program"
    command = [
        "g++",
        "-std=c++20",
        f"-I{ROOT / 'include'}",
        str(source),
        str(build / "libaeruca.a"),
    ]
    built = subprocess.run([*command, "-o", str(program)], capture_output=True, text=True)
    assert built.returncode == 0, built.stderr
    done = subprocess.run([str(program)], cwd=place, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    for promised in re.findall(r"//> (.*)$", block, re.MULTILINE):
        assert promised in done.stdout


def test_the_readme_shows_all_three_ways() -> None:
    assert tool_lines()
    assert blocks("python")
    assert blocks("cpp")
