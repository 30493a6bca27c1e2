"""A fill port on the suction side is not proved tight.

Why: A fill port that lets in air while the engine draws feeds that air straight to the pump.
Cure: A self-closing valve and a cap, tested under vacuum; or fill at the vented tank.

Bad::

    stage: bench-tested
    fill-ports:
      fill: {leak-tested: open}

Good::

    fill-ports:
      fill: {leak-tested: done 2026-05-01 by builder}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for name, port in case.layout.fill_ports.items():
        if not _under_suction(case, name):
            continue
        if not port.valve and not port.cap:
            unsaid = "valve" if port.valve is None else "cap" if port.cap is None else ""
            if unsaid:
                yield Lacking(f"fill-ports.{name}.{unsaid}", name)
            else:
                yield Found(
                    name,
                    f"{subject('fill port', name)} on the suction side has no valve and no cap.",
                )
        fault = Found(
            name,
            f"{subject('fill port', name)} on the suction side was not tested closed under vacuum.",
            field="leak_tested",
        )
        yield from declared(port.leak_tested, f"fill-ports.{name}.leak-tested", fault)


def _under_suction(case: Case, fill_port: str) -> bool:
    """Whether it joins the suction side, or a tank that does not breathe for itself."""
    node = f"{fill_port}.tube"
    for run in case.survey.runs:
        if node in run.nodes:
            tanks = {case.survey.network.part_of(port) for port in run.tank_ports}
            return bool(run.pump_inlets) or bool(tanks - case.survey.vented.keys())
    return False
