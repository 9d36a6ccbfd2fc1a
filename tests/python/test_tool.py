"""`aeruca report` at its edges: where it writes, and what it says of arguments without sense."""

import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

import aeruca


def tool(*arguments, **options):
    """Run the `aeruca` command of the Python package."""
    command = [sys.executable, "-m", "aeruca.tool", *map(str, arguments)]
    environment = {**os.environ, "PYTHONPATH": str(Path(aeruca.__file__).parents[1])}
    options = {"stdout": subprocess.PIPE, **options}
    return subprocess.run(command, stderr=subprocess.PIPE, text=True, env=environment, **options)


@pytest.fixture
def case(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    return path


def test_a_device_is_no_place_for_a_report(case):
    with pytest.raises(aeruca.Error, match=r"^/dev/null: is a pipe or a device; accepted is a new"):
        aeruca.write_report(case, "/dev/null")
    assert stat.S_ISCHR(Path("/dev/null").stat().st_mode)


def test_a_pipe_or_a_directory_is_no_place_for_a_report(case, tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    for name, what in (("pipe", "a pipe or a device"), ("folder", "a directory")):
        done = tool("report", case, "-o", tmp_path / name)
        assert done.returncode == 1
        accepted = "accepted is a new file name, or an older report"
        assert done.stderr == f"aeruca: {tmp_path / name}: is {what}; {accepted}\n"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["case.toml", "folder", "pipe"]


def test_a_link_stays_and_what_it_names_is_written(case, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    target = tmp_path / "elsewhere" / "report.html"
    link = tmp_path / "out.html"
    link.symlink_to(target)
    for _ in range(2):  # once to a name that is free, once over the older report
        aeruca.write_report(case, link)
        assert link.is_symlink()
        assert target.read_text(encoding="utf-8").rstrip().endswith("</html>")
    assert [p.name for p in target.parent.iterdir()] == ["report.html"]


def test_links_in_a_circle_are_refused(case, tmp_path):
    (tmp_path / "one").symlink_to(tmp_path / "two")
    (tmp_path / "two").symlink_to(tmp_path / "one")
    with pytest.raises(aeruca.Error, match="cannot be written"):
        aeruca.write_report(case, tmp_path / "one")


def test_access_rights_follow_the_mask_of_the_user(case, tmp_path):
    before = os.umask(0o027)
    try:
        aeruca.write_report(case, tmp_path / "out.html")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "out.html").stat().st_mode) == 0o640


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "the following arguments are required: file"),
        (["case.toml", "--colour"], "unrecognized arguments: --colour"),
        (["case.toml", "-o", ""], "argument -o/--output: '' is empty; accepted is a text"),
        (["case.toml", "--date", ""], "argument --date: '' is empty; accepted is a text"),
        (
            ["case.toml", "--json"],
            "--json: the report is HTML; 'aeruca case FILE --json' prints JSON",
        ),
    ],
)
def test_arguments_without_sense_get_one_sentence(arguments, message, tmp_path):
    done = tool("report", *arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr == f"aeruca: report: {message}\nSee aeruca report --help.\n"
    assert list(tmp_path.iterdir()) == []


def test_json_before_report_is_no_other_command(case):
    assert "prints JSON" in tool("--json", "report", case).stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("command", ["report", "case"])
def test_an_output_that_cannot_be_written_is_said(command, case):
    with Path("/dev/full").open("w") as full:
        done = tool(command, case, stdout=full)
    assert done.returncode == 1
    assert done.stderr == (
        "aeruca: the result could not be written to the output (a full disk, or a closed pipe)\n"
    )


def test_a_reader_that_has_seen_enough_gets_no_complaint():
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = tool("constants", "--all", stdout=writing)
    finally:
        os.close(writing)
    assert done.returncode == -signal.SIGPIPE
    assert done.stderr == ""
