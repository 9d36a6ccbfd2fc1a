"""The page in a real browser: from empty form to saved report, and what people get wrong."""

import shutil
from pathlib import Path

import pytest

import aeruca

pytest.importorskip("flask")
pytest.importorskip("selenium")
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select, WebDriverWait
from test_page_command import Running

from aeruca.page.fields import parts_of
from aeruca.page.form import texts_of
from aeruca.page.guard import MOST_BYTES

tomllib = pytest.importorskip("tomllib")  # Python 3.11
DEMO = Path(__file__).parents[2] / "data" / "demo"
CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
pytestmark = pytest.mark.skipif(
    not (CHROMIUM and DRIVER), reason="no chromium with its driver: apt-get install chromium-driver"
)


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    return tmp_path_factory.mktemp("page")


@pytest.fixture(scope="module")
def page(place):
    running = Running(place)
    yield running
    assert running.end()[::2] == (0, "")


@pytest.fixture(scope="module")
def browser(place):
    options = webdriver.ChromeOptions()
    options.binary_location = CHROMIUM
    for argument in ("--headless=new", "--no-sandbox", "--window-size=1400,1000", "--disable-gpu"):
        options.add_argument(argument)
    (place / "saved").mkdir()
    options.add_experimental_option("prefs", {"download.default_directory": str(place / "saved")})
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = webdriver.Chrome(options, webdriver.ChromeService(DRIVER))
    driver.set_page_load_timeout(60)
    yield driver
    driver.quit()


@pytest.fixture
def tab(browser, page):
    """A fresh page; at the end nothing was complained of, such as what the policy forbids."""
    browser.get(page.address)
    yield Tab(browser)
    complaints = [one for one in browser.get_log("browser") if "status of 4" not in one["message"]]
    assert complaints == []


def until(what, seconds=60):
    """What comes of asking again and again, once it is true."""
    return WebDriverWait(None, seconds, poll_frequency=0.05).until(lambda _: what())


class Tab:
    """What a person does in one tab."""

    def __init__(self, browser):
        self.browser = browser

    def __getitem__(self, name):
        return self.browser.find_element(By.ID, name)

    def press(self, what):
        button = f'button[value="{what}"]:not(.aside)'
        self.click(self.browser.find_element(By.CSS_SELECTOR, button))

    def click(self, element):
        """Scroll it clear of the bar at the foot, as a person does, and click."""
        self.browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", element)
        element.click()

    def give(self, *paths):
        self["files"].send_keys("\n".join(str(path) for path in paths))

    def drop(self, name, content):
        """Let go of one file over the page."""
        script = """
            const held = new DataTransfer();
            held.items.add(new File([arguments[1]], arguments[0]));
            const drop = new DragEvent("drop", { dataTransfer: held, bubbles: true });
            document.body.dispatchEvent(drop);
        """
        self.browser.execute_script(script, name, content)

    def said(self, words):
        return until(lambda: words in self["notice"].text and self["notice"].text)

    def fill(self, name, texts):
        """Fill in one input as a person does, in whatever shape it has."""
        found = self.browser.find_elements(By.NAME, name)
        if found[0].tag_name == "select":
            for text in texts:
                for select in found:
                    known = [o.get_attribute("value") for o in Select(select).options]
                    word = [v for v in known if v and (v == text or v.endswith("=" + text))]
                    if word:
                        Select(select).select_by_value(word[0])
        elif found[0].get_attribute("type") == "checkbox":
            for one in found:
                if one.get_attribute("value") in texts and not one.is_selected():
                    self.click(one)
        elif found[0].get_attribute("type") == "date":
            year, month, day = texts[0].split("-")
            found[0].send_keys(month + day + year)
        else:
            found[0].send_keys(texts[0])

    def report(self):
        self.browser.switch_to.frame(self["report"])
        try:
            return self.browser.find_element(By.TAG_NAME, "body").text
        finally:
            self.browser.switch_to.default_content()


def saved(place, ending):
    return until(lambda: [p for p in (place / "saved").iterdir() if p.suffix == ending])[0]


def test_the_demo_case_from_the_empty_form_to_the_saved_report(tab, place):
    case = tomllib.loads((DEMO / "case.toml").read_text(encoding="utf-8"))
    texts = texts_of(case, parts_of(aeruca.case.case_file_schema()))
    tab.give(DEMO / "store-log.csv", DEMO / "bath-log.csv")
    tab.said("Taken in: bath-log.csv (bath log).")
    tab.press("add:observation")
    until(lambda: tab.browser.find_elements(By.NAME, "observation.1.date"))
    for more in tab.browser.find_elements(By.CSS_SELECTOR, "details:not([open]) > summary"):
        tab.click(more)
    for name, given in texts.items():
        if not name.endswith(".log"):
            tab.fill(name, given)
    tab.press("assess")
    tab.said("Assessed: conditions active.")
    assert case["object"]["name"] in until(tab.report)
    tab.press("case")
    written = saved(place, ".toml")
    mine = tomllib.loads(written.read_text(encoding="utf-8"))
    assert mine["observation"][0].pop("seen")[1] == "texture=powdery"
    assert case["observation"][0].pop("seen")[1] == "powdery"
    assert mine == case
    tab.press("report")
    report = saved(place, ".html").read_text(encoding="utf-8")
    theirs = aeruca.assess_case(DEMO / "case.toml", date="2026-01-01").to_dict()
    for part in theirs["sections"]:
        assert part["title"] in report
    assert "120 (115 to 134) mg chloride" in report


