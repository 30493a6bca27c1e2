"""A ruler laid on the printed page: what a view calls its scale is its scale."""

import io
import re

import numpy as np
import pytest
from pypdf import PdfReader

from plumbing import api

_POINT = 25.4 / 72.0  # [mm]


def words(page):
    """Words of a page as text, x and y of their first letters [pt]."""
    letters = []

    def seen(text, cm, tm, *_):
        if text.strip():
            letters.append((text.strip(), cm[4] + tm[4] * cm[0], cm[5] + tm[5] * cm[3]))

    page.extract_text(visitor_text=seen)
    found, last = [], (0.0, 0.0)
    for letter, x, y in letters:
        if found and abs(y - last[1]) < 0.1 and 0.0 < x - last[0] < 6.5:
            found[-1] = (found[-1][0] + letter, *found[-1][1:])
        else:
            found.append((letter, x + 0.0, y))
        last = (x, y)
    return found


def measured(page):
    """Millimetres drawn for a millimetre on paper, by the numbers along the ruler below."""
    rows: dict[float, list[tuple[float, float]]] = {}
    for text, x, y in words(page):
        if re.fullmatch(r"[0-9]+00", text):
            middle = x + 0.5 * len(text) * 4.68  # of its figures' width at this size [pt]
            rows.setdefault(round(y, 1), []).append((float(text), middle * _POINT))
    ruler = np.array(max(rows.values(), key=len))
    assert len(ruler) > 3
    return 1.0 / np.polyfit(ruler[:, 0], ruler[:, 1], 1)[0]


@pytest.fixture(scope="module", params=["single-main", "twin"])
def pages(request):
    """Pages of a dossier that have a scale, with it."""
    layout = api.load(f"layouts/{request.param}.yaml")
    dossier = PdfReader(io.BytesIO(api.report(layout, "pdf")))
    told = [re.search(r"scale 1:([0-9.]+)", page.extract_text()) for page in dossier.pages]
    return [(page, float(one[1])) for page, one in zip(dossier.pages, told, strict=True) if one]


def test_the_scale_of_plan_and_side_view_can_be_measured_in_print(pages):
    """The rulers' hundreds stand as far apart as the scale says, to half a percent."""
    wide = [(measured(page), scale) for page, scale in pages[:2]]
    for real, scale in wide:
        assert real == pytest.approx(scale, rel=0.005)


def test_drawings_to_scale_keep_their_own_paper(pages):
    """A4 or A3 on its long side, and not what is left between margins."""
    for page, _ in pages:
        wide, high = (float(side) * _POINT for side in (page.mediabox.width, page.mediabox.height))
        assert (round(wide), round(high)) in {(297, 210), (420, 297)}
