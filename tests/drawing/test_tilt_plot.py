"""The map of unusable fuel as a drawing."""

import itertools
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from plumbing import api
from plumbing.drawing.tilt_plot import tilt_plot
from plumbing.layout import load, starter

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def layout(tmp_path_factory):
    """An aircraft with two tanks and a header."""
    path = tmp_path_factory.mktemp("layout") / "one.yaml"
    path.write_text(starter("chained-pair"))
    return load(path)


def texts(svg):
    """All texts of a drawing."""
    return [text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")]


def test_the_worst_are_listed_and_numbered(layout):
    """The five worst attitudes stand below the map, each with a number on it."""
    found = api.tilt(layout)
    words = texts(tilt_plot(layout, found))
    for number, one in enumerate(found.worst(), 1):
        assert words.count(str(number)) >= 2
        assert one.name in words


def test_bands_only_get_darker():
    """The tones of the bands keep their order in grey."""
    from plumbing.drawing.tilt_plot import tone

    def grey(colour):
        red, green, blue = (int(colour[k : k + 2], 16) for k in (1, 3, 5))
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    greys = [grey(tone(place, 8)) for place in range(9)]
    assert all(a > b for a, b in itertools.pairwise(greys))


def test_one_tank_and_an_even_map(layout):
    """One tank is drawn by name; a map with one value everywhere is drawn as well."""
    found = api.tilt(layout, "header")
    assert any("header" in text for text in texts(tilt_plot(layout, found, "header")))
    flat = replace(found, unusable=0.0 * found.unusable, leaning=0.0 * found.leaning)
    assert "nan" not in tilt_plot(layout, flat).lower()


def test_markup_in_names_is_text(layout):
    """Names of phases and aircraft are escaped."""
    found = api.tilt(layout)
    where = replace(found.envelope, name=tuple("<b>&" for _ in found.envelope.name))
    svg = tilt_plot(replace(layout, title="</svg>"), replace(found, envelope=where))
    assert "<b>&" in texts(svg)
