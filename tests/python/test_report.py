"""The HTML report: complete, self-contained, escaped, accessible, whole or not at all."""

import datetime
import os
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

import aeruca

DEMO = Path(__file__).parents[2] / "data" / "demo"
VOID = {"meta", "img", "br", "wbr", "link", "input", "hr"}


class Page(HTMLParser):
    """Elements, their attributes and text; refuses tags that do not close."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" not in self.open:
            self.words.append(data)

    def all(self, tag):
        return [attributes for name, attributes in self.elements if name == tag]

    @property
    def text(self):
        return re.sub(r"\s+", " ", "".join(self.words))


def tool(*arguments, cwd=None):
    """Run the `aeruca` command of the Python package."""
    command = [sys.executable, "-m", "aeruca.tool", *map(str, arguments)]
    environment = {**os.environ, "PYTHONPATH": str(Path(aeruca.__file__).parents[1])}
    return subprocess.run(command, capture_output=True, text=True, cwd=cwd, env=environment)


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    output = tmp_path_factory.mktemp("report") / "report.html"
    done = tool("report", DEMO / "case.toml", "-o", output, "--date", "2026-06-30")
    assert done.returncode == 0, done.stderr
    assert done.stdout == f"wrote {output}\n"
    return output.read_text(encoding="utf-8")


def test_every_part_is_there(page):
    parsed = Page(page)
    headings = [part for part in ("Front sheet", "The decision in detail", "What to measure next")]
    headings += ["What is stable", "How dry", "How long to wash", "What the bath is and does"]
    headings += ["What is not known", "Cautions", "Limits of the method", "Constants and sources"]
    for heading in [*headings, "What this rests on"]:
        assert heading in parsed.text, heading
    assert "An invented case" in parsed.text
    assert "2026-06-30" in parsed.text
    dataset = aeruca.default_dataset()
    assert dataset.content_hash in parsed.text
    assert "defer to the safety data sheets" in parsed.text


def test_the_decision_comes_first(page):
    parsed = Page(page)
    order = ["Front sheet", "Is it active", "Keep it at", "Washing", "Look again on"]
    order += ["Measure next", "The decision in detail", "What to measure next"]
    places = [parsed.text.index(heading) for heading in order]
    assert places == sorted(places)
    assert parsed.text.index("What to measure next") < parsed.text.index("What is stable")


def test_the_heading_speaks_of_conditions_and_of_the_record(page):
    text = Page(page).text
    assert "conditions active" in text
    assert "Probability above 0.99 that the store record exceeded the rule" in text


def test_without_a_date_the_report_bears_todays(tmp_path):
    days = {datetime.date.today().isoformat()}
    assessment = aeruca.write_report(DEMO / "case.toml", tmp_path / "out.html")
    days.add(datetime.date.today().isoformat())  # a run over midnight
    assert assessment.to_dict()["date"] in days


def test_nothing_is_fetched_from_elsewhere(page):
    parsed = Page(page)
    for tag, attributes in parsed.elements:
        assert tag not in {"script", "link", "iframe", "object", "embed"}
        for name in ("src", "href", "srcset", "action"):
            value = attributes.get(name)
            assert value is None or value.startswith(("data:", "#")), (tag, name)
    assert "url(" not in page
    assert "@import" not in page


def test_figures_tell_those_who_cannot_see_them(page):
    images = Page(page).all("img")
    # Four of the front sheet; record, over its band, box, baths, the water, a pit.
    assert len(images) == 4 + 6
    for place, image in enumerate(images):
        assert len(image["alt"]) > (40 if place < 4 else 60)
        assert image["src"].startswith("data:image/svg+xml;base64,")


def test_it_can_be_read_aloud(page):
    parsed = Page(page)
    assert parsed.all("html")[0]["lang"] == "en"
    assert parsed.all("meta")[0]["charset"] == "utf-8"
    assert len(parsed.all("h1")) == 1
    assert all("scope" in cell for cell in parsed.all("th"))
    ids = [attributes["id"] for _, attributes in parsed.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    labels = [a["aria-labelledby"] for a in parsed.all("section")]
    assert set(labels) <= set(ids)


def contrast(one, two):
    def luminance(colour):
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_letters_stand_out_from_the_paper(page):
    # 4.5 is what the web content accessibility guidelines ask of body text (WCAG 2.1, 1.4.3).
    colours = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", page))
    assert contrast(colours["quiet"], colours["paper"]) >= 4.5
    for tone, wash in re.findall(r"--tone: (#[0-9a-f]{6}); --tone-wash: (#[0-9a-f]{6})", page):
        assert contrast(tone, wash) >= 4.5
        assert contrast(colours["quiet"], wash) >= 4.5


def test_what_the_user_wrote_is_escaped(tmp_path):
    evil = "<script>alert('x')</script>"
    shutil.copytree(DEMO, tmp_path / "demo")
    path = tmp_path / "demo" / "case.toml"
    text = path.read_text(encoding="utf-8")
    text = text.replace('name = "Bird-head mount of a hanging bowl (invented)"', f'name = "{evil}"')
    text = text.replace('text = "three', f'text = "{evil} three')
    text = text.replace('name = "pore water of the find spot"', f'name = "{evil}"')
    path.write_text(text, encoding="utf-8")
    aeruca.write_report(path, tmp_path / "out.html")
    page = (tmp_path / "out.html").read_text(encoding="utf-8")
    assert page.count("&lt;script&gt;") >= 4
    parsed = Page(page)
    assert parsed.all("script") == []
    assert evil in parsed.text


def test_equal_cases_give_equal_reports(page, tmp_path):
    aeruca.write_report(DEMO / "case.toml", tmp_path / "again.html", date="2026-06-30")
    assert (tmp_path / "again.html").read_text(encoding="utf-8") == page


def test_a_case_without_logs_has_a_report_without_figures(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text('[object]\nname = "bare"\n', encoding="utf-8")
    aeruca.write_report(path, tmp_path / "out.html")
    parsed = Page((tmp_path / "out.html").read_text(encoding="utf-8"))
    assert parsed.all("img") == []
    assert "not known" in parsed.text


def test_the_report_lies_beside_the_case_unless_told(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    done = tool("report", path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "case.html").exists()


def test_the_input_is_never_overwritten(tmp_path):
    shutil.copytree(DEMO, tmp_path / "demo")
    for name, role in (("case.toml", "case file"), ("bath-log.csv", "bath log")):
        path = tmp_path / "demo" / name
        before = path.read_text(encoding="utf-8")
        done = tool("report", tmp_path / "demo" / "case.toml", "-o", path)
        assert done.returncode == 1
        assert f"{path}: is the {role} of this case and is never overwritten" in done.stderr
        assert path.read_text(encoding="utf-8") == before


def test_an_older_report_is_replaced_whole(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    output = tmp_path / "out.html"
    output.write_text("old", encoding="utf-8")
    aeruca.write_report(path, output)
    assert output.read_text(encoding="utf-8").rstrip().endswith("</html>")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["case.toml", "out.html"]


def test_a_failure_leaves_an_older_report_as_it_was(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text('[store]\nlogg = "none.csv"\n', encoding="utf-8")
    output = tmp_path / "out.html"
    output.write_text("old", encoding="utf-8")
    done = tool("report", path, "-o", output)
    assert done.returncode == 1
    assert "no key named 'logg'" in done.stderr
    assert output.read_text(encoding="utf-8") == "old"


def test_an_unwritable_place_leaves_nothing_behind(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    output = tmp_path / "none" / "out.html"
    done = tool("report", path, "-o", output)
    assert done.returncode == 1
    assert done.stderr == f"aeruca: {output}: cannot be written; a writable place is wanted\n"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["case.toml"]


@pytest.mark.parametrize("missing", ["jinja2", "matplotlib"])
def test_a_missing_library_is_named_with_the_way_to_get_it(missing, monkeypatch, tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    monkeypatch.setitem(sys.modules, missing, None)
    with pytest.raises(ImportError, match=re.escape('pip install "aeruca[report]"')):
        aeruca.write_report(path, tmp_path / "out.html")
    assert not (tmp_path / "out.html").exists()


def test_the_other_commands_pass_through():
    done = tool("--version")
    assert done.returncode == 0
    assert done.stdout.strip() == aeruca.__version__
    done = tool("salts", "nosuchsalt")
    assert done.returncode == 1
    assert done.stderr.startswith("aeruca: ")
    assert tool("nosuchcommand").returncode == 2
    assert tool("report").returncode == 2


def test_options_of_the_tool_may_stand_before_report(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text("", encoding="utf-8")
    done = tool("--data", tmp_path / "none", "report", path)
    assert done.returncode == 1
    assert str(tmp_path / "none") in done.stderr


def test_the_program_without_python_says_where_the_report_is(run):
    done = run("report", "case.toml")
    assert done.returncode == 2
    assert 'pip install "aeruca[report]"' in done.stderr


def test_a_bad_log_costs_its_own_section_of_the_report(tmp_path):
    path = tmp_path / "case.toml"
    path.write_text('[store]\nlog = "none.csv"\n[object]\nname = "a bowl"\n', encoding="utf-8")
    output = tmp_path / "out.html"
    done = tool("report", path, "-o", output)
    assert done.returncode == 1
    assert "'none.csv' is no file that can be read" in done.stderr
    page = output.read_text(encoding="utf-8")
    assert "a bowl" in page
    assert "The store record could not be used" in page


def test_a_limit_of_the_users_own_data_keeps_its_figure(tmp_path, root):
    own = tmp_path / "own.toml"
    own.write_text(
        '[[onset]]\nid = "own-limit"\ntitle = "a limit of our own"\nlow_rh_percent = 30.0\n'
        'high_rh_percent = 35.0\nsource = "scott1990"\nbasis = "memory"\nchosen = false\n'
        'reason = "test"\n',
        encoding="utf-8",
    )
    case = tmp_path / "case.toml"
    log = root / "data/demo/store-log.csv"
    case.write_text(f'[store]\nlog = "{log}"\nonset = "own-limit"\n', encoding="utf-8")
    output = tmp_path / "out.html"
    done = tool("report", case, "-o", output, "--add-data", own)
    assert done.returncode == 0, done.stderr
    assert "Humidity at the object's surface against the onset band" in output.read_text().replace(
        "&#39;", "'"
    )


def test_formulas_in_sentences_have_their_subscripts_and_names_of_figures_stay():
    said = aeruca.report._said
    equation = "4 CuCl + O2 + 4 H2O = 2 Cu2(OH)3Cl + 2 H(+)"
    assert said(equation) == (
        "4 CuCl + O<sub>2</sub> + 4 H<sub>2</sub>O = 2 Cu<sub>2</sub>(OH)<sub>3</sub>Cl + "
        "2 H<sup>+</sup>"
    )
    assert said("bischofite (MgCl2.6H2O)") == "bischofite (MgCl<sub>2</sub>·6H<sub>2</sub>O)"
    assert said("C09, K10 and H1A at pH 7") == "C09, K10 and H1A at pH 7"
    assert said("2 e(-)") == "2 e<sup>−</sup>"
