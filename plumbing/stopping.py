"""A long computation says how far it is, and stops where whoever waits for it wants that.

Whoever waits is `watched`. A computation calls `going` now and then, which costs nothing where
nobody waits; one that consists of several says by `within` which `part` of the whole it is at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace

from plumbing.errors import Stopped
from plumbing.frozen import frozen

Tell = Callable[[str, float], None]
"""Told what is computed, and the share of it that is done, 0 to 1."""


@dataclass(slots=True)
class Watch:
    """Whoever waits.

    Attributes
    ----------
    tell : callable
        Told what is computed, and the share of it that is done, 0 to 1.
    stop : bool
        Set to end every computation at its next step.
    cut : list of str
        What was ended so, each once.
    """

    tell: Tell
    stop: bool = False
    cut: list[str] = field(default_factory=list)


@frozen
class _Span:
    """What is computed now, and between which shares of it."""

    watch: Watch
    what: str
    low: float = 0.0
    high: float = 1.0


_NOW: ContextVar[_Span | None] = ContextVar("now", default=None)


@contextmanager
def watched(what: str, tell: Tell) -> Iterator[Watch]:
    """Hear meanwhile how far a computation is, and be able to stop it."""
    watch = Watch(tell)
    with _being(_Span(watch, what)):
        yield watch


@contextmanager
def within(what: str) -> Iterator[None]:
    """Compute a thing of its own meanwhile."""
    now = _NOW.get()
    with _being(now and _Span(now.watch, what)):
        yield


@contextmanager
def part(low: float, high: float) -> Iterator[None]:
    """Compute the part of the whole between two shares, each 0 to 1, meanwhile."""
    now = _NOW.get()
    if now is not None:
        wide = now.high - now.low
        now = replace(now, low=now.low + low * wide, high=now.low + min(high, 1.0) * wide)
    with _being(now):
        yield


@contextmanager
def _being(span: _Span | None) -> Iterator[None]:
    before = _NOW.set(span)
    try:
        yield
    finally:
        _NOW.reset(before)


def going(share: float) -> None:
    """Say the share done of what is computed, 0 to 1.

    Raises
    ------
    Stopped
        Whoever waits wants it to stop.
    """
    now = _NOW.get()
    if now is None:
        return
    if now.watch.stop:
        if now.what not in now.watch.cut:
            now.watch.cut.append(now.what)
        raise Stopped(now.what)
    now.watch.tell(now.what, now.low + min(max(share, 0.0), 1.0) * (now.high - now.low))
