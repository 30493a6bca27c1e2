"""A tube gets hotter than its material stands.

Why: Urethane softens from about 60 degC and slides off its barb with the engine running.
Cure: Use PTFE or metal near heat, or a fire sleeve; or lead the line elsewhere.

Bad::

    lines:
      valve to engine: {tube: polyurethane 4x2.5, sleeve: null}
    zones:
      engine case: {shielded: no, body: {cylinder: {at: [1160 mm, 0 mm, 10 mm]}}}

Good::

    lines:
      valve to engine: {tube: PTFE 4x2, sleeve: fire, joint: ring}
    joints: {ring: {kind: compression, bore: 2 mm, outside-diameter: 4 mm}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import highest_celsius, hottest_fuel
from plumbing.checks.words import subject
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.network.room import zone_body
from plumbing.network.space import clearance, line_thing

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("50 mm", "length")  # to a zone hotter than the tube stands


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    hottest = hottest_fuel(layout)
    for line in layout.lines.values():
        stands = highest_celsius(layout.tube_of(line))
        if stands is None:
            yield Lacking(f"tubes.{layout.tube_of(line).name}.max-temperature", line.name)
            continue
        if hottest > stands:
            yield Found(
                line.name,
                f"{subject('line', line.name)} gets as hot as its fuel, "
                f"{units.show(hottest, 'temperature')}; "
                f"its tube stands {units.show(stands, 'temperature')}.",
                Figure(hottest, "temperature"),
                Figure(stands, "temperature"),
                field="tube",
            )
        if line.sleeve != "fire":
            yield from _near_heat(layout, line, stands, limit)


def _near_heat(layout: Layout, line: Line, stands: float, limit: float) -> Says:
    for zone in layout.zones.values():
        if zone.kind not in ("hot", "exhaust") or zone.shielded:
            continue
        gap = clearance(line_thing(layout, line).body, zone_body(zone))
        if gap >= limit:
            continue
        if zone.temperature is None:
            yield Lacking(f"zones.{zone.name}.temperature", zone.name)
        elif zone.temperature > stands:
            yield Found(
                line.name,
                f"{subject('line', line.name)} passes {zone.name} of "
                f"{units.show(zone.temperature, 'temperature')} at "
                f"{units.show(max(gap, 0.0), 'length')}; its tube stands "
                f"{units.show(stands, 'temperature')}.",
                Figure(gap, "length"),
                Figure(limit, "length"),
                field="tube",
                parts=(zone.name,),
            )
