"""For the inspector and the bench: report, as-built comparison."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from plumbing.api.files import opened
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.model.layout import Layout
    from plumbing.studies.bench import Compared


def report(
    layout: Layout | str | os.PathLike[str],
    form: str = "html",
    paper: str = "a4",
    date: str = "",
) -> bytes:
    """Write the whole report: a page for the browser, or a dossier to print and sign.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    form : {"html", "pdf"}
        Page or dossier.
    paper : {"a4", "letter"}
        Paper of the dossier.
    date : str
        Day to be written on it.

    Returns
    -------
    bytes
        One file that needs no other.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no such form or paper.
    """
    from plumbing.checks.run import examine
    from plumbing.report.subject import Subject

    loaded = opened(layout)
    subject = Subject(examine(loaded), date)
    if form == "html":
        from plumbing.report.html import html_page

        return html_page(subject).encode()
    if form != "pdf":
        raise UsageError(f"there is no report as `{form}`; there are: html, pdf")
    from plumbing.report.dossier import dossier

    return dossier(subject, paper)


def asbuilt(layout: Layout | str | os.PathLike[str]) -> tuple[Compared, ...]:
    """Compare the values measured on the built aircraft with the predicted ones.

    Parameters
    ----------
    layout : Layout or path
        A layout with values under `measured:`, or the file to read it from.

    Returns
    -------
    tuple of Compared
        Each value beside its prediction: inside the band or not, and what that most likely means.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.network import survey
    from plumbing.studies.bench import compare

    loaded = opened(layout)
    return compare(loaded, survey(loaded))
