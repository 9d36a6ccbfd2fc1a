"""Installing as others would: find_package, pip install, a bare wheel, plain CMake."""

import os
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


def bare_environment(place: Path) -> Path:
    """A new virtual environment; returns its Python."""
    venv.create(place, with_pip=True)
    return place / "bin" / "python"


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
    assert [n for n in names if n.endswith("report.html.j2")]
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
    python = bare_environment(tmp_path / "venv")
    call(python, "-m", "pip", "install", "-q", numpy, wheel, env=offline())
    # Nothing on PATH but the environment itself: no compiler, no tool of the system.
    quiet = {"PATH": str(python.parent), "HOME": str(tmp_path)}
    assert "smoke" in call(python, HERE / "smoke.py", CASE, env=quiet, cwd=tmp_path)
    assert "halite" in call(python.parent / "aeruca", "salts", env=quiet, cwd=tmp_path)


def test_pip_install_from_the_sources(root: Path, tmp_path: Path) -> None:
    python = bare_environment(tmp_path / "venv")
    tree = tmp_path / "tree"
    shutil.copytree(
        root, tree, ignore=shutil.ignore_patterns("build*", ".venv", ".git", "demo-out")
    )
    call(python, "-m", "pip", "install", "-q", tree, env=compiling(tree))
    assert "smoke" in call(python, HERE / "smoke.py", CASE, cwd=tmp_path)


def test_plain_cmake(root: Path) -> None:
    """The three documented commands; the tree is kept, so a second run is quick."""
    build, jobs, env = root / "build" / "plain", str(os.cpu_count() or 2), compiling(root)
    call("cmake", "-S", root, "-B", build, f"-DPython_EXECUTABLE={sys.executable}", env=env)
    call("cmake", "--build", build, "-j", jobs, env=env)
    # The seeded sets run in full in the developer build; here a hundredth shows that ctest works.
    env["AERUCA_SEEDED_CASES"] = "1000"
    done = call("ctest", "--test-dir", build, "-j", jobs, env=env)
    assert "100% tests passed" in done
    version = call(sys.executable, "-c", "import aeruca; print(aeruca.__file__)",
                   env={**os.environ, "PYTHONPATH": str(build / "python")})  # fmt: skip
    assert str(build) in version
