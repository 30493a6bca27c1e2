"""Run a study: every case once, kept as it is finished, whatever interrupts it."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterator
from importlib import metadata
from itertools import islice

from plumbing.studies.study import workers as places
from plumbing.studies.study.journal import Journal
from plumbing.studies.study.one import Row
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import Counting

CHUNK = 16  # cases computed between two writes, at most
Progress = Callable[[int, int], None]


def run(
    plan: Plan,
    table: str | os.PathLike[str],
    counting: Counting,
    workers: int | None = None,
    scheduler: str | None = None,
    progress: Progress | None = None,
) -> tuple[list[Row], Journal]:
    """Compute every case that is not there yet.

    Parameters
    ----------
    plan : Plan
        The cases.
    table : path
        The table to be; rows are kept beside it until it is written.
    counting : callable
        Runs the checks; a function that other processes can import.
    workers : int, optional
        Processes on this machine; by default one for each core.
    scheduler : str, optional
        Address of a Dask scheduler, to compute on its workers instead.
    progress : callable, optional
        Told how many cases are done, of how many.

    Returns
    -------
    list of Row
        All rows by number.
    Journal
        Where they are kept; to be removed when the table is written.

    Raises
    ------
    UsageError
        Rows of another study stand beside the table, or no scheduler answers.
    SolveError
        A process or chunk was lost; what was finished is kept.
    """
    journal = Journal(table, digest_of(plan))
    rows, total = journal.read(), len(plan)
    missing = (number for number in range(1, total + 1) if number not in rows)
    several = places.cores() if workers is None else workers
    chunks = _chunks(missing, max(1, min(CHUNK, (total - len(rows)) // (4 * several) or 1)))
    if progress is not None:
        progress(len(rows), total)
    if scheduler is not None:
        finished = places.cluster(plan, chunks, counting, scheduler)
    else:
        finished = places.here(plan, chunks, counting, workers)
    if len(rows) < total:
        for done in finished:
            journal.add(done)
            rows |= {row.number: row for row in done}
            if progress is not None:
                progress(len(rows), total)
    return [rows[number] for number in range(1, total + 1)], journal


def digest_of(plan: Plan) -> str:
    """What makes rows comparable: the study, its layouts and the program's version."""
    version = metadata.version("plumbing")
    return hashlib.sha256(f"{version} {plan.study.digest}".encode()).hexdigest()


def _chunks(numbers: Iterator[int], size: int) -> Iterator[tuple[int, ...]]:
    while chunk := tuple(islice(numbers, size)):
        yield chunk
