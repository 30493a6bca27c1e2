"""The verbs: each one short enough to show the whole way from file to result.

Floors are imported inside the verbs, so that a verb costs only what it uses.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from plumbing import units
from plumbing.errors import UsageError
from plumbing.units import nearest

if TYPE_CHECKING:
    from plumbing.checks.kit import Check
    from plumbing.checks.remedied import Remedied
    from plumbing.checks.run import Examined
    from plumbing.model.layout import Layout
    from plumbing.report.schedules import Table
    from plumbing.simulation.flight_result import Flown
    from plumbing.simulation.fuelling import Fuelling
    from plumbing.simulation.parking_result import Parkings
    from plumbing.simulation.tilt_result import TiltMap
    from plumbing.studies.bench import Compared
    from plumbing.studies.fault_result import Faults
    from plumbing.studies.sizing import Sizing
    from plumbing.studies.spread import Spreading
    from plumbing.studies.study.one import Row


def load(path: str | os.PathLike[str]) -> Layout:
    """Read a layout file.

    Parameters
    ----------
    path : path
        The layout file.

    Returns
    -------
    Layout
        Everything it holds, in SI, with usual values filled in and listed as assumptions.

    Raises
    ------
    LayoutError
        The file has faults: all of them, each with its place.
    """
    from plumbing import layout

    return layout.load(os.fspath(path))


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
    from plumbing.checks.run import examine

    return examine(_loaded(layout))


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
    from plumbing.checks.run import Examined, examine
    from plumbing.drawing import schematic

    examined = layout if isinstance(layout, Examined) else examine(_loaded(layout))
    case = examined.case
    return schematic(case.layout, case.survey, examined.verdict.findings)


def fly(
    layout: Layout | str | os.PathLike[str],
    flight: str | None = None,
    log: str | os.PathLike[str] | None = None,
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

    loaded = _loaded(layout)
    if log is not None:
        from plumbing.simulation.recorded import profile_of_file

        return flights.fly(loaded, survey(loaded), profile_of_file(loaded, log))
    if flight is not None and flight not in loaded.flights:
        there = ", ".join(loaded.flights) or "none"
        raise UsageError(f"the layout has no flight `{flight}`; there are: {there}")
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

    loaded = _loaded(layout)
    if port is not None and port not in loaded.fill_ports:
        there = ", ".join(loaded.fill_ports) or "none"
        raise UsageError(f"the layout has no fill port `{port}`; there are: {there}")
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

    loaded = _loaded(layout)
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

    loaded = _loaded(layout)
    if flight is not None and flight not in loaded.flights:
        there = ", ".join(loaded.flights) or "none"
        raise UsageError(f"the layout has no flight `{flight}`; there are: {there}")
    return flown(loaded, survey(loaded), profile_for(loaded, flight))


def spread(
    layout: Layout | str | os.PathLike[str],
    samples: int = 256,
    seed: int = 1,
    tell: Callable[[float], None] | None = None,
) -> Spreading:
    """Run peak flow and the flight over the tolerances of a layout.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    samples : int
        At least so many, 64 to 16 384; taken up to eight times a power of two.
    seed : int
        The same seed gives the same answer.
    tell : callable, optional
        Told the share done, 0 to 1.

    Returns
    -------
    Spreading
        Chances of findings, spreads of numbers, and which tolerance drives them.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        The number of samples is outside its bounds.
    SolveError
        Nothing draws fuel from a tank.
    """
    from plumbing.checks.run import limits_in_force
    from plumbing.network import survey
    from plumbing.studies.spread import spread as spread_of

    loaded = _loaded(layout)
    return spread_of(loaded, survey(loaded), limits_in_force(loaded), samples, seed, tell)


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

    loaded = _loaded(layout)
    if tank is not None and tank not in loaded.tanks:
        there = ", ".join(loaded.tanks)
        raise UsageError(f"the layout has no tank `{tank}`; there are: {there}")
    found = mapped(loaded, survey(loaded), None if tank is None else [tank])
    if not found.tanks:
        which = f"tank `{tank}` feeds" if tank else "no tank feeds"
        raise UsageError(f"{which} {'no' if tank else 'an'} engine, so there is nothing to map")
    return found


def save_drawing(svg: str, path: str | os.PathLike[str]) -> None:
    """Write a drawing as SVG, PNG or PDF, by the ending of the path; whole or not at all.

    Raises
    ------
    UsageError
        The ending is another one, or the path cannot be written.
    """
    ending = Path(path).suffix.lower()
    if ending == ".svg":
        write_whole(path, svg.encode())
        return
    from plumbing.drawing.export import to_pdf, to_png

    makers: dict[str, Callable[[str], bytes]] = {".png": to_png, ".pdf": to_pdf}
    if ending not in makers:
        raise UsageError(
            f"cannot draw to `{Path(path).name}`: the name must end in .svg, .png or .pdf"
        )
    write_whole(path, makers[ending](svg))


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

    loaded = _loaded(layout)
    return made(loaded, survey(loaded), what, None if stock is None else _size_of(stock))


def _size_of(text: str) -> float:
    """A length above nothing as a user writes it [m]."""
    try:
        size = units.parse(text, "length")
    except units.UnitError as wrong:
        raise UsageError(f"stock length: {wrong}") from None
    if not 0.01 <= size <= 1000.0:
        raise UsageError(f"stock length: `{text}`; expected 10 mm to 1000 m")
    return size


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
        Content of the files by former; a PDF holds all formers under an empty name.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no such former, or nothing to drill.
    """
    from plumbing.drawing.templates import made

    return made(_loaded(layout), form, former, whole)


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

    loaded = _loaded(layout)
    subject = Subject(examine(loaded), digest_of(loaded.place.file), date)
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

    loaded = _loaded(layout)
    return compare(loaded, survey(loaded))


