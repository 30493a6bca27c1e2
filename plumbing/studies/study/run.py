"""Run a study: every case once, kept as it is finished, whatever interrupts it."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from itertools import islice

from plumbing.studies.study.cluster import cluster
from plumbing.studies.study.journal import Journal
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import Counting
from plumbing.studies.study.workers import cores, here

CHUNK = 16  # cases computed between two writes, at most
Progress = Callable[[int, int], None]


def run(
    plan: Plan,
    journal: Journal,
    counting: Counting,
    workers: int | None = None,
    scheduler: str | None = None,
    progress: Progress | None = None,
) -> None:
    """Compute every case that is not there yet.

    Parameters
    ----------
    plan : Plan
        The cases.
    journal : Journal
        Where rows are kept as they are finished; open.
    counting : callable
        Runs the checks; a function that other processes can import.
    workers : int, optional
        Processes on this machine; by default one for each core.
    scheduler : str, optional
        Address of a Dask scheduler, to compute on its workers instead.
    progress : callable, optional
        Told how many cases are done, of how many.

    Raises
    ------
    UsageError
        No scheduler answers, or rows cannot be kept.
    SolveError
        A process or chunk was lost; what was finished is kept.
    """
    total, several = len(plan), cores() if workers is None else workers
    size = max(1, min(CHUNK, (total - journal.done) // (4 * several) or 1))
    chunks = _chunks(journal.missing(), size)
    if progress is not None:
        progress(journal.done, total)
    if journal.done == total:
        return
    if scheduler is not None:
        finished = cluster(plan, chunks, counting, scheduler)
    else:
        finished = here(plan, chunks, counting, workers)
    with contextlib.closing(finished):
        for rows in finished:
            journal.add(rows)
            if progress is not None:
                progress(journal.done, total)


def _chunks(numbers: Iterator[int], size: int) -> Iterator[tuple[int, ...]]:
    while chunk := tuple(islice(numbers, size)):
        yield chunk
