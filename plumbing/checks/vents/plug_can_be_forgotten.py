"""The plug of an outlet can be forgotten.

Why: With the plug in, no air replaces the fuel: the tank folds and the engine stops after take-
off.
Cure: Give the plug a red flag and a tether to the box, and a line on the pre-flight card.

Bad::

    outlets: {vent: {plug: {flag: no, tether: yes, on-card: yes}}}

Good::

    outlets: {vent: {plug: {flag: yes, tether: yes, on-card: yes}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


WANTED = {
    "flag": "carries no flag",
    "tether": "is not tied to the box",
    "on_card": "is not on the card",
}


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        if outlet.plug is None:
            continue
        for name, lack in WANTED.items():
            missing = f"outlets.{outlet.name}.plug.{name.replace('_', '-')}"
            fault = Found(outlet.name, f"The plug of outlet {outlet.name} {lack}.", field="plug")
            yield from declared(getattr(outlet.plug, name), missing, fault)
