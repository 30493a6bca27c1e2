"""What a value outside its band most likely means, and a number fitted to it.

The order of suspects is common practice in the trade; the fitted numbers follow from the
pressure drop of laminar flow, which grows with the flow and with the inverse fourth power of the
bore (Hagen-Poiseuille), and of a sharp-edged orifice, whose discharge coefficient is about 0.61.
"""

from __future__ import annotations

import math
from typing import Literal

from plumbing import units
from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.simulation.peak_result import EnginePeak

ORIFICE = 0.61  # discharge coefficient of a sharp-edged orifice [-]


@frozen
class Change:
    """A change of the drawing that would explain a reading.

    Attributes
    ----------
    kind : {"line", "flow"}
        A line has another bore, or the engines draw another share of the flow.
    part : str
        The line, if one.
    value : float
        Bore [m], or factor of the flow [-].
    """

    kind: Literal["line", "flow"]
    part: str
    value: float


@frozen
class Meaning:
    """What a difference most likely means.

    Attributes
    ----------
    words : str
        The suspects, first to be looked at first.
    fitted : str
        What would explain the whole difference, in words; empty if nothing can be fitted.
    value : Figure or None
        The fitted value itself.
    change : Change or None
        The same as a change of the layout; None where none can be named.
    """

    words: str
    fitted: str = ""
    value: Figure | None = None
    change: Change | None = None


_SUSPECTS = {
    ("inlet-suction", True): "a restriction on the suction side: a kink, a dirty screen or felt, a "
    "barb narrower than stated; or fuel colder or thicker than assumed",
    ("inlet-suction", False): "air leaking in before the gauge, less flow than stated, or fuel "
    "warmer or thinner than assumed; test the suction side under vacuum",
    ("fill-pressure", True): "a restriction in the overflow: a loop too high, a mesh, insects, an "
    "outlet partly shut; or a higher filling flow than stated",
    ("fill-pressure", False): "a leak on the way, or a lower filling flow than stated",
    ("fill-volume", True): "the tanks were not empty before, or hold more than the file says",
    ("fill-volume", False): "air trapped in a tank, or tanks that hold less than the file says",
    ("drain-time", True): "less flow than stated: check the jug and the clock before the pump",
    ("drain-time", False): "a tank that was not emptied (wrong order, air drawn at a tee, a pickup "
    "off its hose), or more flow than stated",
    ("left-over", True): "fuel is stranded: another open vent or a leak lets air in before this "
    "tank is empty, a pickup does not reach, or the order is another one",
    ("left-over", False): "the pickup reaches more than assumed, or the tank was not full",
    ("header-air", True): "air enters before the mains are empty: a joint that leaks under "
    "suction, a pickup out of the fuel, or an order other than the one meant",
    ("header-air", False): "less air than expected: the header was not full of air where computed",
    ("siphon-rate", True): "the outlet lies lower or its bore is wider than stated",
    ("siphon-rate", False): "the line was not full of fuel, or something restricts it",
    ("tank-pressure", False): "a bung, seam or fitting hole that leaks, or a wall too weak",
    ("tank-pressure", True): "more than the wall was proved to: look for a lasting change of shape",
    ("tank-suction", False): "walls too thin, or a bung or seam that leaks",
    ("tank-suction", True): "more suction than the wall should see: look for folds",
    ("vacuum-loss", True): "a leak inwards: a fitting, the fill valve or the lid of the header; "
    "halve the system until it is found. Soft tube gives at first: repeat",
    ("wet-joints", True): "a joint that leaks at rest; under suction it draws air",
    ("vent-suction", True): "the vent is kinked, clogged or holds a slug of fuel",
    ("vent-suction", False): "air gets in another way, or less flow than stated",
    ("unported-air", True): "air enters elsewhere too, or more flow than stated",
    ("unported-air", False): "the pickup was not free of fuel, or less flow than stated",
    ("vent-loss", True): "the vent opens under fuel in that attitude: look at its inner end and "
    "its loop",
    ("dead-head-pressure", True): "the pump makes more than the tubes are good for: another tube, "
    "or a relief valve",
    ("stop-time", True): "failsafe set wrongly, a valve that sticks or that swarf holds open",
    ("mass", True): "the dry mass is larger than stated, or the tanks hold more",
    ("mass", False): "the dry mass is smaller than stated, or the tanks hold less",
    ("cg", True): "the dry centre of gravity lies further aft than stated, or a tank does",
    ("cg", False): "the dry centre of gravity lies further forward than stated, or a tank does",
    ("heat-loss", True): "filled further than stated, or warmer than stated",
    ("heat-loss", False): "filled less than stated, or the fuel was not as warm as stated",
    ("pump-flow", True): "a cap on the flow that does not hold: compare with the engine's ceiling "
    "before any start",
    ("pump-flow", False): "a restriction, worn gears, low voltage, or air in the fuel",
}


