"""`aeruca --words FILE`: results in another language, refused when its file is not whole."""

import json
import re

import pytest


def loud(root):
    """English in capitals, slots apart: a language that every sentence of can be told by."""
    text = (root / "data/words/english.toml").read_text(encoding="utf-8")

    def changed(line):
        parts = re.split(r"(\{\w+\})", line[2])
        return f'"{line[1]}" = "{"".join(p if p[:1] == "{" else p.upper() for p in parts)}"'

    return re.sub(r'(?m)^"([^"]+)" = "(.*)"$', changed, text)


def test_a_case_is_worded_by_the_file(run, root, tmp_path):
    words = tmp_path / "loud.toml"
    words.write_text(loud(root), encoding="utf-8")
    case = str(root / "data/demo/case.toml")
    done = run("--words", str(words), "case", case, "--json")
    assert done.returncode == 0, done.stderr
    assessment = json.loads(done.stdout)
    assert assessment["verdict"] == "active"  # a choice, the same in every language
    assert assessment["sections"][1]["title"] == "HOW DRY"
    assert assessment["reason"].startswith("AS FAR AS HUMIDITY DECIDES: WITH PROBABILITY ABOVE")
    behind = run("case", case, "--full", "--words", str(words))  # accepted behind the command too
    assert "WHAT TO MEASURE NEXT" in behind.stdout


def test_words_that_are_not_whole_are_refused_by_the_sentence(run, root, tmp_path):
    words = tmp_path / "short.toml"
    text = loud(root)
    words.write_text("\n".join(line for line in text.splitlines() if '"word.none"' not in line))
    done = run("--words", str(words), "case", str(root / "data/demo/case.toml"), "--full")
    assert done.returncode == 1
    assert done.stderr == (f"aeruca: the sentence 'word.none' of {words} is not written\n")


@pytest.mark.parametrize(
    "arguments",
    [
        ["speciate", "--total", "Cu(2+)=1e-3", "--total", "halite=0.1", "--ph", "7", "--eh", "0.3"],
        ["fields", "--set", "Cl(-)=-2"],
        ["salts", "halite"],
        ["store", "data/demo/store-log.csv", "--accuracy", "3"],
        ["bath", "log", "data/demo/bath-log.csv", "--object-mass-g", "62.4"],
        ["bath", "compare", "--alpha", "10", "--tau", "1"],
        ["bath", "weigh-out", "--salt", "sodium carbonate", "--percent", "1", "--volume-l", "5"],
    ],
    ids=lambda arguments: " ".join(arguments[:2]),
)
def test_the_page_of_a_command_is_worded_by_the_file(run, root, tmp_path, arguments):
    words = tmp_path / "loud.toml"
    words.write_text(loud(root), encoding="utf-8")
    arguments = [str(root / one) if one.startswith("data/") else one for one in arguments]
    plain, other = run(*arguments).stdout, run("--words", str(words), *arguments).stdout
    lines = [line for line in plain.splitlines() if re.search("[a-z]{3} [a-z]{3}", line)]
    kept = set(other.splitlines())
    # What stays: names and text of the data set (notes, cautions), and faults of a file.
    same = [
        line
        for line in lines
        if line in kept and not re.match(r"!|  line |      |.* Na2?H?CO3", line)
    ]
    assert len(lines) > 3
    assert same == []


def test_a_language_of_ours_is_named_without_a_file(run, root):
    case = str(root / "data/demo/case.toml")
    done = run("--words", "german", "case", case)
    assert done.returncode == 0, done.stderr
    assert "BEDINGUNGEN AKTIV" in done.stdout
    assert "HÖCHSTENS" in done.stdout
    other = run("--words", "germn", "case", case)
    assert (other.returncode, other.stdout) == (1, "")
    assert other.stderr == (
        "aeruca: no language named 'germn'; nearest is 'german'; accepted are english, german, "
        "or a file with every sentence of English\n"
    )
    assert "english, german" in run("--help").stdout
