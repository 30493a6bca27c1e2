"""The page in a browser."""

from __future__ import annotations

import base64
from io import BytesIO
from pathlib import Path

import pypdf
import pytest

from .conftest import DESK, PHONE, sized

pytestmark = pytest.mark.browser


def accessibility_faults(browser) -> list[str]:
    """What axe-core finds wrong, in short."""
    import axe_core_python

    script = Path(axe_core_python.__file__).with_name("axe.min.js").read_text("utf-8")
    browser.execute_script(script)
    found = browser.execute_async_script(
        "var done = arguments[0]; axe.run(document, {resultTypes: ['violations']})"
        ".then(function (r) { done(r.violations); }, function (e) { done([{id: String(e)}]); });"
    )
    return [
        f"{one['id']}: {node['target']} {node.get('failureSummary', '')}"
        for one in found
        for node in one.get("nodes", [{"target": ""}])[:3]
    ]


def number_of(browser, selector: str) -> int:
    """How many elements are like that and seen."""
    return browser.execute_script(
        "return Array.from(document.querySelectorAll(arguments[0]))"
        ".filter(function (e) { return e.getClientRects().length > 0; }).length",
        selector,
    )


def text_of(browser, selector: str) -> str:
    """Text of the first element like that."""
    return browser.execute_script(
        "return document.querySelector(arguments[0]).textContent", selector
    )


@pytest.mark.parametrize("name", ["teed-pair", "twin", "crowded", "hostile"])
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_everyone_can_read_it(browser, pages, name, size):
    """The accessibility checker finds no fault, at a desk and on a phone."""
    sized(browser, size)
    browser.get(pages[name])
    assert accessibility_faults(browser) == []


@pytest.mark.parametrize("name", ["teed-pair", "twin", "crowded", "hostile"])
def test_a_phone_needs_no_sideways_scrolling(browser, pages, name):
    """At 360 px the page is as wide as the screen; drawings and tables scroll in themselves."""
    sized(browser, PHONE)
    browser.get(pages[name])
    assert browser.execute_script("return document.documentElement.scrollWidth") <= PHONE[0]


def test_a_finding_in_focus_lights_its_part_and_lines(browser, pages):
    """Tab to a finding: its part is lit, its lines half, all else steps back; Escape ends it."""
    browser.get(pages["teed-pair"])
    browser.execute_script("document.querySelector('#finding-1 .at a').focus()")
    lit = browser.execute_script(
        "return Array.from(document.querySelectorAll('#drawing-schematic .lit'))"
        ".map(function (g) { return g.dataset.part; })"
    )
    assert lit == ["port", "starboard", "suction tee"]
    assert number_of(browser, "#drawing-schematic svg.pointing .near") == 5
    faint = browser.execute_script(
        "return Number(getComputedStyle(document.querySelector("
        "'#drawing-schematic .part:not(.lit):not(.near)')).opacity)"
    )
    assert faint <= 1.0
    browser.execute_script("document.activeElement.blur()")
    assert number_of(browser, "svg.pointing") == 0


def test_a_mark_in_the_drawing_leads_to_its_finding(browser, pages):
    """Click on a mark: its finding is pointed out and the address names it."""
    browser.get(pages["teed-pair"])
    browser.execute_script(
        "document.querySelector('#drawing-schematic a[href=\"#finding-2\"]')"
        ".dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true}))"
    )
    assert browser.current_url.endswith("#finding-2")
    assert number_of(browser, "#finding-2.pointed") == 1


def test_parts_can_be_walked_with_the_arrow_keys(browser, pages):
    """In a drawing the right arrow goes from part to part and says which it is."""
    from selenium.webdriver import Keys
    from selenium.webdriver.common.by import By

    browser.get(pages["teed-pair"])
    paper = browser.find_element(By.CSS_SELECTOR, "#drawing-schematic .paper")
    said = []
    for _ in range(3):
        paper.send_keys(Keys.ARROW_RIGHT)
        said.append(text_of(browser, ".told"))
    assert len(set(said)) == 3
    assert all(said)
    paper.send_keys(Keys.ESCAPE)
    assert number_of(browser, "svg.pointing") == 0


def test_drawings_change_by_keyboard(browser, pages):
    """The arrow keys go through the tabs, and one drawing is seen at a time."""
    from selenium.webdriver import Keys
    from selenium.webdriver.common.by import By

    browser.get(pages["twin"])
    for key in ("plan", "side", "front", "space", "schematic"):
        browser.switch_to.active_element if key != "plan" else browser.find_element(
            By.ID, "tab-schematic"
        ).click()
        browser.switch_to.active_element.send_keys(Keys.ARROW_RIGHT)
        assert number_of(browser, ".drawing") == 1
        assert number_of(browser, f"#drawing-{key}") == 1


def test_drawings_can_be_enlarged(browser, pages):
    """Larger draws larger, smaller again as before; the page itself does not get wider."""
    from selenium.webdriver.common.by import By

    browser.get(pages["twin"])
    svg = browser.find_element(By.CSS_SELECTOR, "#drawing-schematic svg")
    before = svg.rect["width"]
    smaller, larger = browser.find_elements(By.CSS_SELECTOR, ".sizes button")
    assert not smaller.is_enabled()
    larger.click()
    assert svg.rect["width"] > 1.3 * before
    assert browser.execute_script("return document.documentElement.scrollWidth") <= DESK[0]
    smaller.click()
    assert svg.rect["width"] == before


