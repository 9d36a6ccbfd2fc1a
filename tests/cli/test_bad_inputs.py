"""The table of bad inputs: each gets one sentence, the right exit code, and leaves nothing behind.

bad_inputs.csv, a row each:
  name       what is wrong
  file       name of the file the content is written to; empty: none; "python": an expression
  command    arguments of the tool ({file} stands for the file), or a Python expression
  content    of the file
  exit_code  1 bad input or data, 2 usage, 3 computed without an answer; for Python the exception
  message    the whole of what is said (for 3: in the result, not as an error)
"""

import csv
import shlex
from pathlib import Path

import numpy as np
import pytest

import aeruca

TABLE = Path(__file__).parent / "bad_inputs.csv"
with TABLE.open(encoding="utf-8", newline="") as stream:
    ROWS = list(csv.DictReader(stream))
TOOL_ROWS = [row for row in ROWS if row["file"] != "python"]
PYTHON_ROWS = [row for row in ROWS if row["file"] == "python"]


def test_the_table_is_long_and_wide_enough():
    assert len(ROWS) >= 40
    assert len({row["name"] for row in ROWS}) == len(ROWS)
    assert {row["exit_code"] for row in TOOL_ROWS} == {"1", "2", "3"}
    files = {row["file"] for row in ROWS}
    assert {"", "python", "case.toml", "log.csv", "more.toml"} <= files


@pytest.mark.parametrize("row", TOOL_ROWS, ids=[row["name"] for row in TOOL_ROWS])
def test_the_tool_says_one_sentence(row, run, tmp_path):
    if row["file"]:
        (tmp_path / row["file"]).write_text(row["content"], encoding="utf-8")
    before = sorted(tmp_path.iterdir())
    arguments = [part.replace("{file}", row["file"]) for part in shlex.split(row["command"])]
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == int(row["exit_code"]), done.stderr
    if row["exit_code"] == "3":
        assert row["message"] in " ".join(done.stdout.split())
    else:
        tail = "\nSee aeruca --help.\n" if row["exit_code"] == "2" else "\n"
        assert done.stderr == f"aeruca: {row['message']}{tail}"
        assert done.stdout == ""
    assert sorted(tmp_path.iterdir()) == before
    if row["file"]:
        assert (tmp_path / row["file"]).read_text(encoding="utf-8") == row["content"]


@pytest.mark.parametrize("row", PYTHON_ROWS, ids=[row["name"] for row in PYTHON_ROWS])
def test_python_says_one_sentence(row):
    kinds = {"InputError": aeruca.InputError, "UnknownName": aeruca.UnknownName}
    kinds |= {"FileError": aeruca.FileError, "TypeError": TypeError, "ValueError": ValueError}
    with pytest.raises(kinds[row["exit_code"]]) as caught:
        eval(row["command"], {"aeruca": aeruca, "np": np})
    assert str(caught.value) == row["message"]
