"""The pump can deliver more fuel than the engine stands.

Why: When its controller fails, a pump at full voltage drives the engine past its speed limit.
Cure: A fixed restrictor, fewer battery cells or a relief valve that caps the flow.

Bad::

    engines:
      engine: {flow-ceiling: 275 ml/min}
    pumps:
      pump: {cap: cell-count, cap-flow: 900 ml/min}

Good::

    engines:
      engine: {flow-ceiling: 275 ml/min}
    pumps:
      pump: {cap: restrictor, cap-flow: 262 ml/min}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.model.engine import Engine
from plumbing.model.parts import Pump

SEVERITY = Severity.FAULT
SOURCE = "British turbine builders' code of practice (2022), guidance on overspeed protection"


def find(case: Case, limit: float) -> Says:
    for name, pump in case.layout.pumps.items():
        feeds = case.survey.feeds.values()
        engines = [case.layout.engines[feed.engine] for feed in feeds if name in feed.pumps[-1:]]
        if engines:
            yield from _capped(pump, engines)


def _capped(pump: Pump, engines: list[Engine]) -> Says:
    if pump.cap is None:
        yield Lacking(f"pumps.{pump.name}.cap", pump.name)
    elif pump.cap == "none":
        what = f"Nothing caps the flow of {called('pump', pump.name)}."
        yield Found(pump.name, what, field="cap")
    elif pump.cap_flow is None:
        yield Lacking(f"pumps.{pump.name}.cap-flow", pump.name)
    else:
        for engine in engines:
            yield from _over(pump, pump.cap_flow, engine)
        if pump.cap == "controller":
            yield Found(
                pump.name,
                f"Only the controller that runs {called('pump', pump.name)} caps its flow.",
                field="cap",
                severity=Severity.ADVICE,
                advice="Cap it by something that does not fail together with the controller.",
            )


def _over(pump: Pump, flow: float, engine: Engine) -> Says:
    if engine.flow_ceiling is None:
        yield Lacking(f"engines.{engine.name}.flow-ceiling", engine.name)
    elif flow > engine.flow_ceiling:
        yield Found(
            pump.name,
            f"{subject('pump', pump.name)} can deliver {units.show(flow, 'flow')}; "
            f"{called('engine', engine.name)} stands {units.show(engine.flow_ceiling, 'flow')}.",
            Figure(flow, "flow"),
            Figure(engine.flow_ceiling, "flow"),
            field="cap_flow",
            parts=(engine.name,),
        )
