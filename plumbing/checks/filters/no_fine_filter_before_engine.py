"""No fine filter stands between the pump and the engine.

Why: Particles from the pump and tanks block injectors and valves that are tenths of a mm wide.
Cure: Fit a filter of 10 to 40 um behind the pump.

Bad::

    filters:
      fine filter: {pore: 100 um}

Good::

    filters:
      fine filter: {pore: 20 um}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.network.fuel_ways import filters_after_pump

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("40 um", "length")


def find(case: Case, limit: float) -> Says:
    for engine, feed in case.survey.feeds.items():
        if feed.path is None:
            continue
        elements = filters_after_pump(case.survey, feed.path)
        if not elements:
            yield Found(
                engine, f"No filter stands between the pump and {called('engine', engine)}."
            )
            continue
        if any(element.pore is not None and element.pore <= limit for element in elements):
            continue
        unknown = next((element for element in elements if element.pore is None), None)
        if unknown is not None:
            yield Lacking(f"filters.{unknown.name}.pore", unknown.name)
            continue
        finest = min(elements, key=lambda element: element.pore or 0.0)
        pore = finest.pore or 0.0
        yield Found(
            finest.name,
            f"{subject('filter', finest.name)} before {called('engine', engine)} passes "
            f"{microns(pore)}; {microns(limit)} is the most.",
            Figure(pore, "length"),
            Figure(limit, "length"),
            field="pore",
            parts=(engine,),
        )


def microns(size: float) -> str:
    """Pore size in the unit builders use for it."""
    return f"{units.in_unit(size, 'length', 'um'):.3g} um"
