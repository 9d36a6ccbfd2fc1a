"""Runs of `aeruca constants`."""

from __future__ import annotations

import json
import os
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TOOL = os.environ.get("AERUCA_TOOL", str(ROOT / "build" / "aeruca"))


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([TOOL, *arguments], capture_output=True, text=True, check=False)


def test_without_filter_it_counts_and_says_how_to_see_more() -> None:
    result = run("constants")
    assert result.returncode == 0
    assert re.match(r"data set \d+\.\d+\.\d+, content [0-9a-f]{16}\n", result.stdout)
    assert "looked-up  memory  derived  estimated  quantity" in result.stdout
    assert "--species" in result.stdout


def test_a_species_shows_its_constant_and_every_source_that_disagrees() -> None:
    result = run("constants", "--species", "nantokite")
    assert result.returncode == 0
    assert "from components: e(-) + Cu(2+) + Cl(-)" in result.stdout
    assert "* -6.73 +/- 0.05   [C01]" in result.stdout
    assert "[C02]" in result.stdout
    assert "not used:" in result.stdout
    assert "(memory)" in result.stdout
    assert "(looked-up)" in result.stdout


@pytest.mark.parametrize("mineral", ["claringbullite", "posnjakite", "chalconatronite"])
def test_a_mineral_of_which_no_constant_was_found_is_said_to_be_one(mineral: str) -> None:
    result = run("constants", "--species", mineral)
    assert result.returncode == 0
    assert "no value" in result.stdout
    assert "not used: wanted, not found" in result.stdout
    refused = run("speciate", "--total", f"{mineral}=1e-3", "--ph", "7", "--eh", "0.3")
    assert refused.returncode == 1
    assert f"'{mineral}'" in refused.stderr or f"= {mineral}:" in refused.stderr


def test_json_carries_each_field() -> None:
    result = run("constants", "--json", "--chosen", "--quantity", "log10_k")
    answer = json.loads(result.stdout)
    assert len(answer["data_set"]["content_hash"]) == 16
    assert all(figure["chosen"] for figure in answer["figures"])
    c01 = next(figure for figure in answer["figures"] if figure["id"] == "C01")
    assert c01["value"] == -6.73
    assert c01["basis"] == "looked-up"
    assert c01["source_text"].startswith("Noyes")
    assert c01["file"] == "reactions.toml"
    assert c01["line"] > 0


def test_basis_filters() -> None:
    answer = json.loads(run("constants", "--json", "--basis", "memory").stdout)
    assert answer["figures"]
    assert {figure["basis"] for figure in answer["figures"]} == {"memory"}


def test_sources_are_listed_with_their_use() -> None:
    result = run("constants", "--sources", "powell")
    assert result.returncode == 0
    assert result.stdout.count("Pure Appl. Chem. 79, 895") == 1


@pytest.mark.parametrize(
    ("arguments", "code", "message"),
    [
        (["constants", "nosuchthing"], 1, "no figure fits 'nosuchthing'"),
        (["constants", "--species", "nantokit"], 1, "nearest is 'nantokite'"),
        (["constants", "--quantity", "enthalpi"], 1, "nearest is 'enthalpy'"),
        (["constants", "--sources", "nobody1900"], 1, "no source holds 'nobody1900'"),
        (["constants", "--basis", "guess"], 2, "looked-up"),
        (["--data", "/no/such/place", "constants"], 1, "cannot be read as a directory"),
        (["--add-data", "/no/such/file.toml", "constants"], 1, "/no/such/file.toml"),
    ],
)
def test_a_filter_that_fits_nothing_gets_one_sentence(
    arguments: list[str], code: int, message: str
) -> None:
    result = run(*arguments)
    assert result.returncode == code
    assert message in result.stderr
    assert result.stdout == ""
    assert len(result.stderr.strip().splitlines()) <= 2
