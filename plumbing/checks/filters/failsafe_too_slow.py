"""On loss of signal the engine is not stopped, or not soon enough.

Why: A model without signal and with thrust flies away.
Cure: Set the failsafe to stop the engine within two seconds of losing the signal.

Bad::

    engines:
      engine: {stops: {failsafe: hold, failsafe-time: 1 s}}

Good::

    engines:
      engine: {stops: {failsafe: off, failsafe-time: 1 s}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = (
    "US and Canadian associations' turbine rules, as published or posted by a club: 2 s; "
    "your own national rules decide"
)
LIMIT = Limit("2 s", "time")


def find(case: Case, limit: float) -> Says:
    for name, engine in case.layout.engines.items():
        stops, path = engine.stops, f"engines.{name}.stops"
        if stops.failsafe is None:
            yield Lacking(f"{path}.failsafe", name)
        elif stops.failsafe == "hold":
            yield Found(
                name,
                f"{subject('engine', name)} holds its thrust on loss of signal.",
                field="stops",
            )
        elif stops.failsafe == "idle":
            yield Found(
                name,
                f"{subject('engine', name)} goes to idle on loss of signal, which some bodies "
                "allow.",
                field="stops",
                severity=Severity.ADVICE,
                advice="Stop the engine instead, or see that your national rules allow idle.",
            )
        if stops.failsafe_time is None:
            yield Lacking(f"{path}.failsafe-time", name)
        elif stops.failsafe_time > limit:
            yield Found(
                name,
                f"{subject('engine', name)} reacts {units.show(stops.failsafe_time, 'time')} "
                f"after loss of signal; {units.show(limit, 'time')} are allowed.",
                Figure(stops.failsafe_time, "time"),
                Figure(limit, "time"),
                field="stops",
            )
