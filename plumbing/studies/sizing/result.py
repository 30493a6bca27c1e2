"""What sizing has to say. Plain values in SI."""

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.model.layout import Layout


@frozen
class Choice:
    """The tube chosen for one line, or for lines that must be alike.

    Attributes
    ----------
    lines : tuple of str
        Lines; several where they share a flow that divides by their bores.
    role : str
        Suction or vent.
    before, tube : str
        Tube as drawn, and as chosen.
    mass : float
        Mass of the tube cut [kg].
    smaller : str
        Next size down, or empty where there is none.
    why : str
        Why that one is not chosen.
    """

    lines: tuple[str, ...]
    role: str
    before: str
    tube: str
    mass: float
    smaller: str
    why: str


@frozen
class Point:
    """One point of the trade-off.

    Attributes
    ----------
    margin : float
        Smallest margin of all suctions to their limits, as a share of the limit [-].
    mass : float
        Lightest tubes that keep it [kg].
    tubes : tuple of str
        Tube of each group of lines, in the order of the choices.
    """

    margin: float
    mass: float
    tubes: tuple[str, ...]


@frozen
class Sizing:
    """Result of sizing.

    Attributes
    ----------
    layout : Layout
        The layout with the tubes chosen; as it was where nothing fits.
    choices : tuple of Choice
        What was chosen; empty where nothing fits.
    before, after : mapping of str to float
        Worst share of a limit used by each engine, as drawn and as chosen, solved anew [-].
    mass_before, mass_after : float
        Mass of the tubes that were free to choose [kg].
    curve : tuple of Point
        Lightest choice at rising margins.
    blocked : tuple of str
        Why there is no choice, in words; empty where there is one.
    new_joints : bool
        Whether joints were taken to be bought with the tubes.
    """

    layout: Layout
    choices: tuple[Choice, ...]
    before: Mapping[str, float]
    after: Mapping[str, float]
    mass_before: float
    mass_after: float
    curve: tuple[Point, ...]
    blocked: tuple[str, ...]
    new_joints: bool
