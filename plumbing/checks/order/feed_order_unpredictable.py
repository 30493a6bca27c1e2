"""Which tank empties first is left to chance.

Why: Of two teed tanks the first to run dry gives the pump air instead of fuel, and the other
keeps its fuel.
Cure: Chain the tanks, or give each a fine-pore pickup that holds air back.
Over: teed-pair

Bad::



Good::


"""

from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for group in case.survey.order.groups:
        if len(group.tanks) > 1 and not group.stranded and "balance" not in group.reason:
            what = f"Nothing decides the order of {' and '.join(group.tanks)}: {group.reason}."
            yield Found(group.tanks[0], what, parts=group.tanks[1:])
