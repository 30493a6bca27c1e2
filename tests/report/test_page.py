"""The report as one page."""

from __future__ import annotations

import base64
import hashlib
import json
import re

import html5lib
import pytest
from report_subjects import LAYOUTS, MARKUP, crowded, hostile, page, subject

from plumbing.drawing.text import clean
from plumbing.errors import Fault
from plumbing.place import Place
from plumbing.report.html import faults_page, html_page
from plumbing.report.html.moments import MOST, moments

NAMES = ["teed-pair", "twin", "bad"]


def parsed(text: str):
    """The page read by a parser that allows no fault."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


@pytest.mark.quick("teed-pair")
@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_faultless_html(name):
    """A strict HTML parser finds no fault in a page, and no id stands twice."""
    tree = parsed(page(name))
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


@pytest.mark.quick("teed-pair")
@pytest.mark.parametrize("name", NAMES)
def test_a_page_needs_nothing_from_elsewhere(name):
    """No element of a page refers to anything outside it, and it is smaller than 2 MB."""
    text = page(name)
    assert len(text.encode()) < 2_000_000
    for element in parsed(text).iter():
        for attribute in ("src", "href", "{http://www.w3.org/1999/xlink}href", "action"):
            link = element.get(attribute)
            assert link is None or link.startswith("#") or link == "data:,"
    assert "@import" not in text
    assert not re.search(r"url\((?!#)", text)


@pytest.mark.quick("teed-pair")
@pytest.mark.parametrize("name", NAMES)
def test_every_link_of_a_page_leads_somewhere(name):
    """Each link within the page has its target."""
    tree = parsed(page(name))
    ids = {element.get("id") for element in tree.iter()}
    links = [element.get("href") for element in tree.iter() if element.get("href")]
    assert links
    assert {link[1:] for link in links if link.startswith("#")} <= ids


def test_every_finding_is_told_and_linked():
    """Each finding stands on the page with its number, and its mark in a drawing links to it."""
    text, examined = page("teed-pair"), subject("teed-pair").examined
    for number in range(1, len(examined.causes) + 1):
        assert f'id="finding-{number}"' in text
    assert 'href="#finding-1"' in text


def test_markup_in_names_stays_text():
    """A title, a check and a part full of markup make no element and end no script."""
    text = html_page(hostile())
    tree = parsed(text)
    assert "</script><b>" not in text
    assert tree.find(".//h1").text == MARKUP
    assert len(tree.findall(".//script")) == 4


def test_only_the_page_s_own_scripts_may_run():
    """The policy names the digests of the one style and the one script, and allows nothing else."""
    text = page("teed-pair")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)[1]
    script = re.search(r"<script>(.*?)</script>", text, re.S)[1]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src &#39;sha256-{digest}&#39;" in policy
    assert "default-src &#39;none&#39;" in policy
    assert "unsafe" not in policy


def test_the_data_reads_as_json():
    """The data for the slider is JSON, with as many tanks, pumps and lines as the layout has."""
    text = page("twin")
    data = json.loads(re.search(r'id="data">(.*?)</script>', text, re.S)[1])
    layout = subject("twin").examined.case.layout
    assert [one["name"] for one in data["flight"]["tanks"]] == [clean(n) for n in layout.tanks]
    assert len(data["flight"]["flights"]) == 2
    named = {line for lines in data["joined"].values() for line in lines}
    assert named == set(layout.lines)


def test_the_moments_are_those_of_the_flight():
    """Fuel at the first and the last moment is that of the history, in ml."""
    case = subject("twin").examined.case
    history = case.flight.history
    first = moments(case.layout, case.flight)["flights"][0]
    assert len(first["time"]) <= MOST
    assert first["volume"][0] == pytest.approx(1e6 * history.volume[0], abs=0.06)
    assert first["volume"][-1] == pytest.approx(1e6 * history.volume[-1], abs=0.06)
    assert first["time"][-1] == pytest.approx(history.time[-1], abs=0.01)


def test_fuel_at_rest_stands_level_at_its_share_of_a_box():
    """In a box tank at rest the surface is as high as the share of fuel says."""
    case = subject("twin").examined.case
    flight = moments(case.layout, case.flight)["flights"][0]
    number, tank = list(case.layout.tanks).index("port main"), case.layout.tanks["port main"]
    down = flight["directions"][flight["direction"][0]]
    assert down == pytest.approx([0.0, 0.0, -1.0], abs=1e-6)
    low = tank.shape.at[2] - tank.shape.size[2] / 2
    level = flight["level"][0][number]
    assert level == pytest.approx(low + tank.fill * tank.shape.size[2], abs=2e-4)


def test_a_page_says_the_file_it_was_made_from():
    """Digest and date of the layout file are on the page."""
    content = (LAYOUTS / "teed-pair.yaml").read_bytes()
    assert hashlib.sha256(content).hexdigest() in page("teed-pair")
    assert "1 May 2026" in page("teed-pair")


@pytest.mark.slow
def test_two_hundred_findings_fit():
    """A page tells 200 findings under their fifty causes and stays below 2 MB."""
    text = html_page(crowded())
    parsed(text)
    assert len(text.encode()) < 2_000_000
    assert text.count('class="finding"') == 50
    assert text.count("Something is wrong here") >= 200


def test_a_broken_file_has_a_page_of_its_faults():
    """Faults stand on a faultless page with their places, markup in them as text."""
    fault = Fault(Place("x.yaml", 7, 3), f"the name `{MARKUP}`", "letters")
    text = faults_page("x.yaml", (fault,))
    parsed(text)
    assert "line 7, column 3" in text
    assert MARKUP not in text
