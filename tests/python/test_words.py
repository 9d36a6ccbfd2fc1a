"""A second language is a file: all sentences of an assessment, its page and its report follow."""

import html
import re
import threading

import pytest

import aeruca
from aeruca.words import Speaking, english_words, languages, say

CYRILLIC = {
    **{chr(97 + i): chr(0x430 + i) for i in range(26)},
    **{chr(65 + i): chr(0x410 + i) for i in range(26)},
}


def other_letters(text):
    """The text in letters of another alphabet, slots apart."""
    parts = re.split(r"(\{[a-z0-9_]+\})", text)
    return "".join(
        part if part.startswith("{") else "".join(CYRILLIC.get(c, c) for c in part)
        for part in parts
    )


def written_otherwise(line):
    if not line.startswith('"'):
        return line
    key, text = re.fullmatch(r'"([^"]+)" = "(.*)"', line).groups()
    return f'"{key}" = "{other_letters(text)}"'


@pytest.fixture
def language(tmp_path):
    path = tmp_path / "other.toml"
    lines = [written_otherwise(line) for line in english_words().splitlines()]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_a_sentence_is_said_in_the_language_within_the_block_and_in_english_after(language):
    with Speaking(language):
        assert say("word.not_known") == other_letters("not known")
        with pytest.raises(aeruca.Error), Speaking(language.with_name("none.toml")):
            pass
        assert say("next.ph.what", water="pond") == other_letters("pH of ") + "pond"
    assert say("word.not_known") == "not known"


def test_another_thread_goes_on_in_english(language):
    heard = []
    with Speaking(language):
        other = threading.Thread(target=lambda: heard.append(say("word.none")))
        other.start()
        other.join()
    assert heard == ["none"]


def test_records_judged_on_threads_are_told_in_the_language_of_the_caller(root, language):
    records = aeruca.store.read_loggers([root / "data/demo/store-log.csv"] * 4, threads=2)
    with Speaking(language):
        many = aeruca.store.assess_stores(records, salt="halite", threads=4)
    for outcome in many:
        said = [*outcome.assessment.warnings, outcome.assessment.reason]
        assert any(other_letters("the sensor") in sentence for sentence in said)
        assert set(re.findall(r"[A-Za-z]{4,}", " ".join(said))) == {"halite"}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda text: text.replace('"word.none"', '"word.nothing"'), "'word.none'"),
        (lambda text: text + '"word.more" = "more"\n', "'word.more'"),
        (lambda text: text.replace("{low} to {high}", "{low}"), "has other slots"),
        (lambda text: text + "word.bare = 3\n", "is no sentence"),
    ],
)
def test_a_language_that_is_not_whole_is_refused_by_its_sentence(tmp_path, change, said):
    path = tmp_path / "broken.toml"
    path.write_text(change(english_words()), encoding="utf-8")
    with pytest.raises(aeruca.Error, match=said), Speaking(path):
        pass


def shown(case, root, language):
    from aeruca.report import render_report

    with Speaking(language):
        assessment = aeruca.assess_case(case, date="2026-06-30")
        page = re.sub(r"(?s)<style.*?</style>|<[^>]*>", " ", render_report(assessment))
        return assessment.to_text(), html.unescape(page), assessment._repr_html_()


def names_of_the_data(root):
    """Words that stand in the data set and in the case, and are the same in every language."""
    tomllib = pytest.importorskip("tomllib")  # Python 3.11
    kept = {"name", "title", "formula", "id", "subject", "source", "also", "quantity", "basis"}
    texts = [(root / "data/demo/case.toml").read_text(encoding="utf-8")]
    texts += [source.key + " " + source.text for source in aeruca.default_dataset().sources]
    for path in sorted((root / "data").glob("*.toml")):
        for records in tomllib.loads(path.read_text(encoding="utf-8")).values():
            for record in records if isinstance(records, list) else []:
                texts += [str(value) for key, value in record.items() if key in kept]
    return set(re.findall(r"[A-Za-z]{2,}", " ".join(texts)))


def cautions_of_the_data(root):
    tomllib = pytest.importorskip("tomllib")
    text = (root / "data/bath_salts.toml").read_text(encoding="utf-8")
    texts = [one["text"] for one in tomllib.loads(text)["bath_caution"]]
    guide = tomllib.loads((root / "data/minerals.toml").read_text(encoding="utf-8"))
    texts += [one[key] for one in guide["field_test"] for key in ("caution", "question")]
    groups = guide["mineral_group"]
    return texts + [one[key] for one in groups for key in ("means", "does_not_mean")]


