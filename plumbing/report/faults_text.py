"""What `plumbing faults` prints."""

from __future__ import annotations

from plumbing import units
from plumbing.findings import Severity
from plumbing.model.layout import Layout
from plumbing.report.page import Page
from plumbing.report.words import counted
from plumbing.studies.fault_result import Faults, Outcome
from plumbing.units import clock

_MEANING = {
    Severity.UNSAFE: "an engine stops in the air, or a tank folds",
    Severity.FAULT: "air at a pump, an engine stops on the ground, or the reserve is cut",
    Severity.ADVICE: "suction rises, or less fuel is left",
}


def faults_text(layout: Layout, faults: Faults, width: int = 80, colour: bool = False) -> str:
    """Write every single fault, worst first.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    page.partial(faults.partial)
    faults_section(page, faults)
    page.caution()
    return page.text()


def faults_section(page: Page, faults: Faults) -> None:
    """Write the faults by severity; those that do nothing in one paragraph."""
    aside = "assumed: the file states no flight" if faults.assumed else ""
    page.heading(f"One thing wrong at a time: {faults.flight}", aside)
    flown = f"{clock(faults.duration)} flown, take-off after {clock(faults.take_off)}"
    page.paragraph(
        f"{counted(len(faults.outcomes) + len(faults.unknown), 'fault')}; {flown}.", indent=2
    )
    for pump, when in faults.nominal_stops.items():
        page.paragraph(
            f"Without any fault {pump} already runs dry after {clock(when)}; what a fault would do "
            "later is not seen.",
            indent=2,
        )
    for severity in Severity:
        group = [one for one in faults.outcomes if one.severity is severity]
        if group:
            page.severity(severity, _MEANING[severity])
        for one in group:
            _outcome(page, one)
    if faults.unknown:
        page.heading("Not computed", counted(len(faults.unknown), "fault"))
        for missing in faults.unknown:
            page.paragraph(f"{missing.why.reason}.", indent=2)
    harmless = [one.fault.what for one in faults.outcomes if one.severity is None]
    if harmless:
        page.heading("Not felt in this flight", counted(len(harmless), "fault"))
        for what in harmless:
            page.paragraph(f"{what}.", indent=2)


def _outcome(page: Page, one: Outcome) -> None:
    page.blank()
    page.paragraph(f"{one.fault.what}:", indent=2)
    page.paragraph(f"{one.does}.", indent=5)
    if one.stops and one.stranded > 0.0:
        left = units.show(one.stranded, "volume")
        page.paragraph(f"{left} still on board then.", indent=5)
    elif not one.stops and one.suction_change > 0.0:
        worst = max(one.suction, key=lambda name: one.suction[name])
        suction = units.show(one.suction[worst], "pressure", 2)
        page.paragraph(f"suction at {worst} {suction}.", indent=5)
    if one.fault.noticed:
        page.paragraph(one.fault.noticed, indent=5, label="noticed")
