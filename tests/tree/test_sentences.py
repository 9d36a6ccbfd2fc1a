"""The words of an assessment: each key that is asked for is written, and the other way about."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
CASEFILE = ROOT / "src" / "casefile"
WORDS = ROOT / "data" / "words" / "english.toml"
ASKED = re.compile(r'\bsay\(\s*"([a-z0-9_.]+)"')
WRITTEN = re.compile(r'^"([a-z0-9_.]+)" = "', re.MULTILINE)
BUILT = re.compile(r"^(caution|limit)\.")  # made of a name in limits.cpp
NAMED = re.compile(r'"([a-z_]+)"')


def sources():
    # The page of an assessment asks for its words too.
    paths = [*CASEFILE.glob("*.cpp"), ROOT / "src" / "render" / "case_text.cpp"]
    return {path.name: path.read_text(encoding="utf-8") for path in paths}


def test_every_sentence_is_written_once_and_asked_for():
    texts = sources()
    written = WRITTEN.findall(WORDS.read_text(encoding="utf-8"))
    assert len(written) == len(set(written)) > 200
    fixed = {key for key in written if not BUILT.match(key)}
    asked = {key for text in texts.values() for key in ASKED.findall(text)}
    assert fixed == {key for key in asked if not key.endswith(".")}
    names = set(NAMED.findall(texts["limits.cpp"]))
    assert {key.split(".")[1] for key in written if BUILT.match(key)} <= names


def test_no_sentence_stands_beside_the_logic():
    # Four words in a row are a sentence; what the reader refuses is no word of a result.
    words = re.compile(r'"[^"\n]*\b[a-z]+ [a-z]+ [a-z]+ [a-z]+\b[^"\n]*"')
    reading = {"casefile.cpp", "section.cpp", "read_water.cpp", "template.cpp"}
    reading |= {"water_state.cpp", "findings.cpp", "sentence.cpp", "words.cpp"}
    found = {name: words.findall(text) for name, text in sources().items() if name not in reading}
    found = {name: [s for s in lines if "onset band" not in s] for name, lines in found.items()}
    assert {name: lines for name, lines in found.items() if lines} == {}
