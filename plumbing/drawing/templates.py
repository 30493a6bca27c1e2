"""Templates of all formers of a layout, as the files a user asks for."""

import re
from collections.abc import Iterable

from plumbing.drawing.export import to_pdf
from plumbing.drawing.plate import Plate, plate_of
from plumbing.drawing.template import template
from plumbing.drawing.tiles import sheets
from plumbing.errors import UsageError, nearest
from plumbing.model.layout import Layout

FORMS = ("pdf", "svg", "dxf")


def made(layout: Layout, form: str, former: str | None, whole: bool) -> dict[str, bytes]:
    """Templates by a file's name for each former; a PDF holds all under an empty name.

    Parameters
    ----------
    layout : Layout
        The layout.
    form : {"pdf", "svg", "dxf"}
        Form of the files.
    former : str or None
        Only this former.
    whole : bool
        Whether the pages of a PDF have each former's own size; else they are sheets of A4.

    Raises
    ------
    UsageError
        The former or form does not exist, or there is nothing to drill.
    """
    refuse_unknown(layout, former)
    plates = _plates(layout, former)
    if form == "pdf":
        pages = [page for plate in plates for page in _pages(plate, whole)]
        return {"": to_pdf(*pages)}
    if form == "svg":
        return by_name((plate.name, template(plate).encode()) for plate in plates)
    if form == "dxf":
        from plumbing.drawing.dxf import plate_dxf

        return by_name((plate.name, plate_dxf(plate).encode()) for plate in plates)
    raise UsageError(f"a template is written as one of {', '.join(FORMS)}, not `{form}`")


def by_name(contents: Iterable[tuple[str, bytes]]) -> dict[str, bytes]:
    """Contents by names for files that no two share, also where capitals and small are one."""
    made: dict[str, bytes] = {}
    for given, content in contents:
        name = plain = re.sub(r"[^\w-]+", "_", given)[:60]
        number = 1
        while name.casefold() in map(str.casefold, made):
            number += 1
            name = f"{plain}-{number}"
        made[name] = content
    return made


def _pages(plate: Plate, whole: bool) -> tuple[str, ...]:
    return (template(plate),) if whole else sheets(plate)


def refuse_unknown(layout: Layout, former: str | None) -> None:
    """Refuse the name of a former that the layout does not have."""
    if former is not None and former not in layout.formers:
        close = nearest(former, layout.formers)
        listed = ", ".join(list(layout.formers)[:12]) or "none"
        there = f"did you mean `{close}`?" if close else f"there are: {listed}"
        raise UsageError(f"the layout has no former `{former}`; {there}")


def _plates(layout: Layout, former: str | None) -> tuple[Plate, ...]:
    if former is not None:
        return (plate_of(layout, layout.formers[former]),)
    drawn = [one for one in layout.formers.values() if one.outline or one.passages]
    if not drawn:
        raise UsageError("the layout has no former to drill; add `formers:` with their passages")
    return tuple(plate_of(layout, one) for one in drawn)
