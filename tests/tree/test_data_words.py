"""The data set speaks of papers, handbooks and standards, not of where on a screen one was read."""

import re
from pathlib import Path

import pytest

NOT_A_SOURCE = re.compile(
    r"\b(abstract|stored|online|listing|wiki\w*|saltwiki|web ?pages?|websites?|forum|mirrors?)\b"
    r"|slashes lost|\.(org|com|net)\b|https?:|www\.",
    re.IGNORECASE,
)


def words(text: str) -> list[str]:
    """What in a text names a place on a screen."""
    return [match.group(0) for match in NOT_A_SOURCE.finditer(text)]


def test_sources_are_papers_handbooks_and_standards(root: Path) -> None:
    files = [f for f in sorted((root / "data").rglob("*")) if f.suffix in {".toml", ".bib", ".md"}]
    found = [
        f"{file.relative_to(root)}:{number}: {word}"
        for file in files
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        for word in words(line)
    ]
    assert files
    assert not found, "\n".join(found)


HOW_SURE = r"sure|nearly sure|fairly sure|not very sure|unsure"
RECALLED = re.compile(rf"\brecalled,? (?:and )?(?:{HOW_SURE})\b")


def test_how_well_a_figure_is_recalled_is_said_in_words_of_one_scale(root: Path) -> None:
    texts = {f.name: f.read_text(encoding="utf-8") for f in (root / "data").glob("*.toml")}
    notes = [n for text in texts.values() for n in re.findall(r'^note = "(.*)"$', text, re.M)]
    # What is read loses its note: the count falls, and only an empty search would be wrong.
    assert sum(RECALLED.search(note) is not None for note in notes) > 100
    assert [note for note in notes if "recollection" in note] == []
    for note in notes:
        for said in re.findall(r"\brecalled, (?:of )?([a-z ]*?sure)\b", note):
            assert re.fullmatch(HOW_SURE, said), note


@pytest.mark.parametrize(
    "note",
    [
        "online 460002; obsolete",
        "the stored text dropped a digit",
        "read in an Abstract",
        "as tabulated on a salt wiki",
        "see example.org",
    ],
)
def test_a_note_that_names_a_place_on_a_screen_is_seen(note: str) -> None:
    assert words(note)
