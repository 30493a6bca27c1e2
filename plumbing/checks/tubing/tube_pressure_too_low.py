"""A tube on the pressure side is not rated for the pump's pressure.

Why: Against a closed valve the pump makes its full pressure, and a burst tube sprays fuel.
Cure: Tube with a thicker wall or of smaller size, rated for twice the pump's largest pressure.

Bad::

    pumps:
      pump: {dead-head: 1500 kPa}

Good::

    pumps:
      pump: {dead-head: 400 kPa}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import highest_celsius, hottest_fuel, share_of_rating
from plumbing.checks.sides import lines_of
from plumbing.checks.words import on_lines, subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; what heat takes from the rating is from memory"
LIMIT = Limit("2", "ratio")  # rated pressure over the pump's largest


def find(case: Case, limit: float) -> Says:
    unknown = [name for name, pump in case.layout.pumps.items() if pump.dead_head is None]
    yield from (Lacking(f"pumps.{name}.dead-head", name) for name in unknown)
    known = [pump.dead_head for pump in case.layout.pumps.values() if pump.dead_head is not None]
    if not known:
        return
    needed = limit * max(known)
    hottest = hottest_fuel(case.layout)
    by_tube: dict[str, list[str]] = {}
    for line in lines_of(case, "pressure"):
        by_tube.setdefault(line.tube, []).append(line.name)
    for name, lines in by_tube.items():
        tube = case.layout.tube_of(case.layout.lines[lines[0]])
        if tube.rated_pressure is None:
            yield Lacking(f"tubes.{name}.rated-pressure", lines[0])
            continue
        highest = highest_celsius(tube)
        if highest is None:
            yield Lacking(f"tubes.{name}.max-temperature", lines[0])
            continue
        rated = tube.rated_pressure * share_of_rating(hottest, highest)
        if rated < needed:
            yield Found(
                lines[0],
                f"{subject('tube', name)} {on_lines(lines)} is good for "
                f"{units.show(rated, 'pressure')} at {units.show(hottest, 'temperature')}; the "
                f"pump's {units.show(max(known), 'pressure')} call for "
                f"{units.show(needed, 'pressure')}.",
                Figure(rated, "pressure"),
                Figure(needed, "pressure"),
                field="tube",
                parts=tuple(lines[1:]),
            )
