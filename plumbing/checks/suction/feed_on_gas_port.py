"""A feed line stands on a tank's port without a pickup; another port has it.

Why: Such a port opens in the tank's gas space: the pump gets air with the tank still full.
Cure: Join the feed to the port with the pickup; cap the other or lead it to the tank behind.

Over: chained-pair

Bad::

    tanks:
      starboard: {ports: {bleed: {at: [340 mm, 90 mm, 70 mm], bore: 4.4 mm}}}
    tees:
      bleed tee: {at: [600 mm, 50 mm, 0 mm], bore: 4.4 mm}
    lines:
      feed: {to: bleed tee.run-a}
      to header: {from: bleed tee.run-b, to: header.in, tube: polyurethane 8x5}
      bleed: {from: starboard.bleed, to: bleed tee.branch, tube: polyurethane 8x5}

Good::

    tanks:
      starboard: {ports: {bleed: {at: [340 mm, 90 mm, 70 mm], bore: 4.4 mm, capped: yes}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    headers = {header.tank: header for header in case.survey.headers}
    for dry in case.survey.dry_ports:
        header = headers.get(dry.tank)
        if header is not None and header.returns_to:
            continue  # a header may bleed its air back to the tank that feeds it
        yield Found(
            dry.tank,
            f"Port {dry.port} has no pickup and gives gas to {listed(dry.into)}.",
            field="ports",
            parts=dry.into,
        )
    yield from _swapped(case)


def _swapped(case: Case) -> Says:
    """Tanks that feed by a port without a pickup while the pickup leads elsewhere."""
    known = {dry.port for dry in case.survey.dry_ports}
    for engine in case.layout.engines:
        for name in case.survey.tanks_feeding(engine):
            way = case.survey.fuel_path(name, engine)
            if way is None or way.pickup or way.port in known:
                continue
            known.add(way.port)
            ports = case.layout.tanks[name].ports.values()
            unused = [f"{name}.{port.name}" for port in ports if port.pickup and not port.capped]
            if unused:
                what = (
                    f"The feed of {name} stands on {way.port}, which has no pickup; the pickup is "
                    f"at {listed(unused)}."
                )
                yield Found(name, what, field="ports", parts=(engine,))
