"""Installing as others would: find_package, pip install, a bare wheel, plain CMake."""

import ast
import os
import re
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

# One after another on one worker: they share the developer build tree and the wheel.
pytestmark = pytest.mark.xdist_group("packages")

HERE = Path(__file__).parent
CASE = HERE.parents[1] / "data" / "demo" / "case.toml"
BUILD = Path(os.environ.get("AERUCA_BUILD", HERE.parent.parent / "build" / "dev"))
WHEELHOUSE = Path(os.environ.get("AERUCA_WHEELHOUSE", HERE.parent.parent / "build" / "wheelhouse"))


def call(*command: str | Path, **options: object) -> str:
    """Run a command; fail the test with what it printed."""
    done = subprocess.run(
        [str(word) for word in command], capture_output=True, text=True, timeout=3000, **options
    )  # type: ignore[call-overload]
    assert done.returncode == 0, f"{command}\n{done.stdout[-4000:]}\n{done.stderr[-4000:]}"
    return str(done.stdout)


def bare_environment(place: Path, *packages: str | Path) -> Path:
    """A new virtual environment with these packages and no other; returns its Python."""
    venv.create(place)
    python = place / "bin" / "python"
    call(sys.executable, "-m", "pip", "--python", python, "install", "-q", *packages,
         env=offline())  # fmt: skip
    return python


def offline() -> dict[str, str]:
    """Environment in which pip sees the wheelhouse and no index."""
    return {**os.environ, "PIP_NO_INDEX": "1", "PIP_FIND_LINKS": str(WHEELHOUSE)}


def compiling(sources: Path) -> dict[str, str]:
    """Environment in which objects of the developer build serve again: see `./dev`."""
    return {**offline(), "CCACHE_BASEDIR": str(sources), "CMAKE_GENERATOR": "Ninja"}


def numpy_files() -> list[Path]:
    """One wheel a NumPy series that this Python can install, oldest first."""
    return sorted(WHEELHOUSE.glob("numpy-*.whl"))


@pytest.fixture(scope="session")
def wheel(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel from the developer build tree."""
    place = tmp_path_factory.mktemp("wheel")
    call(sys.executable, "-m", "pip", "wheel", "-q", "--no-build-isolation", "--no-deps",
         f"-Cbuild-dir={BUILD}", "-w", place, root)  # fmt: skip
    return next(place.glob("aeruca-*.whl"))


def test_a_mistake_in_the_data_stops_the_build(root: Path, tmp_path: Path) -> None:
    files = [*sorted((root / "data").glob("*.bib")), *sorted((root / "data").glob("*.toml"))]
    own = tmp_path / "zz-own.toml"
    own.write_text(
        '[[reaction]]\nid = "X1"\nequation = "nantokite = Cu(2+) + Cl(-)"\nquantity = "log10_k"\n'
        'value = -6.7\nsource = "wang1997"\nbasis = "memory"\n'
    )
    embed = [BUILD / "aeruca_embed", tmp_path / "embedded.cpp", *files]
    call(*embed)
    done = subprocess.run([*embed, own], capture_output=True, text=True)
    assert done.returncode == 1
    assert "zz-own.toml, line 1" in done.stderr
    assert "does not balance" in done.stderr


def test_an_outside_project_finds_the_package(root: Path, tmp_path: Path) -> None:
    prefix, build = tmp_path / "prefix", tmp_path / "build"
    call("cmake", "--install", BUILD, "--component", "dev", "--prefix", prefix)
    call("cmake", "-S", HERE / "consumer", "-B", build, f"-DCMAKE_PREFIX_PATH={prefix}",
         # An installed aeruca asks its user for none of its private libraries.
         "-DCMAKE_DISABLE_FIND_PACKAGE_Eigen3=ON",
         "-DCMAKE_DISABLE_FIND_PACKAGE_Boost=ON")  # fmt: skip
    call("cmake", "--build", build)
    assert call(build / "consumer").startswith("0.1.")


def test_the_wheel_holds_no_sources_and_needs_only_system_libraries(
    wheel: Path, tmp_path: Path
) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert not [n for n in names if n.endswith((".cpp", ".hpp", ".a", ".cmake"))]
    assert [n for n in names if n.endswith("py.typed")]
    assert [n for n in names if n.endswith("_core.pyi")]
    for file in (
        "templates/report.html.j2",
        "page/templates/page.html.j2",
        "page/templates/page.js",
    ):
        assert f"aeruca/{file}" in names
    zipfile.ZipFile(wheel).extractall(tmp_path)
    needed = call("readelf", "-d", next((tmp_path / "aeruca").glob("_core*.so")))
    libraries = {line.split("[")[1].rstrip("]") for line in needed.splitlines() if "NEEDED" in line}
    assert libraries <= {"libstdc++.so.6", "libm.so.6", "libgcc_s.so.1", "libc.so.6",
                         "libpthread.so.0", "ld-linux-x86-64.so.2"}  # fmt: skip


@pytest.mark.parametrize(
    "numpy", numpy_files() or [None], ids=lambda p: "-".join(p.name.split("-")[:2]) if p else "none"
)
def test_the_wheel_runs_in_a_bare_environment(
    wheel: Path, tmp_path: Path, numpy: Path | None
) -> None:
    assert numpy is not None, f"no NumPy wheel in {WHEELHOUSE}: run ./dev test once with a network"
    python = bare_environment(tmp_path / "venv", numpy, wheel)
    # Nothing on PATH but the environment itself: no compiler, no tool of the system.
    quiet = {"PATH": str(python.parent), "HOME": str(tmp_path)}
    assert "smoke" in call(python, HERE / "smoke.py", CASE, env=quiet, cwd=tmp_path)
    assert "halite" in call(python.parent / "aeruca", "salts", env=quiet, cwd=tmp_path)


def required_to_build(root: Path) -> list[str]:
    """What pyproject.toml says a build needs."""
    line = re.search(r"^requires = (\[.*\])$", (root / "pyproject.toml").read_text(), re.MULTILINE)
    assert line is not None
    required: list[str] = ast.literal_eval(line.group(1))
    assert required
    return required


def test_pip_install_from_the_sources(root: Path, tmp_path: Path) -> None:
    """In an environment that holds what pyproject.toml asks for and no more.

    pip's own isolated one lies at a path that is new every time, so that no object that was
    compiled before would serve again.
    """
    tree = tmp_path / "tree"
    shutil.copytree(
        root, tree, ignore=shutil.ignore_patterns("build*", ".venv", ".git", "demo-out")
    )
    python = bare_environment(tree / ".venv", *required_to_build(root))
    call(sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-build-isolation",
         tree, env=compiling(tree))  # fmt: skip
    assert "smoke" in call(python, HERE / "smoke.py", CASE, cwd=tmp_path)


def test_plain_cmake(root: Path) -> None:
    """The three documented commands; the tree is kept, so a second run is quick.

    Of the tests only the unit tests run: the developer build, of the same sources with the same
    options but for warnings, runs all.
    """
    build, jobs, env = root / "build" / "plain", str(os.cpu_count() or 2), compiling(root)
    call("cmake", "-S", root, "-B", build, f"-DPython_EXECUTABLE={sys.executable}", env=env)
    call("cmake", "--build", build, "-j", jobs, env=env)
    done = call("ctest", "--test-dir", build, "-j", jobs, "-L", "unit", env=env)
    assert "100% tests passed" in done
    version = call(sys.executable, "-c", "import aeruca.water; print(aeruca.__file__)",
                   env={**os.environ, "PYTHONPATH": str(build / "python")})  # fmt: skip
    assert str(build) in version
