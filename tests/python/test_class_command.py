"""`aeruca class`: what it prints, and what it says of arguments without sense."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import aeruca
from aeruca.teaching import sheet_names, teacher_sheet


def python(*arguments, **options):
    environment = {**os.environ, "PYTHONPATH": str(Path(aeruca.__file__).parents[1])}
    command = [sys.executable, *arguments]
    options = {"stdout": subprocess.PIPE, **options}
    return subprocess.run(command, stderr=subprocess.PIPE, text=True, env=environment, **options)


def tool(*arguments, **options):
    return python("-m", "aeruca.tool", *arguments, **options)


def test_a_reader_that_has_seen_enough_gets_no_complaint():
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = tool("class", "coins", stdout=writing)
    finally:
        os.close(writing)
    assert (done.returncode, done.stderr) == (1, "")


def test_without_a_name_the_sheets_are_listed():
    done = tool("class")
    assert done.returncode == 0
    assert all(f"  {name} " in done.stdout for name in sheet_names())
    assert set(json.loads(tool("class", "--json").stdout)["sheets"]) == set(sheet_names())


def test_a_sheet_is_printed_as_text_and_as_json():
    sheet = teacher_sheet("collection", groups=5)
    assert tool("class", "collection", "--groups", "5").stdout == sheet.to_text()
    assert tool("class", "collection", "--groups", "5", "--width", "60").stdout == sheet.to_text(60)
    printed = tool("--json", "class", "collection", "--groups", "5").stdout
    assert json.loads(printed) == json.loads(json.dumps(sheet.to_dict()))
    assert tool("class", "collection").stdout == teacher_sheet("collection", groups=8).to_text()


def test_coins_are_printed():
    assert "plated steel" in tool("class", "coins").stdout
    first = json.loads(tool("class", "coins", "--json").stdout)["coins"][0]
    assert set(first) == {"coin", "build", "made_of", "magnet", "sure", "basis"}


NAMES = ", ".join(sheet_names())


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["rust"], f"no teacher's sheet named 'rust'; accepted are {NAMES}, coins"),
        (
            ["coin-in-salt-water"],
            "no teacher's sheet named 'coin-in-salt-water'; nearest is 'coin_in_salt_water'; "
            f"accepted are {NAMES}, coins",
        ),
        (["demo_case", "--groups", "0"], "groups = 0: accepted is a whole number, 1 to 60"),
        (["demo_case", "--groups", "61"], "groups = 61: accepted is a whole number, 1 to 60"),
        (["demo_case", "--width", "59"], "width = 59: accepted is a whole number, 60 to 200"),
        (
            ["demo_case", "--words", "none.toml"],
            "none.toml: cannot be opened; a readable file is wanted",
        ),
    ],
)
def test_bad_input_gets_one_sentence(arguments, message):
    done = tool("class", *arguments)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == f"aeruca: {message}\n"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["demo_case", "coins"], "unrecognized arguments: coins"),
        ([""], "argument SHEET: '' is empty; accepted is a text"),
        (
            ["demo_case", "--groups", "many"],
            "argument --groups: 'many' is no whole number; accepted is a number such as 8",
        ),
        (
            ["demo_case", "--groups", "-2"],
            "argument --groups: '-2' is no whole number; accepted is a number such as 8",
        ),
        (
            ["coins", "--groups", "3"],
            "--groups has no effect here; accepted with the name of a sheet",
        ),
        (["--data", "here"], "--data has no effect here; accepted with the name of a sheet"),
        (
            ["coins", "--add-data", "more.toml"],
            "--add-data has no effect here; accepted with the name of a sheet",
        ),
        (["--width", "70"], "--width has no effect here; accepted with a page of text"),
        (
            ["demo_case", "--json", "--width", "70"],
            "--width has no effect here; accepted with a page of text",
        ),
    ],
)
def test_arguments_without_sense_get_one_sentence(arguments, message):
    done = tool("class", *arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"aeruca: class: {message}\nSee aeruca class --help.\n"


def test_help_names_both_and_nothing_is_computed_to_refuse():
    assert "class" in tool("--help").stdout
    told = " ".join(tool("class", "--help").stdout.split())
    assert "1 to 60" in told
    assert "coins" in told
    code = "import sys; from aeruca import tool; tool.main(['class', 'coin']);"
    done = python("-c", code + "print('aeruca.class_figures' in sys.modules)")
    assert done.stdout == "False\n"


def test_help_of_the_tool_imports_neither_sheet_nor_arrays():
    code = "import sys; from aeruca import tool; tool.main(['--help']);"
    done = python("-c", code + "print('aeruca.teaching' in sys.modules, 'numpy' in sys.modules)")
    assert done.stdout.endswith("False False\n")
