"""Cases computed on the cores of this machine."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Generator, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from multiprocessing.connection import Connection

from plumbing.errors import SolveError
from plumbing.studies.study.one import Row, rows_of
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import Counting

Numbers = tuple[int, ...]
Chunks = Generator[tuple[Row, ...], None, None]

AHEAD = 4  # chunks handed out for each process, so that none waits

_plan: Plan | None = None
_counting: Counting | None = None


def here(plan: Plan, chunks: Iterator[Numbers], counting: Counting, workers: int | None) -> Chunks:
    """Compute chunks on the cores of this machine, in the order they are finished.

    Processes end at once when this one is interrupted or lost, whatever they were at.

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
    ours, theirs = fresh.Pipe()
    begun = (plan, counting, theirs)
    with ours, theirs, ProcessPoolExecutor(count, fresh, _begin, begun) as pool:
        waiting: set[Future[tuple[Row, ...]]] = set()
        try:
            waiting = {pool.submit(_chunk, chunk) for chunk in islice(chunks, AHEAD * count)}
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                waiting |= {pool.submit(_chunk, chunk) for chunk in islice(chunks, len(done))}
                yield from (one.result() for one in done)
        except BrokenProcessPool:
            raise SolveError(
                "a process of the study was ended; call again to go on from the rows kept"
            ) from None
        finally:
            if waiting:
                ours.close()  # tells them to end


def cores() -> int:
    """Cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _begin(plan: Plan, counting: Counting, parent: Connection) -> None:
    """Keep the plan in a new process, so that it travels once; end with the parent."""
    global _plan, _counting
    _plan, _counting = plan, counting
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: Connection) -> None:
    """Wait until the parent closes its end, or is no more."""
    try:
        parent.poll(None)
    finally:
        os._exit(1)


def _chunk(numbers: Numbers) -> tuple[Row, ...]:
    assert _plan is not None, "the process was not begun"
    assert _counting is not None, "the process was not begun"
    return rows_of(_plan, numbers, _counting)
