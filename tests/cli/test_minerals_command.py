"""`aeruca minerals`: the guide, one mineral, a grain; and the same in a case."""

import json
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

Run = Callable[..., CompletedProcess[str]]


def words(done: CompletedProcess[str]) -> str:
    assert done.returncode == 0, done.stderr
    return " ".join(done.stdout.split())


def test_the_guide_lists_every_mineral_and_what_may_be_seen(run: Run) -> None:
    said = words(run("minerals"))
    for word in ("nantokite CuCl 23.9", "chalconatronite", "silver-nitrate cloud, clear"):
        assert word in said, word
    found = json.loads(run("minerals", "--json").stdout)
    assert len(found["minerals"]) > 90
    assert found["field_tests"][0]["id"] == "colour"


def test_one_mineral_says_what_it_means_and_what_it_does_not(run: Run) -> None:
    said = words(run("minerals", "atacamite"))
    assert "does not mean That the object is active" in said
    assert "looks from anthony (memory)" in said
    assert "density from anthony (memory)" in said


def test_a_grain_is_ranked_with_the_test_that_tells_more(run: Run) -> None:
    said = words(run("minerals", "--seen", "colour=green", "--seen", "powdery"))
    assert "What would tell more: silver-nitrate" in said
    assert "! Silver nitrate is corrosive" in said
    assert "> No solid is a verdict" in said


def test_what_no_mineral_fits_is_said(run: Run) -> None:
    done = run("minerals", "--seen", "blue", "--seen", "waxy", "--seen", "fizz", "--json")
    found = json.loads(done.stdout)["identification"]
    assert done.returncode == 0
    assert found["candidates"] == []
    assert found["message"].startswith("no mineral of the guide fits all that was seen")


def test_bad_words_are_one_sentence(run: Run) -> None:
    done = run("minerals", "--seen", "powdry")
    assert done.returncode == 1
    assert done.stderr == (
        "aeruca: no observation named 'powdry'; nearest is 'powdery'; accepted are the outcomes "
        "that 'aeruca minerals' lists\n"
    )
    done = run("minerals", "nantokite", "--seen", "powdery")
    assert done.returncode == 2
    assert "goes with no --seen" in done.stderr


CASE = """invented = true
[object]
name = "a"
{}
"""
SEEN = """[[observation]]
date = 2026-03-04
kind = "other"
text = "a grain"
"""
WORDS = 'seen = ["green", "powdery", "silver-nitrate=cloud"]'


def test_a_case_with_atacamite_seen_keeps_its_verdict(run: Run, tmp_path: Path) -> None:
    def assessed(text: str) -> dict[str, object]:
        file = tmp_path / "case.toml"
        file.write_text(text)
        done = run("case", str(file), "--json")
        assert done.returncode == 0, done.stderr
        return dict(json.loads(done.stdout))

    without, seen = assessed(CASE.format(SEEN)), assessed(CASE.format(SEEN + WORDS))
    for key in ("verdict", "reason", "probability"):
        assert without[key] == seen[key], key
    sections = [section for section in seen["sections"] if section["id"] == "minerals"]  # type: ignore[attr-defined]
    assert len(sections) == 1
    assert "atacamite" in json.dumps(sections[0])
    assert sections[0]["answer"].startswith("No solid is a verdict")
    assert not [s for s in without["sections"] if s["id"] == "minerals"]  # type: ignore[attr-defined]
