"""The live page in a browser."""

from __future__ import annotations

import shutil
import threading

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

pytestmark = pytest.mark.browser


def test_the_page_follows_the_file(browser, tmp_path):
    """A saved change appears by itself; a fault is shown in place and the drawing stays.

    The view in space, once open, is open in the renewed page too.
    """
    from report_subjects import LAYOUTS

    from plumbing.report.live import Live

    path = tmp_path / "mine.yaml"
    shutil.copy(LAYOUTS / "single-main.yaml", path)
    good = path.read_text("utf-8")
    wait = WebDriverWait(browser, 60)

    def heading():
        return browser.execute_script("return document.querySelector('h1').textContent")

    with Live(str(path)) as live:
        threading.Thread(target=live.run, daemon=True).start()
        browser.get(live.address)
        first = heading()
        wait.until(lambda _: "Watching" in browser.find_element(By.ID, "live").text)
        path.write_text(good.replace("title: ", "title: Renewed "), "utf-8")
        wait.until(lambda _: heading() == f"Renewed {first}")
        assert browser.execute_script("return document.querySelectorAll('.shown svg').length") == 1
        path.write_text(good.replace("format: 2", "format: <b>"), "utf-8")
        wait.until(lambda _: browser.find_element(By.ID, "broken").is_displayed())
        assert "<b>" in browser.find_element(By.ID, "broken").text
        assert heading() == f"Renewed {first}"
        browser.execute_script("document.querySelector('#tab-space').click()")
        path.write_text(good, "utf-8")
        wait.until(lambda _: heading() == first)
        shown = "return document.querySelectorAll('#drawing-space.shown .solids option').length"
        assert browser.execute_script(shown) > 3
        assert not browser.find_element(By.ID, "broken").is_displayed()
        browser.get("about:blank")


def test_the_form_of_the_logbook_writes_a_row(browser, tmp_path):
    """What is wrong is said and stays in the form; a good row is written and shown on the page."""
    from report_subjects import LAYOUTS

    from plumbing.cli.live import _log
    from plumbing.report.live import Live

    path = tmp_path / "mine.yaml"
    shutil.copy(LAYOUTS / "single-main.yaml", path)
    wait = WebDriverWait(browser, 60)

    def said():
        return browser.find_element(By.CSS_SELECTOR, "#logbook .said").text

    with Live(str(path), 0, _log) as live:
        threading.Thread(target=live.run, daemon=True).start()
        browser.get(live.address)
        browser.find_element(By.CSS_SELECTOR, "#logbook summary").click()
        box = browser.find_element(By.NAME, "filled")
        box.send_keys("1.5")
        browser.find_element(By.CSS_SELECTOR, "#logbook button").click()
        wait.until(lambda _: "found `1.5` without a unit" in said())
        box.send_keys(" L")
        browser.find_element(By.CSS_SELECTOR, "#logbook button").click()
        wait.until(lambda _: "Wrote line 2" in said())
        assert box.get_attribute("value") == ""
        assert ",flight,,1.5 L," in (tmp_path / "mine.logbook.csv").read_text("utf-8")
        wait.until(lambda _: "Timer and reserve as flown" in browser.page_source)
        browser.get("about:blank")
