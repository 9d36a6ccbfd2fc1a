"""The words of results: each key is written and asked for, and slots agree on both sides."""

import re
from pathlib import Path

import pytest

tomllib = pytest.importorskip("tomllib")  # Python 3.11

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src"
# Parts whose results reach an assessment: every word of theirs is one of the file.
PARTS = [
    "activity",
    "analysis",
    "bath",
    "brine",
    "casefile",
    "equilibrium",
    "minerals",
    "path",
    "stability",
    "store",
    "render",
]
# What no sentence of a result stands in: readers of files, which refuse, and names of choices.
READERS = {"casefile.cpp", "section.cpp", "read_water.cpp", "template.cpp", "log_table.cpp"}
READERS |= {"logger_csv.cpp", "logger_header.cpp", "logger_order.cpp", "logger_series.cpp"}
READERS |= {"plain_rows.cpp", "logger_clock.cpp", "join_records.cpp", "logger_files.cpp"}
READERS |= {"logger_bare.cpp", "logger_workbook.cpp", "case_workbook.cpp"}
READERS |= {"check_path.cpp"}  # refusals only
READERS |= {"questions_text.cpp"}  # command lines, to be copied as they stand
READERS |= {"describe_store.cpp"}  # tells of fields, as names and meanings of figures do
LANGUAGES = sorted((ROOT / "data" / "words").glob("*.toml"))
ENGLISH = ROOT / "data" / "words" / "english.toml"
KEY = re.compile(r'"([a-z][a-z0-9_]*(?:\.[a-z0-9_]+)+)"')
SLOT = re.compile(r"\{([^}]*)\}")
# Made of a name; a test of its part asks for each.
BUILT = re.compile(
    r"^(caution|limit|section|verdict|status|bath\.model|bath\.endpoint|bath\.story|fields\.view|plot\.store\.longest|fault|input|season|unit|washing|class|web\.label|web\.part|web\.kind)[._]"
)
NAMED = re.compile(r'"([a-z_]+)"')


def sources():
    # The page of an assessment asks for its words too.
    paths = [path for part in PARTS for path in sorted((SRC / part).glob("*.cpp"))]
    paths += [SRC / "base" / "number_text.cpp", SRC / "base" / "localised.cpp"]
    paths += [SRC / "cli" / "bath_output.cpp", SRC / "cli" / "weigh_out.cpp"]
    return {f"{path.parent.name}/{path.name}": path.read_text(encoding="utf-8") for path in paths}


def pages():
    """What Python words: its modules and the page of the report."""
    package = ROOT / "python" / "aeruca"
    paths = [*package.rglob("*.py"), *package.rglob("templates/*.j2")]
    return {
        str(path.relative_to(package)): path.read_text(encoding="utf-8") for path in sorted(paths)
    }


def results_only(text):
    """The code without what it includes, remarks on, or refuses: an error is no result."""
    text = re.sub(r"#include.*|//.*", "", text)
    literal = r'"(?:[^"\\\n]|\\.)*"'
    thrown = rf"\bthrow\b(?:{literal}|[^;\"])*;"
    refused = rf"\b(?:refuse|refuse_name|fail|check_range|want)\((?:{literal}|[^;\"])*;"
    return re.sub(f"{thrown}|{refused}", "", text)


def words(path):
    """Key -> names of the slots of its sentence."""
    texts = tomllib.loads(path.read_text(encoding="utf-8"))
    return {key: set(SLOT.findall(text)) for key, text in texts.items()}


def arguments(text, start):
    """What stands between the parenthesis before `start` and the one that closes it."""
    depth, at, quoted = 1, start, False
    while depth:
        if text[at] == "\\":
            at += 1
        elif text[at] == '"':
            quoted = not quoted
        elif not quoted:
            depth += (text[at] in "({") - (text[at] in ")}")
        at += 1
    return text[start : at - 1]


def calls(text):
    """(keys, slots) of every `say(...)` whose key is written in place, one of two included."""
    for call in re.finditer(r"(?<![.\w])say\(", text):
        said = arguments(text, call.end())
        slots, depth, at = set(), 0, 0
        head = re.split(r",\s*\{", said, maxsplit=1)[0]
        while at < len(said):  # names stand right behind the second brace
            depth += (said[at] in "({") - (said[at] in ")}")
            name = re.match(r'\{"(\w+)"', said[at:])
            if name and depth == 2:
                slots.add(name[1])
            if said[at] == '"':
                at = said.index('"', at + 1)
            at += 1
        keys = KEY.findall(head)
        if keys:
            yield keys, slots


