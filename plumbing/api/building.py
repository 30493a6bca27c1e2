"""Before the drill: tubes to buy, remedies, schedules, templates."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Literal

from plumbing import quantities
from plumbing.api.files import opened
from plumbing.api.knowledge import explain
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.checks.examined import Examined, Remedied
    from plumbing.findings import Cause
    from plumbing.model.layout import Layout
    from plumbing.report.schedules import Table
    from plumbing.studies.remedies import Outcome
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


def followed(layout: Layout | str | os.PathLike[str] | Examined, changed: Layout) -> Outcome:
    """Compare a changed layout with what it was, by the whole check.

    Returns
    -------
    Outcome
        Findings that go, ease and come.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.checks.examined import Examined, examine
    from plumbing.checks.remedied import followed as told

    examined = layout if isinstance(layout, Examined) else examine(opened(layout))
    return told(examined.verdict, changed, examine(changed).verdict)


def with_tubes(layout: Layout, sizing: Sizing) -> tuple[str, str]:
    """Text of a layout's file before and after the tubes chosen are written into it.

    Raises
    ------
    UsageError
        The file was changed since it was read, or its text cannot be changed safely.
    """
    return _rewritten(layout, sizing.layout)


def with_remedy(found: Remedied, number: int | None = None) -> tuple[str, str]:
    """Text of a layout's file before and after a remedy is written into it.

    Parameters
    ----------
    found : Remedied
        Remedies that help.
    number : int, optional
        Which one, from 1; by default the first, if it brings nothing new.

    Raises
    ------
    UsageError
        There is none of that number, the first spoils something, the file was changed since it
        was read, or its text cannot be changed safely.
    """
    outcomes = found.outcomes
    if not 1 <= (number or 1) <= len(outcomes):
        there = f"1 to {len(outcomes)}" if outcomes else "none"
        raise UsageError(f"there is no remedy {number or 1}; there are: {there}")
    taken = outcomes[(number or 1) - 1]
    if number is None and not taken.good:
        spoilt = ", ".join(sorted({one.check for one in taken.spoils}))
        raise UsageError(f"every remedy brings something new, the first {spoilt}: choose by --take")
    return _rewritten(found.examined.case.layout, taken.proposal.layout)


def _rewritten(before: Layout, after: Layout) -> tuple[str, str]:
    """Text of the file of a layout, and the text from which another one is read."""
    from plumbing.layout import read
    from plumbing.layout.differences import differences
    from plumbing.layout.edit import changed, text_of

    file = before.place.file
    text = text_of(file, before.digest)
    wanted = differences(before, after)
    made = changed(text, file, wanted)
    left = wanted.keys() & differences(read(made, file), after).keys()
    if left:
        keys = ", ".join(".".join(path) for path in left)
        raise UsageError(f"{keys} cannot be written into `{file}` safely; change it by hand")
    return text, made


def remedies(
    layout: Layout | str | os.PathLike[str] | Examined, which: str | int | None = None
) -> Remedied:
    """Try remedies on copies of a layout, each followed through the whole check.

    Parameters
    ----------
    layout : Layout, path or Examined
        What to mend; an examined layout is not examined again.
    which : str or int, optional
        Only remedies for the findings of this check, or for the cause of this number.

    Returns
    -------
    Remedied
        Remedies that help: those that bring nothing new first.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no check of that name, or no cause of that number.
    """
    from plumbing.checks.examined import Examined, examine, remedied

    check = explain(which).name if isinstance(which, str) else None
    examined = layout if isinstance(layout, Examined) else examine(opened(layout))
    if isinstance(which, int):
        check = _cause(examined, which).finding.check
    return remedied(examined, check)


def _cause(examined: Examined, number: int) -> Cause:
    """The cause of a number, as `plumbing check` counts them."""
    if not 0 < number <= len(examined.causes):
        there = f"1 to {len(examined.causes)}" if examined.causes else "none, nothing was found"
        raise UsageError(f"there is no cause {number}; there are: {there}")
    return examined.causes[number - 1]


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
        size = quantities.parse(text, "length")
    except quantities.UnitError as wrong:
        raise UsageError(f"stock length: {wrong}") from None
    if not 0.01 <= size <= 1000.0:
        raise UsageError(f"stock length: `{text}`; expected 10 mm to 1000 m")
    return size
