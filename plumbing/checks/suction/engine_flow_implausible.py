"""The stated full flow does not fit the stated thrust.

Why: Every drop, header second and minute of flight is computed from this flow.
Cure: Measure the flow at full throttle, or take it from the engine's own test sheet.

Bad::

    engines:
      engine: {thrust: 60 N, full-flow: 150 ml/min}

Good::

    engines:
      engine: {thrust: 60 N, full-flow: 220 ml/min}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import subject
from plumbing.physics.demand import BELIEVED

SEVERITY = Severity.FAULT
SOURCE = "builders' measurements over about seven years: 30 to 50 ml/min per kgf of thrust"


def find(case: Case, limit: float) -> Says:
    assumed = {assumption.what for assumption in case.layout.assumptions}
    for name, engine in case.layout.engines.items():
        if not engine.thrust:
            yield Lacking(f"engines.{name}.thrust", name)
            continue
        if engine.full_flow is None or f"engines.{name}.full-flow" in assumed:
            yield Lacking(f"engines.{name}.full-flow", name)
            continue
        low, high = (engine.thrust * each for each in BELIEVED)
        if not low <= engine.full_flow <= high:
            bound = low if engine.full_flow < low else high
            yield Found(
                name,
                f"{subject('engine', name)} of {units.show(engine.thrust, 'force')} is said to "
                f"take {units.show(engine.full_flow, 'flow')}; such engines take "
                f"{units.show(low, 'flow')} to {units.show(high, 'flow')}.",
                Figure(engine.full_flow, "flow"),
                Figure(bound, "flow"),
                field="full_flow",
            )
