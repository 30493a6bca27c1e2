"""The peak-flow tables of the text report."""

from collections.abc import Sequence

from plumbing import units
from plumbing.checks.case import Case
from plumbing.report.page import Page
from plumbing.report.words import figure
from plumbing.results import known
from plumbing.simulation.peak_result import ElementDrop, EnginePeak, Worst

_SMALL_SHARE = 0.005


def peak_section(page: Page, case: Case) -> None:
    """Write, per engine, the suctions, the stair of drops and the pressure side."""
    for peak in case.peak.engines.values():
        _engine(page, peak)


def _engine(page: Page, peak: EnginePeak) -> None:
    page.heading(
        f"Peak flow, {peak.engine}", f"{units.show(peak.flow, 'flow')} through {peak.pump}"
    )
    page.line("  Suction at the pump inlet", bold=True)
    page.table(("case", "suction", "fuel"), _suctions(peak), left=1)
    page.blank()
    page.line("  Suction side, fuel at its lowest usable level", bold=True)
    _stair(page, peak.elements)
    page.blank()
    page.table(("", ""), list(_facts(peak)), left=1)
    if peak.delivery:
        page.blank()
        page.line("  Pressure side", bold=True)
        _stair(page, peak.delivery)


def _suctions(peak: EnginePeak) -> list[tuple[str, str, str]]:
    return [
        ("usual fuel, 1 g, clean filters", figure(peak.suction), ""),
        ("worst fuel, 1 g, clean filters", *_worst(peak.coldest)),
        (f"worst fuel, {peak.loaded.load}", *_worst(peak.loaded)),
        ("worst fuel, 1 g, filters due", *_worst(peak.dirty)),
    ]


def _worst(worst: Worst) -> tuple[str, str]:
    return figure(worst.suction), units.show(worst.celsius, "temperature", 2)


def _stair(page: Page, elements: Sequence[ElementDrop]) -> None:
    rows = [
        (
            element_name(one),
            units.show(one.drop.value, "pressure", 2),
            units.show(one.velocity, "speed", 2) if one.velocity else "",
            units.show(one.reynolds, "ratio", 2) if one.velocity else "",
            f"{one.share:.0%}",
        )
        for one in elements
        if one.share >= _SMALL_SHARE
    ]
    rest = [one for one in elements if one.share < _SMALL_SHARE]
    if rest:
        total = sum(one.drop.value for one in rest)
        share = sum(one.share for one in rest)
        rows.append(
            (f"{len(rest)} smaller ones", units.show(total, "pressure", 2), "", "", f"{share:.0%}")
        )
    page.table(("element", "drop", "velocity", "Re", "share"), rows)


def element_name(one: ElementDrop) -> str:
    """Name of an element, with its line or part where the words do not say it."""
    named = one.part.partition(".")[0]
    return one.what if named and named in one.what else f"{one.line or one.part}: {one.what}"


def _facts(peak: EnginePeak) -> list[tuple[str, str]]:
    height = units.show(abs(peak.pump_height), "length")
    facts = [
        ("pump inlet", f"{height} {'above' if peak.pump_height > 0 else 'below'} the lowest level"),
        ("air set free there, at most", figure(peak.released)),
    ]
    if peak.header:
        seconds = units.show(peak.header_seconds, "time", 2)
        facts.append((f"{peak.header} holds", f"{seconds} of full flow"))
    if known(peak.head_needed):
        facts.append(("pump pressure needed", figure(peak.head_needed)))
    if known(peak.head_available):
        facts.append(("pump pressure available", units.show(peak.head_available, "pressure")))
    if known(peak.flow_available):
        facts.append(("flow the pump reaches", units.show(peak.flow_available, "flow")))
    return facts
