"""Something with a volume of its own stands between the header tank and the pump.

Why: It collects what bubbles the header let pass and hands them to the pump in one slug.
Cure: Move it before the header or behind the pump, or turn it so that it purges upwards.

Bad::

    filters:
      screen: {volume: 20 ml, outlet-up: no}

Good::

    filters:
      screen: {volume: 20 ml, outlet-up: yes}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import called, subject

SEVERITY = Severity.FAULT
SOURCE = "common practice; full-size owners' notes on filter bowls after a header"
LIMIT = Limit("5 ml", "volume")


def find(case: Case, limit: float) -> Says:
    for header in case.survey.headers:
        for behind in header.after:
            if behind.part in case.layout.tanks:
                yield Found(
                    behind.part,
                    f"{subject('tank', behind.part)} stands between "
                    f"{called('header', header.tank)} and the pump.",
                    advice=f"Where {behind.part} is the header, write `role: header` there instead "
                    f"of at {header.tank}; else lead its fuel into {header.tank}.",
                    parts=(header.tank,),
                )
                continue
            if case.layout.filters[behind.part].outlet_up:
                continue  # air leaves it upwards as it comes
            if behind.volume is None:
                yield Lacking(f"filters.{behind.part}.volume", behind.part)
            elif behind.volume > limit:
                yield Found(
                    behind.part,
                    f"{subject('filter', behind.part)} after {called('header', header.tank)} holds "
                    f"{units.show(behind.volume, 'volume')} in which air collects; "
                    f"{units.show(limit, 'volume')} is the most.",
                    Figure(behind.volume, "volume"),
                    Figure(limit, "volume"),
                    field="volume",
                    parts=(header.tank,),
                )
