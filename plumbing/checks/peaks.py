"""The peak-flow results, for the checks that compare them with limits."""

from collections.abc import Iterator
from dataclasses import replace

from plumbing import units
from plumbing.checks.kit import Figure, Found, Severity
from plumbing.checks.words import called
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.peak_result import EnginePeak


def suction_over(peak: EnginePeak, suction: Figure, limit: float, when: str) -> Iterator[Found]:
    """Pump inlet suction above a limit: found when surely or probably above, else advice.

    Parameters
    ----------
    peak : EnginePeak
        The engine.
    suction : Figure
        Suction at its pump's inlet [Pa].
    limit : float
        Suction allowed [Pa].
    when : str
        Under which conditions, in words.
    """
    over = suction.value > limit
    if not over and not suction.crosses(limit):
        return
    allowed = units.show(limit, "pressure")
    verb = "is" if suction.value <= SUCTION_LIMIT else "would have to be"
    yield Found(
        peak.pump,
        f"Suction at the inlet of {called('pump', peak.pump)} {verb} "
        f"{units.show(suction.value, 'pressure')} {when}, "
        + (f"over the {allowed} allowed." if over else f"and may exceed {allowed} in its band."),
        suction,
        Figure(limit, "pressure"),
        severity=None if over else Severity.ADVICE,
    )


def with_costliest(peak: EnginePeak, found: Found) -> Found:
    """The same, with the element of the suction path that takes most of the loss named."""
    costly = max(peak.elements, key=lambda element: element.drop.value, default=None)
    if costly is None:
        return found
    part = costly.line or costly.part
    share = units.show(costly.share, "share", 2)
    advice = (
        f"Begin with {costly.what} at {part}, which takes {share} of the loss; then use larger "
        "bores, shorter lines and fewer restrictions."
    )
    return replace(found, parts=(part,), advice=advice)
