"""What `plumbing spread` prints, and the same as JSON."""

from __future__ import annotations

from typing import Any

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.page import Page
from plumbing.report.sweep_schema import SPREAD_OF_ONE, spread_schema
from plumbing.studies.spread import Chance, Spread, Spreading

METHOD = (
    "Each tolerance is taken as two standard deviations: 95 of 100 values lie within it. Fuel "
    "temperature is triangular over its range. All bores are off together; every tank and every "
    "cut length on its own. Drivers are shares of the spread by regression of ranks; `mixed` "
    "where that explains less than half of it."
)
_EXPLAINED = 0.5
_IN_COMPANY = 5.0  # percent by which a total index stands out from the sampling error
_STILL = "hardly moved by any tolerance"
_FEW_IN = 3.0  # 95 of 100 confidence that none seen in n means fewer than 3 in n


def spread_text(layout: Layout, found: Spreading, width: int = 80, colour: bool = False) -> str:
    """Write chances of findings and spreads of numbers.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    page.partial(found.partial)
    for part, why in found.unsolved.items():
        page.paragraph(f"Not computed: {part}: {why}.")
    page.heading("Chance of each finding", f"{found.samples} samples, seed {found.seed}")
    rows = [(one.check, one.part, *_chance(one, found.samples)) for one in found.chances]
    page.table(("finding", "at", "chance", "error"), rows, 2)
    page.blank()
    page.paragraph(_error_words(found), indent=2)
    page.heading("Spread", f"flight {found.flight}" if found.flight else "no flight")
    page.paragraph("The 5th, 50th and 95th percentiles.", indent=2)
    for one in found.spreads:
        page.blank()
        page.line(f"  {_named(one)}")
        page.line("    " + _percentiles(one))
        driven = _driven(one)
        page.paragraph(driven, indent=4)
        if one.shares and driven != _STILL:
            page.paragraph(_sobol(one), indent=4)
    page.heading("How it was computed")
    page.paragraph(METHOD, indent=2)
    page.caution()
    return page.text()


def _chance(one: Chance, samples: int) -> tuple[str, str]:
    bound = 100.0 * _FEW_IN / samples
    if one.chance <= 0.0:
        return f"below {bound:.1g} %", ""
    if one.chance >= 1.0:
        return f"over {100.0 - bound:.3g} %", ""
    return f"{100.0 * one.chance:.3g} %", f"{100.0 * one.error:.2g} %"


def _error_words(found: Spreading) -> str:
    error = f"{100.0 * found.error:.2g} %"
    if found.converged:
        return f"Converged: the standard error of every chance is at most {error}."
    return (
        f"Not converged: the standard error of a chance is up to {error}, more than "
        f"{100.0 * found.target:g} %. Take more samples with --samples or --error."
    )


def _named(one: Spread) -> str:
    return f"{one.what}, {one.part}" if one.part else one.what


def _percentiles(one: Spread) -> str:
    low, middle, high = (_shown(value, one.kind) for value in (one.low, one.middle, one.high))
    return f"{low}   {middle}   {high}"


def _shown(value: float, kind: str) -> str:
    return units.clock(value) if kind == "time" else units.show(value, kind)


def _driven(one: Spread) -> str:
    if len({_shown(value, one.kind) for value in (one.low, one.middle, one.high)}) == 1:
        return _STILL
    if not one.drivers or one.explained < _EXPLAINED:
        return "driven by: mixed"
    shares = [f"{cause} {100.0 * share:.0f} %" for cause, share in list(one.drivers.items())[:3]]
    return "driven by: " + ", ".join(shares)


def _sobol(one: Spread) -> str:
    said = []
    for cause, share in list(one.shares.items())[:3]:
        alone, whole = (100.0 * min(max(value, 0.0), 1.0) for value in (share.alone, share.whole))
        with_others = f" ({whole:.0f} % with others)" if whole - alone > _IN_COMPANY else ""
        said.append(f"{cause} {alone:.0f} %{with_others}")
    return "by Sobol indices: " + ", ".join(said)


def spread_json(layout: Layout, found: Spreading) -> str:
    """Write the same in SI."""
    return json_text(spread_data(layout, found))


def spread_data(layout: Layout, found: Spreading) -> dict[str, Any]:
    """Give the same as plain data."""
    data = {
        "title": layout.title,
        "file": layout.place.file,
        "samples": found.samples,
        "seed": found.seed,
        "flight": found.flight or None,
        "largest_error": found.error,
        "asked_error": found.target,
        "converged": found.converged,
        "method": METHOD,
        "chances": found.chances,
        "spreads": [
            keyed(one, SPREAD_OF_ONE, unit=units.KINDS[one.kind].si) for one in found.spreads
        ],
        "not_computed": found.unsolved,
        "partial": found.partial,
    }
    spread: dict[str, Any] = keyed(data, spread_schema())
    return spread