def test_the_slider_runs_the_flight(browser, pages):
    """The slider empties the tanks in read-outs, schematic and elevation alike."""
    browser.get(pages["twin"])
    before = text_of(browser, ".gauge b")
    browser.execute_script(
        "document.querySelectorAll('.runs input')[1].click();"
        "var s = document.querySelector('.clock input[type=range]');"
        "s.value = s.max; s.dispatchEvent(new Event('input'));"
    )
    assert text_of(browser, ".gauge b") != before
    shares = browser.execute_script(
        "return Array.from(document.querySelectorAll('.gauge i'))"
        ".map(function (gauge) { return parseFloat(gauge.style.backgroundSize); })"
    )
    assert min(shares) < 10.0
    assert max(shares) < 20.0
    spoken = browser.execute_script(
        "return document.querySelector('.clock input[type=range]').getAttribute('aria-valuetext')"
    )
    assert "min" in spoken
    assert "%" in spoken


SHARES = """
function area(path) {
  return path.getAttribute("d").split("M").slice(1).reduce(function (sum, loop) {
    var p = loop.match(/-?[0-9.]+/g).map(Number), twice = 0;
    for (var k = 0; k < p.length; k += 2) {
      twice += p[k] * p[(k + 3) % p.length] - p[k + 1] * p[(k + 2) % p.length];
    }
    return sum + Math.abs(twice) / 2;
  }, 0);
}
var slider = document.querySelector(".clock input[type=range]");
slider.value = arguments[0] * slider.max;
slider.dispatchEvent(new Event("input"));
var tank = document.querySelector("#drawing-side g.tank[data-part='port main']");
var gauge = Array.from(document.querySelectorAll(".gauge")).find(function (one) {
  return one.querySelector(".name").textContent === "port main";
});
return [area(tank.querySelector(".filled")) / area(tank.querySelector("path")),
        parseFloat(gauge.querySelector("i").style.backgroundSize) / 100];
"""


@pytest.mark.outside("a box pitched: what its side shows is its share", quantity="fuel in a view")
@pytest.mark.parametrize("part", [0.0, 0.3, 0.7, 1.0])
def test_fuel_lies_in_an_elevation_as_in_its_tank(browser, pages, part):
    """Of a box that is not banked the wet part of its side is the share of fuel in it."""
    browser.get(pages["twin"])
    drawn, held = browser.execute_script(SHARES, part)
    assert drawn == pytest.approx(held, abs=2e-3)


def test_the_flight_runs_and_stops(browser, pages):
    """Run moves the slider on by itself until it is stopped."""
    from selenium.webdriver.common.by import By
    from selenium.webdriver.support.ui import WebDriverWait

    browser.get(pages["twin"])
    play = browser.find_element(By.CSS_SELECTOR, ".play")
    play.click()
    slider = browser.find_element(By.CSS_SELECTOR, ".clock input[type=range]")
    WebDriverWait(browser, 20).until(lambda _: float(slider.get_property("value")) > 5.0)
    play.click()
    assert play.get_attribute("aria-pressed") == "false"


def test_tables_are_sorted_by_number(browser, pages):
    """A press on a heading sorts by size, a second one the other way, a third one restores."""
    browser.get(pages["twin"])
    script = (
        "var t = Array.from(document.querySelectorAll('.sheet')).find(function (s) {"
        " return s.querySelector('h3').textContent.indexOf('Pressure drops') === 0; });"
        "var heads = Array.from(t.querySelectorAll('thead th'));"
        "var c = heads.findIndex(function (h) { return h.textContent.indexOf('drop') === 0; });"
        "function row() { return Array.from(t.querySelectorAll('tbody tr')).map(function (r) {"
        " return Number(r.children[c].dataset.value); }); }"
        "var out = [row()];"
        "for (var k = 0; k < 3; k++) { heads[c].querySelector('button').click(); out.push(row()); }"
        "return out;"
    )
    was, rising, falling, again = browser.execute_script(script)
    assert rising == sorted(was)
    assert falling == sorted(was, reverse=True)
    assert again == was


def test_findings_are_chosen_by_severity_and_words(browser, pages):
    """Two hundred findings in fifty causes: unticking and words leave the wanted ones."""
    browser.get(pages["crowded"])
    assert number_of(browser, ".finding") == 50
    browser.execute_script("document.querySelector('.chooser input[value=advice]').click()")
    some = number_of(browser, ".finding")
    assert 0 < some < 50
    browser.execute_script(
        "var w = document.querySelector('.chooser input[type=search]'); w.value = 'check-0';"
        "w.dispatchEvent(new Event('input', {bubbles: true}));"
    )
    assert number_of(browser, ".finding") == 1


def test_names_full_of_markup_do_nothing(browser, pages):
    """A name that would be a script is shown as it is written."""
    browser.get(pages["hostile"])
    assert text_of(browser, "h1") == '</script><b>&"x"</b>'
    assert number_of(browser, "#findings b b") == 0


def test_it_reads_without_scripts(browser, pages):
    """With scripts off every drawing and every finding is there, and no dead button."""
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    browser.get(pages["teed-pair"])
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    assert number_of(browser, ".drawing") == 4
    assert number_of(browser, ".finding") == 2
    assert number_of(browser, "button, input") == 0


def test_it_prints(browser, pages):
    """On paper all drawings stand one after the other, without controls."""
    browser.get(pages["teed-pair"])
    made = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
    reader = pypdf.PdfReader(BytesIO(base64.b64decode(made["data"])))
    words = " ".join(page.extract_text() for page in reader.pages)
    assert 4 <= len(reader.pages) <= 40
    assert "Flown on" not in words
    assert words.count("vent tee") >= 3
    assert "Run" not in words.split()
