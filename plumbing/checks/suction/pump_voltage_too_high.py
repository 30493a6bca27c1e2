"""The pump needs too much of its supply voltage at full throttle.

Why: With a sagging battery or a wearing pump there is no voltage left to hold full flow.
Cure: A larger pump, a supply of higher voltage, or less resistance in the fuel lines.

Bad::

    pumps:
      pump: {supply: {voltage: 7.2 V, voltage-full: 6.4 V}}

Good::

    pumps:
      pump: {supply: {voltage: 7.2 V, voltage-full: 3.6 V}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("70 %", "share")


def find(case: Case, limit: float) -> Says:
    for name, pump in case.layout.pumps.items():
        supply, needed = pump.supply.voltage, pump.supply.voltage_full
        if not supply:
            yield Lacking(f"pumps.{name}.supply.voltage", name)
        elif needed is None:
            yield Lacking(f"pumps.{name}.supply.voltage-full", name)
        elif needed / supply > limit:
            yield Found(
                name,
                f"{subject('pump', name)} takes {units.show(needed, 'voltage')} of "
                f"{units.show(supply, 'voltage')} at full throttle, "
                f"{units.show(needed / supply, 'share', 2)}; {units.show(limit, 'share', 2)} "
                "leaves a margin.",
                Figure(needed / supply, "share"),
                Figure(limit, "share"),
                field="supply",
            )
