"""A computation gives its result, or says why not; who reads a missing one cannot overlook it.

A result that may be missing has the type `T | NotComputed`, so the type checker asks whoever
reads it to look first: `got` for one that is needed, `known` for one among several. Results of
one kind by name are `Results`. Reading a missing one is heard by whoever is `listening`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Generic, TypeGuard, TypeVar

from plumbing.errors import SolveError, Stopped
from plumbing.frozen import frozen
from plumbing.stopping import within

T = TypeVar("T")
STOPPED = "stopped before it was done"


@frozen
class NotComputed:
    """Why there is no result.

    Attributes
    ----------
    what : str
        The result, such as `flight` or `filling through fill`.
    reason : str
        Why it is missing, in plain words that name the part.
    part : str
        The part it concerns, or empty for the whole layout.
    asked : bool
        Whether the layout poses the question at all: without a fill port nothing is filled, and
        without a pump's curve nothing is known of its margin.
    stopped : bool
        Whether somebody stopped the computation: the whole is partial.
    """

    what: str
    reason: str
    part: str = ""
    asked: bool = True
    stopped: bool = False

    def __str__(self) -> str:
        return f"{self.what}: {self.reason}"


class ResultMissing(Exception):  # noqa: N818
    """A result that is needed was not computed."""

    def __init__(self, why: NotComputed) -> None:
        self.why = why
        super().__init__(str(why))


_HEARS: ContextVar[list[NotComputed] | None] = ContextVar("hears", default=None)


@contextmanager
def listening() -> Iterator[list[NotComputed]]:
    """Gather the reasons of all missing results that are read meanwhile."""
    heard: list[NotComputed] = []
    before = _HEARS.set(heard)
    try:
        yield heard
    except ResultMissing as missing:
        heard.append(missing.why)
    finally:
        _HEARS.reset(before)


def _tell(missing: Iterable[NotComputed]) -> None:
    heard = _HEARS.get()
    if heard is not None:
        heard.extend(missing)


def got(result: T | NotComputed) -> T:
    """Give the result.

    Raises
    ------
    ResultMissing
        It was not computed.
    """
    if isinstance(result, NotComputed):
        raise ResultMissing(result)
    return result


def known(result: T | NotComputed) -> TypeGuard[T]:
    """Whether there is a result; if not, its reason is heard."""
    if isinstance(result, NotComputed):
        _tell((result,))
        return False
    return True


class Results(Mapping[str, T], Generic[T]):
    """Results of one kind by name: reading them gives those computed, and tells of the missing.

    Parameters
    ----------
    results : mapping of str to T or NotComputed
        Every one that was asked for.
    nothing : NotComputed, optional
        Why there is nothing to compute, where none is asked for.
    """

    def __init__(
        self, results: Mapping[str, T | NotComputed], nothing: NotComputed | None = None
    ) -> None:
        given = results.items()
        self._computed = {name: one for name, one in given if not isinstance(one, NotComputed)}
        self._missing = {name: one for name, one in given if isinstance(one, NotComputed)}
        if nothing is not None and not results:
            self._missing[""] = nothing

    @property
    def missing(self) -> tuple[NotComputed, ...]:
        """Reasons for those that were not computed, each once."""
        return tuple(dict.fromkeys(self._missing.values()))

    def __getitem__(self, name: str) -> T:
        if name in self._missing:
            raise ResultMissing(self._missing[name])
        return self._computed[name]

    def __iter__(self) -> Iterator[str]:
        _tell(self._missing.values())
        return iter(self._computed)

    def __len__(self) -> int:
        _tell(self._missing.values())
        return len(self._computed)


def result_of(what: str, compute: Callable[[], T], part: str = "") -> T | NotComputed:
    """Give the result of a computation, or the reason why it did not reach one."""
    try:
        with within(what):
            return compute()
    except SolveError as why:
        return NotComputed(what, str(why), why.part or part)
    except Stopped:
        return NotComputed(what, STOPPED, part, stopped=True)
