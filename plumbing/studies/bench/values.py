"""What the bench deals in: predictions with their band, and marks that a reading must meet."""

from __future__ import annotations

from plumbing import units
from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.results import NotComputed, Results
from plumbing.simulation.filling_result import Filled
from plumbing.simulation.flight_result import Flown

SHARE = 0.2  # how far fuel that stays, trapped air and pressures while filling may lie off [-]
_LEAST_FLOW = 0.95  # of the flow a limit holds at: a reading at less does not prove it
VOLUME = 0.03  # how far the volume of a built tank may lie off [-]


def band(value: float, kind: str, share: float, more: float = 0.0) -> Figure:
    """A value that may lie off by a share of itself and an amount, never below zero."""
    reach = share * abs(value) + more
    return Figure(value, kind, max(value - reach, 0.0), value + reach)


@frozen
class Prediction:
    """One value to be measured.

    Attributes
    ----------
    what : str
        As under `measured:` in a layout file, such as `inlet-suction`.
    part : str
        Where it is measured, or empty for the whole system.
    figure : Figure
        Value and band.
    how : str
        Conditions it holds for.
    state : str
        Which of several states of the aircraft, such as `full tanks`; empty where there is one.
    """

    what: str
    part: str
    figure: Figure
    how: str
    state: str = ""


@frozen
class Predictions:
    """All values that can be predicted, and what they were computed from.

    Attributes
    ----------
    values : tuple of Prediction
        In the order in which they are measured on the bench.
    run : Flown or NotComputed
        The drain-down, aircraft level.
    fillings : Results of Filled
        Fillings.
    missing : tuple of NotComputed
        Why values are not predicted.
    """

    values: tuple[Prediction, ...]
    run: Flown | NotComputed
    fillings: Results[Filled]
    missing: tuple[NotComputed, ...]

    def find(self, what: str, part: str | None, state: str | None = None) -> Prediction | None:
        """Prediction of that name; without a part the only one, or the largest."""
        named = [one for one in self.values if one.what == what and state in (None, one.state)]
        exact = [one for one in named if one.part == (part or "")]
        if exact:
            return max(exact, key=lambda one: one.figure.value)
        if part:
            return named[0] if len(named) == 1 and not named[0].part else None
        return max(named, key=lambda one: one.figure.value, default=None)


@frozen
class Mark:
    """What a reading must meet to pass, whatever was predicted.

    Attributes
    ----------
    what, part : str
        Reading and place it is for; without a part the whole aircraft.
    kind : str
        Kind of quantity.
    least, most : float or None
        The reading may be no smaller and no larger [SI].
    rule : str
        Name of the check whose limit it is, or `common practice`.
    how : str
        Conditions it holds for; needed where nothing is predicted.
    flow : float or None
        Flow at which it holds [m3/s]: a reading at less proves nothing.
    """

    what: str
    part: str
    kind: str
    least: float | None
    most: float | None
    rule: str
    how: str = ""
    flow: float | None = None

    def passes(self, value: float) -> bool:
        """Whether a reading [SI] meets it."""
        enough = self.least is None or value >= self.least
        return enough and (self.most is None or value <= self.most)

    def met_by(self, value: float, at_flow: float | None) -> bool | None:
        """Whether a reading [SI] meets it; None where it was read at too little flow to tell."""
        told = self.flow is None or (at_flow or self.flow) >= _LEAST_FLOW * self.flow
        return self.passes(value) if told or not self.passes(value) else None

    def words(self) -> str:
        """The limit as a card says it."""
        least, most = (
            "" if value is None else units.show(value, self.kind)
            for value in (self.least, self.most)
        )
        if self.least is not None and self.most is not None:
            both = f"{least} to {most}"
            return both if self.least <= self.most else f"cannot be met: over {least}, under {most}"
        return f"at least {least}" if least else f"at most {most}" if self.most else "none"


@frozen
class Marks:
    """Marks of all bench tests of a layout."""

    all: tuple[Mark, ...]

    def find(self, what: str, part: str) -> Mark | None:
        """Mark of a reading at a part; without a part, of the whole aircraft."""
        return next((one for one in self.all if (one.what, one.part) == (what, part)), None)


@frozen
class Reading:
    """One value to be read on the bench, as card and form list it.

    Attributes
    ----------
    what, part, state, how : str
        As of the prediction, or of the mark where nothing is predicted.
    figure : Figure or None
        Predicted value with its band; None where only the limit counts.
    mark : Mark or None
        What it must meet; None where the prediction alone counts.
    """

    what: str
    part: str
    state: str
    how: str
    figure: Figure | None
    mark: Mark | None