# Words that German and English share.
SAME = {"Material", "Calcium", "Magnesium", "bar", "RH", "mg", "in"}


@pytest.mark.parametrize("name", ["german"])
def test_a_language_of_ours_leaves_no_sentence_in_english(root, name):
    tomllib = pytest.importorskip("tomllib")  # Python 3.11
    text = (root / f"data/words/{name}.toml").read_text(encoding="utf-8")
    english, other = tomllib.loads(english_words()), tomllib.loads(text)
    alike = {other[key] for key, sentence in english.items() if other[key] == sentence}
    # Names, symbols and keys of files are the same in every language.
    left = re.sub(r"\{\w+\}|\[[\w.]+\]|\w+_\w+", "", " ".join(alike))
    assert set(re.findall(r"[A-Za-z]{2,}", left)) <= SAME


def test_a_front_sheet_says_that_its_language_was_not_reviewed(root):
    pytest.importorskip("jinja2")
    pytest.importorskip("matplotlib")
    text, page, _ = shown(root / "data/demo/case.toml", root, "german")
    for form in (text, page):
        form = " ".join(form.split())
        assert form.count("maschinell erstellt, noch von keiner Restauratorin") == 1
        assert "Höchstens" in form or "HÖCHSTENS" in form


def test_numbers_and_dates_follow_the_language_in_text_and_never_in_json(root, tmp_path):
    with Speaking("german"):
        assert say("word.range", low="0.5", high="2026-05-31") == "0,5 bis 31.05.2026"
        assert say("page.store.record", file="2026-05") == "Depotaufzeichnung 2026-05"
        assessment = aeruca.assess_case(root / "data/demo/case.toml", date="2026-06-30")
        data, text = assessment.to_dict(), assessment.to_text()
    assert "Beurteilt am 30.06.2026 aus" in text
    wash = next(section for section in data["sections"] if section["id"] == "wash")
    bath = wash["tables"][0]["rows"][0]
    assert bath[1] == "2026-01-12"
    assert bath[4] == "37.6"
    assert re.search(r"1 +12\.01\.2026 +7 +1 +37,6 ", text)
    assert not re.search(r"\d{4}-\d\d-\d\d", text)
    assert data["date"] == "2026-06-30"


def test_a_report_in_german_has_no_point_in_its_figures(root):
    pytest.importorskip("jinja2")
    pytest.importorskip("matplotlib")
    page = shown(root / "data/demo/case.toml", root, "german")[1]
    assert not re.search(r"\d{4}-\d\d-\d\d", page)
    assert "0,295 ± 0,024 V" in " ".join(page.split())


def test_a_language_of_ours_is_spoken_by_its_name(tmp_path, monkeypatch):
    assert languages() == ["english", "german"]
    with Speaking("german"), Speaking("english"):
        assert say("word.yes") == "yes"
    refused = "no language named 'finnish'; accepted are english, german, or a file"
    with pytest.raises(aeruca.Error, match=refused), Speaking("finnish"):
        pass


UNITS = {"RH", "mol", "kg", "mL", "pH", "mg", "mmol", "kJ", "aeruca", "aq", "sit", "epsilon", "doi"}


@pytest.mark.parametrize("form", [0, 1, 2], ids=["text", "report", "card"])
def test_no_word_of_english_is_left_in_an_assessment_of_another_language(
    root, language, tmp_path, form
):
    pytest.importorskip("jinja2")
    pytest.importorskip("matplotlib")
    text = " ".join(shown(root / "data/demo/case.toml", root, language)[form].split())
    assert other_letters("chloride") in text
    for caution in cautions_of_the_data(root):
        text = text.replace(caution, "").replace(caution.rstrip("."), "")
    text = re.sub(r"\b[0-9a-f]{16}\b|\S*/\S*\.\w+", "", text)  # hashes, paths
    text = re.sub(r"style='[^']*'|</?\w+>?", "", text)
    left = set(re.findall(r"[A-Za-z]{2,}", text)) - names_of_the_data(root) - UNITS
    assert left == set()
