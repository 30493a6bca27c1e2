"""A browser without a window, and pages to open in it."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "report"))

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
)
DESK, PHONE = (1440, 900), (360, 740)


@pytest.fixture(scope="session")
def driver():
    """Chromium, driven, with a profile of its own."""
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        for flag in (*FLAGS, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        options.binary_location = "/usr/bin/chromium"
        service = webdriver.ChromeService("/usr/bin/chromedriver")
        found = webdriver.Chrome(options=options, service=service)
        yield found
        found.quit()


@pytest.fixture
def browser(driver):
    """The browser at the size of a desk, scripts on; no message may be left in its console."""
    sized(driver, DESK)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
    driver.get_log("browser")
    yield driver
    complaints = [row for row in driver.get_log("browser") if row["level"] == "SEVERE"]
    assert not complaints


def sized(driver, size) -> None:
    """Give the page the size of a screen."""
    width, height = size
    metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)


@pytest.fixture(scope="session")
def pages(tmp_path_factory):
    """Addresses of pages: two aircraft, two hundred findings, names full of markup."""
    from report_subjects import crowded, hostile, page

    from plumbing.report.html import html_page

    made = {
        "teed-pair": page("teed-pair"),
        "twin": page("twin"),
        "crowded": html_page(crowded()),
        "hostile": html_page(hostile()),
    }
    folder = tmp_path_factory.mktemp("pages")
    found = {}
    for name, text in made.items():
        path = folder / f"{name}.html"
        path.write_text(text, "utf-8")
        found[name] = path.as_uri()
    return found
