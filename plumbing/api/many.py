"""Many variants of one layout: tolerances and studies."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import TYPE_CHECKING

from plumbing.api.door import Door, writing
from plumbing.api.files import opened

if TYPE_CHECKING:
    from plumbing.model.layout import Layout
    from plumbing.studies.spread import Spreading
    from plumbing.studies.study import Studied


def spread(
    layout: Layout | str | os.PathLike[str],
    samples: int = 512,
    seed: int = 1,
    error: float | None = None,
    sobol: bool = False,
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
    error : float, optional
        Greatest standard error of a chance, 0.004 or more [-]; samples are doubled until it is
        reached, or there are 16 384.
    sobol : bool
        Compute Sobol indices as well, which takes about six times as long.

    Returns
    -------
    Spreading
        Chances of findings, spreads of numbers, and which tolerance drives them.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        The number of samples, or the error, is outside its bounds.
    SolveError
        Nothing draws fuel from a tank.
    """
    from plumbing.checks.limits import limits_in_force
    from plumbing.network import survey
    from plumbing.studies.spread import Wanted
    from plumbing.studies.spread import spread as spread_of

    wanted, loaded = Wanted(samples, seed, error, sobol), opened(layout)
    return spread_of(loaded, survey(loaded), limits_in_force(loaded), wanted)


def study(
    path: str | os.PathLike[str],
    table: str | os.PathLike[str],
    workers: int | None = None,
    scheduler: str | None = None,
    progress: Callable[[int, int], None] | None = None,
    force: bool = False,
) -> Studied:
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
    force : bool
        Whether a table that this program did not write may be replaced.

    Returns
    -------
    Studied
        How many cases there are, how many of them lack results, and why.

    Raises
    ------
    LayoutError
        The study file, or a layout it starts from, has faults.
    UsageError
        The table cannot be written as asked or is a file of somebody else, another study writes
        it now, rows kept beside it are those of another study, or no scheduler answers.
    SolveError
        A process was lost; what was finished is kept.
    """
    from plumbing.checks.counted import counted
    from plumbing.report.study_table import head_row, written
    from plumbing.studies.study import (
        Journal,
        Studied,
        digest_of,
        files_named,
        load_study,
        plan_of,
        run,
    )  # fmt: skip

    write = written(os.fspath(table))
    plan = plan_of(load_study(path))
    inputs = (os.fspath(path), *plan.study.files, *files_named(plan))
    Door(inputs, force).ask(table, head_row(plan))
    with Journal(table, digest_of(plan), plan) as journal:
        run(plan, journal, counted, workers, scheduler, progress)
        with writing(table) as stream:
            write(plan, journal.rows(), stream)
        journal.remove()
    return Studied(os.fspath(table), journal.done, journal.faulty, journal.reasons)