_MORE_LESS = ("more than", "less than")
_DIFFERENCES = {
    "fill-volume": _MORE_LESS,
    "left-over": _MORE_LESS,
    "header-air": _MORE_LESS,
    "unported-air": _MORE_LESS,
    "heat-loss": _MORE_LESS,
    "mass": _MORE_LESS,
    "cg": ("further aft than", "further forward than"),
}


def suspects(what: str, above: bool) -> Meaning:
    """What usually causes a reading on the wrong side of its limit."""
    return Meaning(_SUSPECTS.get((what, above)) or _SUSPECTS[what, not above])


def meaning_of(
    what: str,
    above: bool,
    value: float,
    predicted: Figure,
    engine: EnginePeak | None,
    density: float,
    filling: float | None,
) -> Meaning:
    """Say what a value outside its band means.

    Parameters
    ----------
    what : str
        What was measured.
    above : bool
        Whether it lies above the band.
    value : float
        Measured value [SI].
    predicted : Figure
        What was expected.
    engine : EnginePeak or None
        Engine at the flow of the measurement, for suctions.
    density : float
        Of the fuel [kg/m3].
    filling : float or None
        Filling flow [m3/s].
    """
    words = suspects(what, above).words
    if what == "inlet-suction" and engine is not None:
        return _suction(words, above, value, engine, density)
    if what == "fill-pressure" and above and filling:
        extra = value - predicted.value
        bore = orifice_bore(filling, extra, density)
        fitted = f"one more restriction of {units.show(extra, 'pressure')} would do it, as a hole "
        return Meaning(words, f"{fitted}of {_mm(bore)}", Figure(bore, "length"))
    if what in _DIFFERENCES:
        gap = value - predicted.value
        said = f"{units.show(abs(gap), predicted.kind)} {_DIFFERENCES[what][gap < 0.0]} expected"
        return Meaning(words, said, Figure(gap, predicted.kind))
    if what == "drain-time" and value > 0.0:
        factor = predicted.value / value
        return Meaning(
            words,
            f"as if the flow were {factor:.2f} times the stated",
            Figure(factor, "ratio"),
            Change("flow", "", factor),
        )
    if predicted.value > 0.0:
        factor = value / predicted.value
        return Meaning(words, f"{factor:.2f} times what was expected", Figure(factor, "ratio"))
    return Meaning(words)


def _suction(words: str, above: bool, value: float, engine: EnginePeak, density: float) -> Meaning:
    """Fit the losses of the suction side to a measured suction."""
    losses = sum(one.drop.value for one in engine.elements)
    head = engine.suction.value - losses
    if losses <= 0.0 or value - head <= 0.0:
        return Meaning(words)
    factor = (value - head) / losses
    if not above:
        fitted = (
            f"losses {factor:.2f} times the computed ones: as if only "
            f"{units.show(factor * engine.flow, 'flow')} flowed through the line"
        )
        return Meaning(words, fitted, Figure(factor, "ratio"))
    extra = value - engine.suction.value
    orifice = orifice_bore(engine.flow, extra, density)
    worst = max(engine.elements, key=lambda one: one.drop.value)
    alone = narrowed(worst.bore, 1.0 + extra / worst.drop.value)
    fitted = (
        f"losses {factor:.2f} times the computed ones; one restriction of "
        f"{units.show(extra, 'pressure')} would do it, as a hole of {_mm(orifice)}, or "
        f"{worst.line or worst.part} with a bore of {_mm(alone)} instead of {_mm(worst.bore)}"
    )
    change = Change("line", worst.line, alone) if worst.line else None
    return Meaning(words, fitted, Figure(factor, "ratio"), change)


def orifice_bore(flow: float, drop: float, density: float) -> float:
    """Bore of a sharp-edged orifice that costs a drop at a flow.

    Parameters
    ----------
    flow : float
        Volume flow [m3/s].
    drop : float
        Pressure drop [Pa].
    density : float
        Of the liquid [kg/m3].

    Returns
    -------
    float
        Bore [m], from q = C A sqrt(2 dp / rho).
    """
    area = flow / (ORIFICE * math.sqrt(2.0 * drop / density))
    return math.sqrt(4.0 * area / math.pi)


def narrowed(bore: float, factor: float) -> float:
    """Bore at which a laminar loss is so many times larger [m]."""
    return float(bore * factor**-0.25)


def _mm(length: float) -> str:
    return units.show(length, "length", 3)