def study(
    path: str | os.PathLike[str],
    table: str | os.PathLike[str],
    workers: int | None = None,
    scheduler: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> list[Row]:
    """Compute every variant that a study file lists, and write them as one table.

    Rows are kept beside the table as they are finished; called again after an interruption,
    only the missing ones are computed.

    Parameters
    ----------
    path : path
        The study file.
    table : path
        The table to write, `.csv` or `.parquet`.
    workers : int, optional
        Processes on this machine; by default one for each core.
    scheduler : str, optional
        Address of a Dask scheduler, to compute on its workers instead.
    progress : callable, optional
        Told how many cases are done, of how many.

    Returns
    -------
    list of Row
        All cases by number.

    Raises
    ------
    LayoutError
        The study file, or a layout it starts from, has faults.
    UsageError
        The table cannot be written as asked, or no scheduler answers.
    SolveError
        A process was lost; what was finished is kept.
    """
    from plumbing.checks.counted import counted
    from plumbing.report.study_table import written
    from plumbing.studies.study import load_study, plan_of, run

    plan = plan_of(load_study(path))
    write = written(os.fspath(table))
    rows, journal = run(plan, table, counted, workers, scheduler, progress)
    write_whole(table, write(plan, rows))
    journal.remove()
    return rows


def digest_of(file: str) -> str:
    """SHA-256 of a file in hexadecimal; empty where it cannot be read."""
    import hashlib

    try:
        return hashlib.sha256(Path(file).read_bytes()).hexdigest()
    except OSError:
        return ""


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

    loaded = _loaded(layout)
    return sized(loaded, survey(loaded), sizing_limits(loaded), prefer, new_joints=new_joints)


def with_tubes(path: str | os.PathLike[str], sizing: Sizing) -> tuple[str, str]:
    """Text of a layout file before and after the tubes chosen are written into it.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        The tubes need other joints than the file has, or the text cannot be changed safely.
    """
    from plumbing.layout.edit import changed, text_of

    if sizing.new_joints:
        raise UsageError(
            "these tubes need new joints; write the joints into the layout first, then size again"
        )
    before = text_of(os.fspath(path))
    tubes: dict[tuple[str, ...], str] = {
        ("lines", name, "tube"): choice.tube
        for choice in sizing.choices
        for name in choice.lines
        if sizing.layout.lines[name].tube == choice.tube
    }
    return before, changed(before, os.fspath(path), tubes)


def remedies(
    layout: Layout | str | os.PathLike[str] | Examined,
    check: str | None = None,
    progress: Callable[[int, int], None] | None = None,
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
    progress : callable, optional
        Told how many remedies are tried, of how many.

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
    examined = layout if isinstance(layout, Examined) else examine(_loaded(layout), quick)
    return remedied(examined, check, progress)


def explain(name: str) -> Check:
    """Look a check up by name.

    Raises
    ------
    UsageError
        There is no such check; the message names the nearest.
    """
    from plumbing.checks.registry import checks

    known = {check.name: check for check in checks()}
    if name not in known:
        close = nearest(name, known)
        hint = f"did you mean `{close}`?" if close else "`plumbing explain` lists them."
        raise UsageError(f"there is no check `{name}`; {hint}")
    return known[name]


def starter(name: str) -> str:
    """Text of a commented layout file to start from.

    Raises
    ------
    UsageError
        There is no such starter.
    """
    from plumbing.layout import STARTERS
    from plumbing.layout import starter as text_of

    if name not in STARTERS:
        raise UsageError(f"there is no starter `{name}`; there are: {', '.join(STARTERS)}")
    return text_of(name)


def schema(of: Literal["layout", "check", "flight"] = "layout") -> dict[str, Any]:
    """JSON Schema of the layout file, for editors, or of a result, for programs.

    Parameters
    ----------
    of : {"layout", "check", "flight"}
        The layout file, or the JSON that `plumbing check` or `plumbing fly` prints.

    Raises
    ------
    UsageError
        There is no such schema.
    """
    if of == "layout":
        from plumbing.layout import schema as made

        return made()
    from plumbing.report import json_schema

    makers = {"check": json_schema.check_schema, "flight": json_schema.flight_schema}
    if of not in makers:
        raise UsageError(f"there is no schema of `{of}`; there are: layout, check, flight")
    return makers[of]()


def write_whole(path: str | os.PathLike[str], content: bytes) -> None:
    """Write a file whole or not at all: to a neighbour first, then renamed over.

    Raises
    ------
    UsageError
        The path cannot be written.
    """
    target = Path(path)
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(target)
    except OSError as refused:
        beside.unlink(missing_ok=True)
        raise UsageError(f"cannot write `{target}`: {refused.strerror}") from None


def make_folder(path: str | os.PathLike[str]) -> None:
    """Make a folder unless it is there.

    Raises
    ------
    UsageError
        It cannot be made.
    """
    try:
        Path(path).mkdir(parents=True, exist_ok=True)
    except OSError as refused:
        raise UsageError(f"cannot make the folder `{path}`: {refused.strerror}") from None


def _loaded(layout: Layout | str | os.PathLike[str]) -> Layout:
    return load(layout) if isinstance(layout, str | os.PathLike) else layout
