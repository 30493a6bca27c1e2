"""For the inspector and the bench: report, as-built comparison."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from plumbing.api.files import opened
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.checks.examined import Examined
    from plumbing.model.layout import Layout
    from plumbing.report.comparison import Comparison
    from plumbing.studies.bench import Compared


def report(
    layout: Layout | str | os.PathLike[str],
    form: str = "html",
    paper: str = "a4",
    date: str = "",
    since: Layout | str | os.PathLike[str] | None = None,
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
        Day to be written on it; where it reads as 2026-05-01 or 1 May 2026, the day as of which
        the logbook is told, else that is the day of its last row.
    since : Layout or path, optional
        An earlier state of the layout: what changed since is told, and what it reopens.

    Returns
    -------
    bytes
        One file that needs no other.

    Raises
    ------
    LayoutError
        The file, a photo it names or the logbook beside it has faults.
    UsageError
        There is no such form or paper.
    """
    from plumbing.checks.examined import examine
    from plumbing.checks.logged import logged
    from plumbing.report.decoding import check_photos
    from plumbing.report.subject import Subject, day_of

    loaded = opened(layout)
    check_photos(loaded)
    examined = examine(loaded)
    changes = None if since is None else compare(opened(since), examined)
    subject = Subject(examined, date, changes, logged(examined.case, day_of(date)))
    if form == "html":
        from plumbing.report.html import html_page

        return html_page(subject).encode()
    if form != "pdf":
        raise UsageError(f"there is no report as `{form}`; there are: html, pdf")
    from plumbing.report.dossier import dossier

    return dossier(subject, paper)


def compare(
    old: Layout | str | os.PathLike[str] | Examined, new: Layout | str | os.PathLike[str] | Examined
) -> Comparison:
    """Compare two states of a layout, both by the whole check.

    Parameters
    ----------
    old, new : Layout, path or Examined
        Both states; an examined layout is not examined again.

    Returns
    -------
    Comparison
        Values changed, findings gone and new, bench tests to be done again.

    Raises
    ------
    LayoutError
        A file has faults.
    """
    from plumbing.checks.examined import Examined, examine
    from plumbing.report.comparison import comparison

    both = [one if isinstance(one, Examined) else examine(opened(one)) for one in (old, new)]
    return comparison(*both)


def asbuilt(
    layout: Layout | str | os.PathLike[str], readings: str | os.PathLike[str] | None = None
) -> tuple[Compared, ...]:
    """Compare the values measured on the built aircraft with the predicted ones and their limits.

    Parameters
    ----------
    layout : Layout or path
        A layout, perhaps with values under `measured:`, or the file to read it from.
    readings : path, optional
        A bench form that was filled in, as `bench_form` writes it.

    Returns
    -------
    tuple of Compared
        Each value beside its prediction and its limit: inside the band or not, passed or failed,
        what that most likely means, and which other predictions move with it.

    Raises
    ------
    LayoutError
        The file or the form has faults.
    """
    from plumbing.checks.case import Case
    from plumbing.checks.pass_marks import pass_marks
    from plumbing.layout.readings import read_readings
    from plumbing.studies.bench import compare

    case = Case(opened(layout))
    more = () if readings is None else read_readings(readings, case.layout)
    return compare(case.layout, case.survey, pass_marks(case), more)


def bench_lines(layout: Layout | str | os.PathLike[str], readings: str | os.PathLike[str]) -> str:
    """Write a filled-in bench form as the lines that go under `measured:` in the layout file.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    readings : path
        The form, as `bench_form` writes it.

    Returns
    -------
    str
        YAML; comments say which statements the readings prove, and what is still to be read.

    Raises
    ------
    LayoutError
        The file or the form has faults.
    """
    from plumbing.layout.readings import read_readings
    from plumbing.report.bench_form import bench_lines as written

    loaded = opened(layout)
    return written(loaded, read_readings(readings, loaded))


def bench_form(layout: Layout | str | os.PathLike[str]) -> str:
    """Write an empty form for the bench tests of a layout, as CSV.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.

    Returns
    -------
    str
        A row a reading, with the predicted value, its band and its limit; `asbuilt` reads it back.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.checks.case import Case
    from plumbing.report.bench_form import bench_form as written

    return written(Case(opened(layout)))
