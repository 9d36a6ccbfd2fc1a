"""What the tool does with an output it cannot write and a file that is none."""

import os
import subprocess
from pathlib import Path

import pytest

NOT_WRITTEN = (
    "aeruca: the result could not be written to the output (a full disk, or a closed pipe)\n"
)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("arguments", [["salts"], ["constants", "--json"], ["--help"]])
def test_a_full_disk_is_said(arguments, tool):
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [str(tool), *arguments], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60
        )
    assert done.returncode == 1
    assert done.stderr == NOT_WRITTEN


@pytest.mark.parametrize("command", ["case", "store", "bath log", "--add-data"])
def test_a_pipe_is_refused_rather_than_waited_for(command, run, tmp_path):
    os.mkfifo(tmp_path / "pipe")
    more = ["constants"] if command == "--add-data" else []
    done = run(*command.split(), "pipe", *more, cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr == "aeruca: pipe: is a pipe or a device; a file is wanted\n"


def test_a_new_case_leaves_files_of_like_names_alone(run, tmp_path):
    (tmp_path / "mine.toml.new").write_text("notes", encoding="utf-8")
    assert run("case", "--new", "mine.toml", cwd=tmp_path).returncode == 0
    assert (tmp_path / "mine.toml.new").read_text(encoding="utf-8") == "notes"


def test_a_new_case_never_follows_a_link_to_nothing(run, tmp_path):
    (tmp_path / "mine.toml").symlink_to(tmp_path / "elsewhere.toml")
    assert run("case", "--new", "mine.toml", cwd=tmp_path).returncode == 1
    assert not (tmp_path / "elsewhere.toml").exists()


def test_a_utf_16_file_gets_a_hint(run, tmp_path):
    (tmp_path / "case.toml").write_text("[object]\n", encoding="utf-16")
    done = run("case", "case.toml", "--full", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr == "aeruca: case.toml: the file is UTF-16; save it as UTF-8\n"
