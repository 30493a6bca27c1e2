"""The cases of a study, numbered: the same number is the same case on every machine."""

from __future__ import annotations

import math

from plumbing.frozen import frozen
from plumbing.layout.tree import Mapping, Node, Scalar
from plumbing.studies.study.moving import moves
from plumbing.studies.study.spots import laid
from plumbing.studies.study.written import Path, Ranged, Study

PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53)


@frozen
class Case:
    """One variant.

    Attributes
    ----------
    number : int
        Its number, from 1.
    file : str
        Layout file it starts from.
    values : tuple of str or float
        What stands in the table for each variable.
    laid : tuple of (path, Node)
        What is laid over the layout.
    """

    number: int
    file: str
    values: tuple[str | float, ...]
    laid: tuple[tuple[Path, Node], ...]


@frozen
class Plan:
    """A study with its cases counted.

    Attributes
    ----------
    study : Study
        As written.
    """

    study: Study

    def __len__(self) -> int:
        study = self.study
        lists = (len(one.values) for one in study.listed)
        return math.prod((len(study.files), study.samples, *lists))

    @property
    def variables(self) -> tuple[str, ...]:
        """Columns of what varies, with units."""
        study = self.study
        first = ("layout",) if len(study.files) > 1 else ()
        ranged = (f"{one.name} [{one.unit}]" if one.unit else one.name for one in study.ranged)
        return (*first, *(one.name for one in study.listed), *ranged)

    def case(self, number: int) -> Case:
        """The case of that number, 1 to the number of cases.

        Lists turn like the wheels of a counter, the last one fastest but for the samples.
        """
        study = self.study
        rest, sample = divmod(number - 1, study.samples)
        shown: list[str | float] = []
        over: list[tuple[Path, Node]] = []
        for one in reversed(study.listed):
            rest, at = divmod(rest, len(one.values))
            shown.insert(0, one.labels[at])
            over[:0] = [(path, one.values[at]) for path in one.paths]
        file = study.files[rest]
        if len(study.files) > 1:
            shown.insert(0, file)
        for one_range, prime in zip(study.ranged, PRIMES, strict=False):
            value, node = _sampled(one_range, sample + 1, prime)
            shown.append(value)
            over += [(path, node) for path in one_range.paths]
        return Case(number, file, tuple(shown), tuple(over))

    def tree(self, case: Case) -> Node:
        """The layout of a case, as the reader takes it; parts are moved after all else is laid."""
        root: Node = self._base(case)
        for path, value in sorted(case.laid, key=lambda one: moves(one[0])):
            root = laid(root, path, value)
        return root

    def _base(self, case: Case) -> Mapping:
        return self.study.layouts[self.study.files.index(case.file)]


def plan_of(study: Study) -> Plan:
    """Number the cases of a study."""
    return Plan(study)


def _sampled(one: Ranged, number: int, prime: int) -> tuple[float, Node]:
    """A value of a range, rounded to what stands in the table, and the same as written."""
    value = float(f"{one.low + (one.high - one.low) * radical_inverse(number, prime):.9g}")
    text = f"{value!r} {one.unit}".strip()
    return value, Scalar(text, False, one.place)


def radical_inverse(number: int, base: int) -> float:
    """Mirror the digits of a number at the point: evenly spread, never the same twice [-].

    Parameters
    ----------
    number : int
        0 or more.
    base : int
        A prime, another for every range.

    References
    ----------
    Halton, Numerische Mathematik 2 (1960) 84-90: points with a prime for each coordinate.
    """
    found, share = 0.0, 1.0 / base
    while number:
        number, digit = divmod(number, base)
        found += digit * share
        share /= base
    return found
