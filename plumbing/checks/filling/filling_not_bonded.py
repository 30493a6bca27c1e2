"""An electric filling pump is used without bonding.

Why: Kerosene forced through a fine filter charges itself, and the spark jumps at the open port.
Cure: Use a conductive hose, or touch can and aircraft with a strap before the hose goes on.

Bad::

    filling: {electric: yes, bonded: no}

Good::

    filling: {electric: yes, bonded: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    filling = case.layout.filling
    if filling.electric is None:
        yield Lacking("filling.electric", "filling")
    elif filling.electric:
        what = "Can and aircraft are not bonded while an electric pump fills."
        yield from declared(
            filling.bonded, "filling.bonded", Found("filling", what, field="bonded")
        )
