"""What `plumbing size` prints: tubes chosen, why not smaller, and what more margin weighs."""

import textwrap
from dataclasses import replace

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.page import Page
from plumbing.report.remedy_text import did
from plumbing.studies.remedies import Outcome
from plumbing.studies.sizing import Choice, Sizing


def size_text(
    layout: Layout,
    sizing: Sizing,
    outcome: Outcome | None = None,
    width: int = 80,
    colour: bool = False,
) -> str:
    """Write the result of sizing.

    Parameters
    ----------
    layout : Layout
        The layout as it was.
    sizing : Sizing
        The result.
    outcome : Outcome or None
        What the tubes clear and spoil by the whole check, if there is a choice of tubes.
    width : int
        Columns.
    colour : bool
        Whether terminal colours are wanted.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    if sizing.blocked:
        page.heading("No choice of tubes keeps the limits")
        for why in sizing.blocked:
            page.paragraph(why, indent=2)
        return page.text()
    page.heading(
        "Tubes", "joints bought with the tubes" if sizing.new_joints else "joints as drawn"
    )
    for choice in _alike(sizing.choices):
        _choice(page, choice)
    _suctions(page, sizing)
    _curve(page, sizing)
    if outcome is not None:
        page.heading("By the whole check", "filling, parking, faults and routing included")
        did(page, outcome)
    page.caution(
        "The heat of parts beside a line, its age and its looks are not sized: run `plumbing "
        "check` on the result."
    )
    return page.text()


def _alike(choices: tuple[Choice, ...]) -> list[Choice]:
    """Choices of which the same is to be said, put together."""
    found: dict[tuple[str, ...], Choice] = {}
    for one in choices:
        key = one.role, one.before, one.tube, one.smaller, one.why
        known = found.get(key)
        if known is not None:
            one = replace(one, lines=known.lines + one.lines, mass=known.mass + one.mass)
        found[key] = one
    return list(found.values())


def _choice(page: Page, choice: Choice) -> None:
    was = "as drawn" if choice.tube == choice.before else f"was {choice.before}"
    for row in textwrap.wrap(", ".join(choice.lines), page.width - 4):
        page.line(f"  {row}", bold=True)
    mass = units.show(choice.mass, "mass")
    page.paragraph(f"{choice.tube} ({was}), {choice.role}, {mass}", indent=6)
    not_less = f"not {choice.smaller}: {choice.why}" if choice.smaller else choice.why
    page.paragraph(not_less, indent=6)


def _suctions(page: Page, sizing: Sizing) -> None:
    page.heading("Suction at the pump inlet", "worst share of its limit")
    rows = [
        (
            engine,
            units.show(sizing.before[engine], "share"),
            units.show(sizing.after.get(engine, float("inf")), "share"),
        )
        for engine in sizing.before
    ]
    page.table(("engine", "as drawn", "as chosen"), rows)
    before, after = (units.show(m, "mass") for m in (sizing.mass_before, sizing.mass_after))
    page.paragraph(f"Mass of these tubes: {before} as drawn, {after} as chosen.", indent=2)


def _curve(page: Page, sizing: Sizing) -> None:
    page.heading("What more margin weighs", "lightest tubes at rising margins to the limits")
    rows = [
        (
            units.show(point.margin, "share"),
            units.show(point.mass, "mass"),
            str(len(set(point.tubes))),
        )
        for point in sizing.curve
    ]
    page.table(("margin", "mass of tubes", "kinds of tube"), rows)
