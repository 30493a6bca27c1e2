"""Colours, weights and dashes: told apart without colour by weight and dash."""

from plumbing.frozen import frozen

INK = "#1d2328"
SOFT = "#6b6f73"
PAPER = "#fffefb"
RIM = "#8c857a"
FUEL = "#dce9f0"


@frozen
class Stroke:
    """How a line of one role is drawn.

    Attributes
    ----------
    colour : str
        Colour, apart from the others for colour-blind eyes as well.
    weight : float
        Width [mm].
    dash : str or None
        Dash pattern [mm].
    words : str
        What the key calls it.
    """

    colour: str
    weight: float
    dash: str | None
    words: str


STROKES = {
    "suction": Stroke("#00609c", 0.7, None, "suction side"),
    "pressure": Stroke("#a8410a", 1.1, None, "pressure side"),
    "vent": Stroke("#00735a", 0.5, "2.2 1.1", "vent, overflow"),
    "fill": Stroke("#7b3f8c", 0.6, "3.2 1 0.6 1", "fill"),
    "return": Stroke("#6f6100", 0.5, "1.2 0.8", "return, bleed"),
    "balance": Stroke("#00609c", 0.7, "5 1", "balance"),
    "drain": Stroke("#5a5a5a", 0.5, "0.7 0.9", "drain"),
    "loose": Stroke("#8a8a8a", 0.5, "0.7 1.6", "leads nowhere"),
}

SEVERITY = {"unsafe": "#b00020", "fault": "#b35c00", "advice": "#2f5d8a"}


def stroke_of(role: str) -> Stroke:
    """Stroke of a role; an unknown one is drawn as loose."""
    return STROKES.get(role, STROKES["loose"])
