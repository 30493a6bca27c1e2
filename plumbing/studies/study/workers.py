"""Where cases are computed: on the cores of this machine, or on a cluster."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from typing import Any

from plumbing.errors import SolveError, UsageError
from plumbing.studies.study.one import Row, rows_of
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import Counting

Numbers = tuple[int, ...]
Chunks = Iterator[tuple[Row, ...]]

_AHEAD = 4  # chunks handed out for each process, so that none waits
_HARDY = 10  # times a chunk is begun anew after its worker was lost
_PATIENCE = "20s"  # for a scheduler to answer

_plan: Plan | None = None
_counting: Counting | None = None


def here(plan: Plan, chunks: Iterator[Numbers], counting: Counting, workers: int | None) -> Chunks:
    """Compute chunks on the cores of this machine, in the order they are finished.

    Raises
    ------
    SolveError
        A process was ended from outside; the rows finished before are kept.
    """
    import multiprocessing

    count = workers or cores()
    if count == 1:
        for chunk in chunks:
            yield rows_of(plan, chunk, counting)
        return
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(count, fresh, _begin, (plan, counting)) as pool:
        waiting = {pool.submit(_chunk, chunk) for chunk in islice(chunks, _AHEAD * count)}
        try:
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                waiting |= {pool.submit(_chunk, chunk) for chunk in islice(chunks, len(done))}
                yield from (one.result() for one in done)
        except BrokenProcessPool:
            raise SolveError(
                "a process of the study was ended; call again to go on from the rows kept"
            ) from None
        finally:
            _forget(waiting)


def _forget(waiting: set[Future[tuple[Row, ...]]]) -> None:
    for one in waiting:
        one.cancel()


def cores() -> int:
    """Cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _begin(plan: Plan, counting: Counting) -> None:
    """Keep the plan in a new process, so that it travels once."""
    global _plan, _counting
    _plan, _counting = plan, counting


def _chunk(numbers: Numbers) -> tuple[Row, ...]:
    assert _plan is not None, "the process was not begun"
    assert _counting is not None, "the process was not begun"
    return rows_of(_plan, numbers, _counting)


def cluster(plan: Plan, chunks: Iterator[Numbers], counting: Counting, address: str) -> Chunks:
    """Compute chunks on a Dask cluster; what a lost worker had is given to another.

    Raises
    ------
    UsageError
        The cluster's library is not installed, or no scheduler answers.
    SolveError
        A chunk could not be computed, even on other workers.
    """
    try:
        from distributed import Client, as_completed
    except ImportError:
        raise UsageError("a cluster needs the extra: pip install 'plumbing[cluster]'") from None
    try:
        client = Client(address, timeout=_PATIENCE)
    except (OSError, ValueError, TimeoutError):
        raise UsageError(f"no scheduler answers at `{address}`") from None
    with client:

        def submit(numbers: Numbers) -> Any:
            # The plan goes with every chunk: kept on workers, it could be lost with them.
            return client.submit(rows_of, plan, numbers, counting, pure=False, retries=_HARDY)

        ahead = _AHEAD * max(sum(client.nthreads().values()), 1)
        running = as_completed([submit(chunk) for chunk in islice(chunks, ahead)])
        for one in running:
            if one.status != "finished":
                raise SolveError(f"a chunk of the study failed on the cluster: {one.status}")
            yield one.result()
            for chunk in islice(chunks, 1):
                running.add(submit(chunk))
