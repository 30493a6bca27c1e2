"""An engine has only one way to be stopped.

Why: When the one stop fails - radio, servo or valve - the engine runs on until the fuel is out.
Cure: Fit both a stop worked by hand from outside and one commanded by radio.

Bad::

    engines:
      engine: {stops: {manual: no, remote: yes}}

Good::

    engines:
      engine: {stops: {manual: yes, remote: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = (
    "US association's turbine rules as explained in its magazine (2004); "
    "your own national rules decide"
)


def find(case: Case, limit: float) -> Says:
    for name, engine in case.layout.engines.items():
        ways = {"manual": engine.stops.manual, "remote": engine.stops.remote}
        words = {"manual": "stopped by hand from outside", "remote": "stopped by radio"}
        for way, said in ways.items():
            fault = Found(name, f"{subject('engine', name)} cannot be {words[way]}.", field="stops")
            yield from declared(said, f"engines.{name}.stops.{way}", fault)
