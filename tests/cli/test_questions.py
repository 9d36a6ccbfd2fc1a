"""What practitioners ask: each command that is named runs and answers with a number."""

import json
import re
import shlex
import subprocess
import sys

import pytest

OWN = {
    "my-object.toml": "data/demo/case.toml",
    "my-baths.csv": "data/demo/bath-log.csv",
    "my-logger.csv": "data/demo/store-log.csv",
}


@pytest.fixture(scope="module")
def questions(run):
    return json.loads(run("questions", "--json").stdout)["questions"]


def test_thirty_are_asked_and_most_are_answered(run, questions):
    assert len(questions) == 30
    answered = [one for one in questions if one["command"]]
    assert len(answered) >= 24
    text = run("questions").stdout
    for one in questions:
        assert one["answer"].endswith(".")
        # Refused in one sentence.
        assert one["command"] or one["answer"].count(". ") == 0
        assert not one["command"] or one["command"] in text


def test_each_command_answers_with_a_number(run, root, questions):
    for one in questions:
        if not one["command"]:
            continue
        tool, *words = shlex.split(one["command"])
        assert tool == "aeruca"
        words = [OWN.get(word, word) for word in words]
        if words[0] == "class":  # comes with the Python package
            done = subprocess.run(
                [sys.executable, "-m", "aeruca.tool", *words], capture_output=True, text=True
            )
        else:
            done = run(*words, cwd=root)
        # 3: a date that the readings cannot carry is refused, the rest is answered.
        assert done.returncode in (0, 3), (one, done.stderr)
        assert re.search(r"\d", done.stdout), one


def test_a_sample_says_what_it_is_of(run):
    done = run("sample", "--finds", "200", "--tested", "20", "--active", "0")
    assert done.returncode == 0
    assert "Of all 200 finds 0 to 26 are active" in done.stdout
    assert "picked at random" in done.stdout
    refused = run("sample", "--finds", "10", "--tested", "20", "--active", "0")
    assert refused.returncode == 1
    assert "tested = 20" in refused.stderr
