"""The aircraft in space, in a browser."""

from __future__ import annotations

from itertools import pairwise

import pytest

from .test_page_in_browser import accessibility_faults, number_of, text_of

pytestmark = pytest.mark.browser

SEEN = """
var gl = document.querySelector("#drawing-space canvas").getContext("webgl2");
var w = gl.drawingBufferWidth, h = gl.drawingBufferHeight, dots = new Uint8Array(4 * w * h);
gl.readPixels(0, 0, w, h, gl.RGBA, gl.UNSIGNED_BYTE, dots);
var red = [0, 0, 0], any = 0, sum = 0;
for (var k = 0; k < dots.length; k += 4) {
  if (dots[k + 3]) { any += 1; sum = (sum * 31 + dots[k] + 3 * dots[k + 1] + k) % 1000003; }
  if (dots[k] > 2 * dots[k + 2] && dots[k] > 60 && dots[k + 1] < 30) {
    red[0] += 1; red[1] += k / 4 % w; red[2] += h - Math.floor(k / 4 / w);
  }
}
return { any: any, sum: sum, red: red[0], x: red[1] / red[0] / w, y: red[2] / red[0] / h };
"""


@pytest.fixture
def opened(browser, pages):
    """The page of an aircraft with its view in space in front."""
    browser.get(pages["twin"])
    browser.execute_script("document.querySelector('#tab-space').click()")
    return browser


def seen(browser) -> dict[str, float]:
    """What is on the canvas: dots painted, a sum of them, red ones and their middle."""
    return browser.execute_script(SEEN)


def pressed(browser, keys: str) -> dict[str, float]:
    """The canvas after keys were pressed on its place."""
    browser.find_element("css selector", "#drawing-space .paper").send_keys(keys)
    return seen(browser)


def choose(browser, name: str) -> None:
    """Choose a part from the list."""
    from selenium.webdriver.support.ui import Select

    Select(browser.find_element("css selector", ".solids")).select_by_value(name)


def test_keys_turn_and_zoom(opened):
    """Arrow keys change the picture, and back restores it; plus makes it larger."""
    from selenium.webdriver.common.keys import Keys

    first = seen(opened)
    assert first["any"] > 2000
    turned = pressed(opened, Keys.ARROW_RIGHT)
    assert turned["sum"] != first["sum"]
    assert pressed(opened, Keys.ARROW_LEFT)["any"] == pytest.approx(first["any"], rel=1e-3)
    assert pressed(opened, "+")["any"] > 1.1 * first["any"]
    assert pressed(opened, "-")["any"] == pytest.approx(first["any"], rel=1e-3)


def test_kinds_are_hidden_and_a_plane_cuts(opened):
    """Without its kinds nothing is left but the rest; a cut at the low end leaves nothing."""
    left = [seen(opened)["any"]]
    for box in opened.find_elements("css selector", ".kinds input"):
        opened.execute_script("arguments[0].click()", box)
        left.append(seen(opened)["any"])
    assert all(after <= before for before, after in pairwise(left))
    assert left[-1] == 0
    for box in opened.find_elements("css selector", ".kinds input"):
        opened.execute_script("arguments[0].click()", box)
    whole = seen(opened)["any"]
    cut = (
        "var slider = document.querySelector('.cut-at'); slider.value = {};"
        "slider.dispatchEvent(new Event('input'))"
    )
    opened.execute_script(cut.format(0.5))
    assert 0 < seen(opened)["any"] < 0.95 * whole
    opened.execute_script(cut.format(1))
    assert seen(opened)["any"] == whole


def test_the_fuel_follows_the_slider(opened):
    """Of the fuel alone less is seen when it is burnt, and all of it again at the start."""
    for box in opened.find_elements("css selector", ".kinds label"):
        if box.text.strip() != "fuel":
            opened.execute_script("arguments[0].querySelector('input').click()", box)
    opened.execute_script("document.querySelectorAll('.runs input')[1].click()")
    to = (
        "var s = document.querySelector('.clock input[type=range]');"
        "s.value = arguments[0] * s.max; s.dispatchEvent(new Event('input'))"
    )
    dots = []
    for part in (0.0, 0.3, 0.6, 1.0, 0.0):
        opened.execute_script(to, part)
        dots.append(seen(opened)["any"])
    assert dots[0] > dots[1] > dots[2] > dots[3]
    assert dots[0] == dots[4]


def test_a_part_is_picked_from_list_and_picture(opened):
    """Chosen from the list, a part is lit and told with its line; a click there picks it again."""
    from selenium.webdriver.common.actions.action_builder import ActionBuilder

    name = "port engine"
    choose(opened, name)
    told = text_of(opened, ".told")
    assert told.startswith(f"{name}: engine, line ")
    lit = "return document.querySelectorAll('#drawing-schematic .lit').length"
    assert opened.execute_script(lit) > 0
    spot = seen(opened)
    assert spot["red"] > 30
    choose(opened, "")
    assert seen(opened)["red"] < 0.2 * spot["red"]
    assert text_of(opened, ".told") == ""
    canvas = opened.find_element("css selector", "#drawing-space canvas")
    opened.execute_script(
        "arguments[0].scrollIntoView({block: 'center', behavior: 'instant'})", canvas
    )
    room = opened.execute_script("return arguments[0].getBoundingClientRect().toJSON()", canvas)
    across = room["x"] + spot["x"] * room["width"]
    down = room["y"] + spot["y"] * room["height"]
    hand = ActionBuilder(opened)
    hand.pointer_action.move_to_location(round(across), round(down)).click()
    hand.perform()
    assert text_of(opened, ".told") == told


def test_enter_in_the_list_leads_to_the_finding(browser, pages):
    """Enter on a part of the list goes to its first finding."""
    browser.get(pages["teed-pair"])
    browser.execute_script("document.querySelector('#tab-space').click()")
    choose(browser, "suction tee")
    browser.find_element("css selector", ".solids").send_keys("\n")
    assert browser.execute_script("return document.activeElement.id") == "finding-1"


@pytest.mark.parametrize("name", ["twin", "hostile"])
def test_everyone_can_work_it(browser, pages, name):
    """The accessibility checker finds no fault while the view in space is open."""
    browser.get(pages[name])
    browser.execute_script("document.querySelector('#tab-space').click()")
    assert number_of(browser, "#drawing-space canvas") == 1
    assert accessibility_faults(browser) == []


def test_without_webgl_the_flat_views_stay(browser, pages):
    """Where a browser has no WebGL there is no tab for it, and the others work."""
    hide = {"source": "HTMLCanvasElement.prototype.getContext = function () { return null; };"}
    command = "Page.addScriptToEvaluateOnNewDocument"
    made = browser.execute_cdp_cmd(command, hide)["identifier"]
    try:
        browser.get(pages["twin"])
        assert number_of(browser, "#tab-space, #drawing-space") == 0
        browser.execute_script("document.querySelector('#tab-plan').click()")
        assert number_of(browser, "#drawing-plan svg") == 1
    finally:
        browser.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", {"identifier": made})
