"""What a value outside its band most likely means, and a number fitted to it.

The order of suspects is common practice in the trade; the fitted numbers follow from the
pressure drop of laminar flow, which grows with the flow and with the inverse fourth power of the
bore (Hagen-Poiseuille), and of a sharp-edged orifice, whose discharge coefficient is about 0.61.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from plumbing import units
from plumbing.findings import Figure
from plumbing.simulation.peak_result import EnginePeak

ORIFICE = 0.61  # discharge coefficient of a sharp-edged orifice [-]


@dataclass(frozen=True, slots=True)
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
    """

    words: str
    fitted: str = ""
    value: Figure | None = None


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
    ("pump-flow", True): "a cap on the flow that does not hold: compare with the engine's ceiling "
    "before any start",
    ("pump-flow", False): "a restriction, worn gears, low voltage, or air in the fuel",
}


def meaning_of(
    what: str,
    above: bool,
    value: float,
    predicted: Figure,
    engine: EnginePeak | None,
    density: float,
    vent_bore: float | None,
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
    vent_bore : float or None
        Narrowest bore of an outlet [m].
    """
    words = _SUSPECTS[what, above]
    if what == "inlet-suction" and engine is not None:
        return _suction(words, above, value, engine, density)
    if what == "fill-pressure" and above and vent_bore and predicted.value > 0.0:
        bore = vent_bore * (predicted.value / value) ** 0.25
        fitted = f"as if the overflow's narrowest bore were {_mm(bore)} instead of {_mm(vent_bore)}"
        return Meaning(words, fitted, Figure(bore, "length"))
    if what in ("fill-volume", "left-over", "header-air"):
        gap = value - predicted.value
        said = "more" if gap > 0.0 else "less"
        return Meaning(
            words, f"{units.show(abs(gap), 'volume')} {said} than expected", Figure(gap, "volume")
        )
    if what == "drain-time" and value > 0.0:
        factor = predicted.value / value
        return Meaning(
            words, f"as if the flow were {factor:.2f} times the stated", Figure(factor, "ratio")
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
    return Meaning(words, fitted, Figure(factor, "ratio"))


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
