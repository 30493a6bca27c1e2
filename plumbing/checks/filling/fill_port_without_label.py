"""The label of a fill port does not name fuel and oil.

Why: Petrol filled into a turbine system is a fire; kerosene without oil ends the bearings.
Cure: Write the fuel and the share of oil beside the port.

Bad::

    fill-ports: {fill: {label: FUEL}}

Good::

    fill-ports: {fill: {label: KEROSENE + 5 % OIL}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.FAULT
SOURCE = "common practice"


OIL = ("oil", "mix", ":1")
FUELS = {"kerosene": ("kerosene", "jet a", "paraffin"), "diesel": ("diesel",), "own": ("",)}


def find(case: Case, limit: float) -> Says:
    fuel = case.layout.fuel
    for port in case.layout.fill_ports.values():
        if port.label is None:
            yield Lacking(f"fill-ports.{port.name}.label", port.name)
            continue
        words = port.label.lower()
        missing = [] if any(name in words for name in FUELS[fuel.kind]) else ["the fuel"]
        if fuel.oil > 0 and not any(word in words for word in OIL):
            missing.append("the oil")
        if missing:
            label = f"The label of {called('fill port', port.name)}"
            what = f"{label} does not name {' and '.join(missing)}."
            yield Found(port.name, what, field="label")
