"""The feed order has not been measured on the built aircraft.

Why: The centre of gravity in flight depends on the order, and one leaking joint can turn it
round.
Cure: Run the pump from full tanks to the first bubble and note which tank empties when.

Bad::

    papers: {feed-order-tested: no}

Good::

    papers: {feed-order-tested: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    fault = Found(
        "papers",
        "The order in which the tanks empty has not been measured by a drain-down.",
        field="feed_order_tested",
    )
    yield from declared(case.layout.papers.feed_order_tested, "papers.feed-order-tested", fault)
