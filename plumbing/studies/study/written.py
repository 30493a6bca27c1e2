"""What a study file holds. Plain values that travel to other processes."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.layout.tree import Mapping, Node
from plumbing.place import Place

Path = tuple[str, ...]


@frozen
class Listed:
    """Values to try one by one.

    Attributes
    ----------
    name : str
        The key paths as written: name of the column.
    paths : tuple of tuple of str
        Where each value is laid.
    values : tuple of Node
        The values, each with its place in the study file.
    labels : tuple of str
        What stands in the table for each.
    """

    name: str
    paths: tuple[Path, ...]
    values: tuple[Node, ...]
    labels: tuple[str, ...]


@frozen
class Ranged:
    """A range to spread samples over evenly.

    Attributes
    ----------
    name : str
        The key paths as written: name of the column, with the unit.
    paths : tuple of tuple of str
        Where each value is laid.
    low, high : float
        Ends of the range in that unit.
    unit : str
        As builders write it.
    place : Place
        Where it stands in the study file.
    """

    name: str
    paths: tuple[Path, ...]
    low: float
    high: float
    unit: str
    place: Place


@frozen
class Study:
    """A study as written.

    Attributes
    ----------
    title : str
        What it is about.
    files : tuple of str
        Layout files it starts from.
    layouts : tuple of Mapping
        Their trees.
    listed : tuple of Listed
        Values to try in every combination.
    ranged : tuple of Ranged
        Ranges to spread samples over.
    samples : int
        Samples for each combination.
    results : tuple of str
        Names of the results wanted.
    digest : str
        SHA-256 over the study and its layouts, in hexadecimal.
    """

    title: str
    files: tuple[str, ...]
    layouts: tuple[Mapping, ...]
    listed: tuple[Listed, ...]
    ranged: tuple[Ranged, ...]
    samples: int
    results: tuple[str, ...]
    digest: str
