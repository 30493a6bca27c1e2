"""Cases computed on a Dask cluster."""

from __future__ import annotations

import contextlib
import logging
from collections.abc import Iterator
from concurrent.futures import CancelledError
from itertools import islice
from typing import Any

from plumbing.errors import SolveError, UsageError
from plumbing.studies.study.identity import program
from plumbing.studies.study.one import Row, rows_of
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import Counting
from plumbing.studies.study.workers import AHEAD, Chunks, Numbers

_HARDY = 10  # times a chunk is begun anew after its worker was lost
_PATIENCE = "20s"  # for a scheduler to answer
_WORKERS = "60s"  # for the first worker to come
_LOST = "the scheduler was lost; call again to go on from the rows kept"


def cluster(plan: Plan, chunks: Iterator[Numbers], counting: Counting, address: str) -> Chunks:
    """Compute chunks on a Dask cluster; what a lost worker had is given to another.

    Raises
    ------
    UsageError
        The cluster's library is not installed, no scheduler answers, or it has no workers.
    SolveError
        A chunk could not be computed, even on other workers.
    """
    try:
        from distributed import Client, as_completed
    except ImportError:
        need = "pip install '.[cluster]' in the clone"
        raise UsageError(f"a cluster needs the extra: {need}") from None
    try:
        client = Client(address, timeout=_PATIENCE)
    except (OSError, ValueError, TimeoutError):
        raise UsageError(f"no scheduler answers at `{address}`") from None
    with _quiet(), client:
        try:
            client.wait_for_workers(1, timeout=_WORKERS)
        except TimeoutError:
            raise UsageError(f"the scheduler at `{address}` has no workers") from None
        try:
            yield from _computed(client, as_completed, plan, chunks, counting)
        except (OSError, CancelledError):
            raise SolveError(_LOST) from None


def _computed(
    client: Any, as_completed: Any, plan: Plan, chunks: Iterator[Numbers], counting: Counting
) -> Chunks:
    own = program()

    def submit(numbers: Numbers) -> Any:
        # The plan goes with every chunk: kept on workers, it could be lost with them.
        given = (plan, numbers, counting, own)
        return client.submit(rows_elsewhere, *given, pure=False, retries=_HARDY)

    ahead = AHEAD * max(sum(client.nthreads().values()), 1)
    running = as_completed([submit(chunk) for chunk in islice(chunks, ahead)])
    for one in running:
        if one.status != "finished":
            raise SolveError(_why(one))
        found: tuple[Row, ...] | None = one.result()
        if found is None:
            raise SolveError(
                "a worker has another version of the program, or of numpy or scipy; "
                "its numbers could differ"
            )
        yield found
        for chunk in islice(chunks, 1):
            running.add(submit(chunk))


@contextlib.contextmanager
def _quiet() -> Iterator[None]:
    """Keep the cluster's library from writing of lost connections: we say it ourselves."""
    loggers = [
        logging.getLogger(name)
        for name in list(logging.root.manager.loggerDict)
        if name.partition(".")[0] == "distributed"
    ]
    before = [one.level for one in loggers]
    for one in loggers:
        one.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        for one, level in zip(loggers, before, strict=True):
            one.setLevel(level)


def rows_elsewhere(
    plan: Plan, numbers: Numbers, counting: Counting, asked: str
) -> tuple[Row, ...] | None:
    """Compute some cases on a worker; None if its program is not the one that asks."""
    return rows_of(plan, numbers, counting) if program() == asked else None


def _why(future: Any) -> str:
    """Why a chunk has no rows, in one line."""
    if future.status != "error":
        return _LOST
    error = future.exception()
    reason = f"{type(error).__name__}: {error}".split("\n", 1)[0][:200]
    return f"the cluster did not compute a part of the study: {reason}"