def test_a_number_is_changed_in_place_and_what_moved_is_told(tab):
    tab.give(DEMO / "case.toml", DEMO / "store-log.csv", DEMO / "bath-log.csv")
    tab.said("Assessed: conditions active.")
    mass = tab["object.mass_g"]
    mass.clear()
    mass.send_keys("124,8", Keys.ENTER)
    tab.said("Figures that moved: 3.")
    assert "0.96 (0.92 to 1.00) mg/g" in tab["moved"].text
    assert tab.browser.switch_to.active_element == tab["object.mass_g"]
    frame = until(lambda: tab["report"].size["height"] > 3000 and tab["report"])
    inside = "return arguments[0].contentDocument.documentElement.scrollHeight"
    assert tab.browser.execute_script(inside, frame) <= frame.size["height"] + 4


def test_a_wrong_file_that_is_dropped_gets_one_sentence_and_costs_nothing(tab):
    tab["object.name"].send_keys("Fibula")
    tab.drop("photo.png", "\0PNG")
    tab.said("photo.png: is nothing that is read here")
    assert tab["object.name"].get_attribute("value") == "Fibula"
    assert len(tab["notice"].find_elements(By.TAG_NAME, "li")) == 1


def test_a_huge_file_is_not_sent_and_refused_when_sent_all_the_same(tab, place):
    with (place / "huge.csv").open("wb") as huge:
        huge.truncate(MOST_BYTES + 1)
    tab.give(place / "huge.csv")
    tab.said("Too large: more than 64 MB at once.")
    tab.browser.execute_script("document.getElementById('files').outerHTML += ''")  # no listener
    tab.give(place / "huge.csv")
    tab.browser.execute_script("document.getElementById('case').submit()")
    until(lambda: "larger than 64 MB" in tab.browser.find_element(By.TAG_NAME, "body").text)
    tab.browser.find_element(By.LINK_TEXT, "Back to the form").click()
    until(lambda: tab.browser.find_elements(By.ID, "object.name"))


def test_a_script_in_the_name_of_an_object_is_shown_and_does_not_run(tab):
    script = '<script>document.body.id="caught"</script><img src=x onerror="document.body.id=1">'
    tab["object.name"].send_keys(script)
    tab["object.notes"].send_keys("</textarea>" + script)
    tab.press("assess")
    tab.said("Assessed")
    assert script in until(tab.report)
    assert script in tab.browser.title
    inside = "return [document.body.id, document.getElementById('report').contentDocument.body.id]"
    assert tab.browser.execute_script(inside) == ["", ""]


def test_two_tabs_at_once_do_not_mix(tab, page):
    first = tab.browser.current_window_handle
    tab.browser.switch_to.new_window("tab")
    tab.browser.get(page.address)
    for name, other in (("Second pin", first), ("First pin", None)):
        tab["object.name"].send_keys(name)
        tab.browser.find_element(By.CSS_SELECTOR, "button.main").click()
        if other:
            tab.browser.switch_to.window(first)
    tab.said("Assessed")
    assert "First pin" in until(tab.report)
    second = next(one for one in tab.browser.window_handles if one != first)
    tab.browser.switch_to.window(second)
    tab.said("Assessed")
    assert "Second pin" in until(tab.report)
    tab.browser.close()
    tab.browser.switch_to.window(first)


def nameless(browser):
    """What a screen reader would announce by its kind alone."""
    browser.execute_cdp_cmd("Accessibility.enable", {})
    nodes = browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    shown = [
        (n["role"]["value"], n.get("name", {}).get("value")) for n in nodes if not n["ignored"]
    ]
    spoken = {"textbox", "combobox", "checkbox", "button", "link", "region", "Date", "Iframe"}
    assert len([role for role, _ in shown if role in spoken]) > 50
    return [role for role, name in shown if role in spoken and not name]


def test_with_the_keyboard_alone_and_on_the_width_of_a_phone(tab):
    tab.browser.set_window_size(500, 900)
    try:
        wide = "return document.documentElement.scrollWidth - window.innerWidth"
        assert tab.browser.execute_script(wide) <= 0
        assert nameless(tab.browser) == []
        ActionChains(tab.browser).send_keys(Keys.TAB).perform()
        assert tab.browser.switch_to.active_element.text == "To the assessment"
        order = []
        for _ in range(8):
            ActionChains(tab.browser).send_keys(Keys.TAB).perform()
            order.append(tab.browser.switch_to.active_element.get_attribute("id"))
        assert order[:4] == ["files", "object.name", "object.material", "object.mass_g"]
        tab["water.0.temperature_c"].send_keys("70", Keys.ENTER)
        tab.said("70 is out of range")
        assert tab.browser.switch_to.active_element == tab["result"]
        tab["notice"].find_element(By.TAG_NAME, "a").send_keys(Keys.ENTER)
        assert tab.browser.switch_to.active_element == tab["water.0.temperature_c"]
        assert tab.browser.execute_script(wide) <= 0
    finally:
        tab.browser.set_window_size(1400, 1000)
