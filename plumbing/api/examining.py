"""Examine a layout: findings, drawing, fluids in flight and on the ground."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from plumbing.api.door import Door
from plumbing.api.files import opened
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.checks.examined import Examined
    from plumbing.model.layout import Layout
    from plumbing.simulation.flight_result import Flown
    from plumbing.simulation.fuelling import Fuelling
    from plumbing.simulation.parking_result import Parkings
    from plumbing.simulation.tilt_result import TiltMap
    from plumbing.studies.fault_result import Faults


def check(layout: Layout | str | os.PathLike[str]) -> Examined:
    """Compute peak flow, survey the network and run every check.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.

    Returns
    -------
    Examined
        The case with its results, and the verdict: findings, unchecked and clear checks.

    Raises
    ------
    LayoutError
        The file has faults.
    """
    from plumbing.checks.examined import examine

    return examine(opened(layout))


def draw(layout: Layout | str | os.PathLike[str] | Examined) -> str:
    """Draw the schematic with the findings marked.

    Parameters
    ----------
    layout : Layout, path or Examined
        What to draw; an examined layout is not examined again.

    Returns
    -------
    str
        SVG text.
    """
    from plumbing.checks.examined import Examined, examine
    from plumbing.drawing.diagram import schematic

    examined = layout if isinstance(layout, Examined) else examine(opened(layout))
    case = examined.case
    return schematic(case.layout, case.survey, examined.causes)


def save_drawing(svg: str, path: str | os.PathLike[str]) -> None:
    """Write a drawing as SVG, PNG or PDF, by the ending of the path; whole or not at all.

    Raises
    ------
    UsageError
        The ending is another one, the path cannot be written, or a file of somebody else is there.
    """
    Door().write({path: drawn_as(path, svg)})


def drawn_as(path: str | os.PathLike[str], svg: str) -> bytes:
    """Content of a drawing's file, by the ending of its path.

    Raises
    ------
    UsageError
        The ending is none of .svg, .png and .pdf.
    """
    from plumbing.drawing.export import to_pdf, to_png

    makers: dict[str, Callable[[str], bytes]] = {
        ".svg": str.encode,
        ".png": to_png,
        ".pdf": to_pdf,
    }
    made = makers.get(Path(path).suffix.lower())
    if made is None:
        raise UsageError(f"cannot draw to `{Path(path).name}`: it must end in .svg, .png or .pdf")
    return made(svg)


def fly(
    layout: Layout | str | os.PathLike[str],
    flight: str | None = None,
    log: str | os.PathLike[str] | None = None,
    *,
    slugs: bool = True,
    slosh: bool = False,
) -> Flown:
    """Fly a layout: the stated flight, and its airborne part again until the engines stop.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    flight : str, optional
        Name of a flight in the layout; by default its first, or the usual one for its style.
    log : path, optional
        A flight recorded as CSV with the usual column names, to fly instead.
    slugs : bool
        Whether air takes its time through the lines, unless the layout says that it does not.
    slosh : bool
        Whether the surfaces swing after the force felt on board, also where the layout does not
        ask for it.

    Returns
    -------
    Flown
        Histories, feed order, air, stranded fuel, endurance and timer.

    Raises
    ------
    LayoutError
        The layout or the log has faults.
    UsageError
        There is no flight of that name.
    SolveError
        Nothing draws fuel, or no air can follow it; the message names the part.
    """
    from plumbing.network import survey
    from plumbing.simulation import flight as flights

    loaded = opened(layout)
    asked = loaded.simulation
    asked = replace(asked, slugs=slugs and asked.slugs, slosh=slosh or asked.slosh)
    loaded = replace(loaded, simulation=asked)
    if log is not None:
        from plumbing.simulation.recorded import profile_of_file

        return flights.fly(loaded, survey(loaded), profile_of_file(loaded, log))
    _refuse_unknown("flight", flight, loaded.flights)
    return flights.fly(loaded, survey(loaded), flights.profile_for(loaded, flight))


def fill(layout: Layout | str | os.PathLike[str], port: str | None = None) -> Fuelling:
    """Fill a layout until fuel leaves the overflow and nothing changes, and drain it.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    port : str, optional
        Fill port; by default the stated one, then every other that a tank needs.

    Returns
    -------
    Fuelling
        Filling by port, draining by place.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no fill port of that name.
    SolveError
        No line joins a tank to anything.
    """
    from plumbing.network import survey
    from plumbing.simulation.fuelling import fuelling

    loaded = opened(layout)
    _refuse_unknown("fill port", port, loaded.fill_ports)
    return fuelling(loaded, survey(loaded), port)


def park(layout: Layout | str | os.PathLike[str]) -> Parkings:
    """Leave a layout standing in every stated attitude and around level; look at its vents.

    Raises
    ------
    LayoutError
        The file has faults.
    SolveError
        No line joins a tank to anything.
    """
    from plumbing.network import survey
    from plumbing.simulation.parking import park as parked

    loaded = opened(layout)
    return parked(loaded, survey(loaded))


def faults(layout: Layout | str | os.PathLike[str], flight: str | None = None) -> Faults:
    """Fly a layout with every single fault it can have, all in one batch.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    flight : str, optional
        Name of a flight in the layout; by default its first, or the usual one for its style.

    Returns
    -------
    Faults
        What each fault does, worst first.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no flight of that name.
    SolveError
        Nothing draws fuel from a tank.
    """
    from plumbing.network import survey
    from plumbing.simulation.flight import profile_for
    from plumbing.studies.faults import faults as flown

    loaded = opened(layout)
    _refuse_unknown("flight", flight, loaded.flights)
    return flown(loaded, survey(loaded), profile_for(loaded, flight))


def tilt(layout: Layout | str | os.PathLike[str], tank: str | None = None) -> TiltMap:
    """Map the fuel below which each tank's feed draws air, over pitch and roll.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    tank : str, optional
        One tank; by default all that feed an engine.

    Returns
    -------
    TiltMap
        The maps, and the worst of the attitudes that are flown and parked in.

    Raises
    ------
    LayoutError
        The file, or a recorded flight it names, has faults.
    UsageError
        There is no tank of that name, or none that feeds an engine.
    """
    from plumbing.network import survey
    from plumbing.simulation.tilt import tilt as mapped

    loaded = opened(layout)
    _refuse_unknown("tank", tank, loaded.tanks)
    found = mapped(loaded, survey(loaded), None if tank is None else [tank])
    if not found.tanks:
        which = f"tank `{tank}` feeds" if tank else "no tank feeds"
        raise UsageError(f"{which} {'no' if tank else 'an'} engine, so there is nothing to map")
    return found


def _refuse_unknown(kind: str, name: str | None, names: Iterable[str]) -> None:
    """Refuse the name of a part that the layout does not have."""
    if name is not None and name not in names:
        there = ", ".join(names) or "none"
        raise UsageError(f"the layout has no {kind} `{name}`; there are: {there}")
