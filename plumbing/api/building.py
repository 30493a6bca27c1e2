"""Before the drill: tubes to buy, remedies, schedules, templates."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Literal

from plumbing import units
from plumbing.api.files import opened
from plumbing.api.knowledge import explain
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.checks.remedied import Remedied
    from plumbing.checks.run import Examined
    from plumbing.model.layout import Layout
    from plumbing.report.schedules import Table
    from plumbing.studies.sizing import Sizing


def size(
    layout: Layout | str | os.PathLike[str],
    prefer: Literal["light", "few"] = "light",
    new_joints: bool = False,
) -> Sizing:
    """Choose the tube of every suction and vent line at once.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    prefer : {"light", "few"}
        Least mass, or the fewest different tubes and then the least mass.
    new_joints : bool
        Whether barbs are bought with the tubes; else the joints stay as drawn.

    Returns
    -------
    Sizing
        Tubes chosen, why not a size less, suctions before and after, and the trade-off.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.checks.sizing_limits import sizing_limits
    from plumbing.network import survey
    from plumbing.studies.sizing import size as sized

    loaded = opened(layout)
    return sized(loaded, survey(loaded), sizing_limits(loaded), prefer, new_joints=new_joints)


def with_tubes(sizing: Sizing) -> tuple[str, str]:
    """Text of a layout's file before and after the tubes chosen are written into it.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        The tubes need other joints than the file has, the file was changed since it was read, or
        its text cannot be changed safely.
    """
    from plumbing.layout.edit import changed, text_of

    if sizing.new_joints:
        raise UsageError(
            "these tubes need new joints; write the joints into the layout first, then size again"
        )
    file = sizing.layout.place.file
    before = text_of(file, sizing.layout.digest)
    tubes: dict[tuple[str, ...], str] = {
        ("lines", name, "tube"): choice.tube
        for choice in sizing.choices
        for name in choice.lines
        if sizing.layout.lines[name].tube == choice.tube
    }
    return before, changed(before, file, tubes)


def remedies(
    layout: Layout | str | os.PathLike[str] | Examined, check: str | None = None
) -> Remedied:
    """Try remedies on copies of a layout.

    Remedies are followed through peak flow and the flight; through filling, parking and single
    faults only for a check that rests on them.

    Parameters
    ----------
    layout : Layout, path or Examined
        What to mend; an examined layout is not examined again.
    check : str, optional
        Only remedies for the findings of this check.

    Returns
    -------
    Remedied
        Remedies that help, best first, and the findings with their remedies beside them.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no check of that name.
    """
    from plumbing.checks.remedied import remedied
    from plumbing.checks.run import Examined, examine

    quick = check is None or not explain(check).rests_on
    examined = layout if isinstance(layout, Examined) else examine(opened(layout), quick)
    return remedied(examined, check)


def schedules(
    layout: Layout | str | os.PathLike[str], what: str | None = None, stock: str | None = None
) -> tuple[Table, ...]:
    """List lines, cuts, fittings, tanks and passages.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    what : str, optional
        One of `lines`, `cuts`, `fittings`, `tanks`, `passages`; all by default.
    stock : str, optional
        Stock length of tube for the cut list, such as `2 m`.

    Returns
    -------
    tuple of Table
        Plain tables: columns with units, rows, notes.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        The stock length is no length.
    """
    from plumbing.network import survey
    from plumbing.report.schedules import schedules as made

    loaded = opened(layout)
    return made(loaded, survey(loaded), what, None if stock is None else _size_of(stock))


def templates(
    layout: Layout | str | os.PathLike[str],
    form: str,
    former: str | None = None,
    whole: bool = False,
) -> dict[str, bytes]:
    """Draw drill templates at full size.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    form : {"svg", "dxf", "pdf"}
        Form of the files.
    former : str, optional
        Only this former; by default all that have an outline or a passage.
    whole : bool
        PDF pages of each former's own size instead of sheets of A4.

    Returns
    -------
    dict of str to bytes
        Content of the files by a name for each former, unique as part of a file's name; a PDF
        holds all formers under an empty name.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no such former, or nothing to drill.
    """
    from plumbing.drawing.templates import made

    return made(opened(layout), form, former, whole)


def _size_of(text: str) -> float:
    """A length above nothing as a user writes it [m]."""
    try:
        size = units.parse(text, "length")
    except units.UnitError as wrong:
        raise UsageError(f"stock length: {wrong}") from None
    if not 0.01 <= size <= 1000.0:
        raise UsageError(f"stock length: `{text}`; expected 10 mm to 1000 m")
    return size