def disagreements(texts, written):
    """Sentences that a source fills with other slots than they have."""
    found = {}
    for name, text in texts.items():
        for keys, slots in calls(text):
            for key in keys:
                if written.get(key) != slots:
                    found[f"{name}: {key}"] = (slots, written.get(key))
    return found


def test_every_sentence_is_written_and_asked_for():
    texts = sources()
    written = set(words(ENGLISH))
    assert len(written) > 200
    fixed = {key for key in written if not BUILT.match(key)}
    asked = {key for text in [*texts.values(), *pages().values()] for key in KEY.findall(text)}
    assert fixed - asked == set()
    said = {key for text in texts.values() for keys, _ in calls(text) for key in keys}
    assert said - written == set()
    names = set(NAMED.findall(texts["casefile/limits.cpp"]))
    limits = {key.split(".")[1] for key in written if re.match(r"(caution|limit)\.", key)}
    assert limits <= names


def test_slots_of_the_words_and_of_the_logic_agree():
    assert disagreements(sources(), words(ENGLISH)) == {}


def test_a_slot_that_does_not_agree_is_found():
    text = 'x(say(warm ? "a.one" : "a.two", {{"count", say("b.one", {{"mg", "{"}})}}));'
    written = {"a.one": {"count"}, "a.two": {"number"}, "b.one": {"mg"}}
    assert disagreements({"x.cpp": text}, written) == {"x.cpp: a.two": ({"count"}, {"number"})}


def test_slots_are_named():
    for path in LANGUAGES:
        slots = {slot for names in words(path).values() for slot in names}
        assert {slot for slot in slots if not re.fullmatch(r"[a-z][a-z0-9_]+", slot)} == set()


def not_alike(one, other):
    """Keys that one language has and the other has not, or has with other slots."""
    mine, theirs = words(one), words(other)
    return {key for key in mine.keys() | theirs.keys() if mine.get(key) != theirs.get(key)}


@pytest.mark.parametrize("path", LANGUAGES, ids=lambda path: path.stem)
def test_every_language_has_every_sentence(path):
    assert not_alike(path, ENGLISH) == set()


def test_a_language_that_lacks_a_sentence_is_found(tmp_path):
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    first.write_text('"a.b" = "{mg} of {salt}"\n"a.c" = "dry"\n', encoding="utf-8")
    second.write_text('"a.b" = "{salt}: {mg}"\n"a.c" = "{mg}"\n"a.d" = ""\n', encoding="utf-8")
    assert not_alike(second, first) == {"a.c", "a.d"}


def test_no_sentence_stands_beside_the_logic():
    # Four words in a row are a sentence; what the reader refuses is no word of a result.
    words_in_code = re.compile(r'"[^"\n]*\b[a-z]+ [a-z]+ [a-z]+ [a-z]+\b[^"\n]*"')
    found = {
        name: words_in_code.findall(results_only(text))
        for name, text in sources().items()
        if name.split("/")[1] not in READERS
    }
    # A fault of the data set, and the words of a refusal that is thrown further on.
    refusals = ("onset band", "accepted is", "and a limit above 0", "0 or more mg/L", "log10 of")
    refusals += ("low before high, or", "and a reading above 0")
    found = {
        name: [s for s in lines if not any(word in s for word in refusals)]
        for name, lines in found.items()
    }
    assert {name: lines for name, lines in found.items() if lines} == {}


def test_no_word_with_blanks_at_its_ends_stands_in_the_logic():
    # " has pH ", "; nantokite ": a part of a sentence that a translator would not find.
    literal = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
    part = re.compile(r"[;,.]? [A-Za-z]+.*|[A-Za-z].* ")
    # The same in every language: names, units, quantities; names that are read; names in refusals.
    symbols = {"aeruca ", "pH ", " V", " mg/L", " mol/L)", " mol/kg", " h", " g", "x ", ", doi "}
    symbols |= {"dissolved ", "total ", "log10 a(dissolved ", "log10 a(H2O) = ", " as ", " ion"}
    symbols |= {" of bath ", " or ", " degrees C (", " only; this system has "}
    symbols |= {"; line ", " to "}  # of refused lines; what stands in a log
    symbols |= {"a range within ", ", low before high", "log10_activity of ", "log10_ligand of "}
    found = {}
    for name, text in sources().items():
        code = results_only(text)
        lines = [word for word in literal.findall(code) if part.fullmatch(word)]
        lines = [s for s in lines if s not in symbols and not re.search("accepted|nearest", s)]
        if lines and name.split("/")[1] not in READERS:
            found[name] = lines
    assert found == {}
