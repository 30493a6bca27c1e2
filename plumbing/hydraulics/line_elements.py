"""The elements met along a line and inside a part, in the order of the layout file.

The bore of the barb counts, not only the tube's: at every line end the flow passes a contraction
into the narrowest of joint and port, the length of the barb, and an expansion out of it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from types import MappingProxyType

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.layout_circuit import ChangeRow, FilterRow, FittingRow, Row, Tag, TubeRow
from plumbing.model.fields import Vector
from plumbing.model.layout import (
    Layout,
    Part,
    port_bore,
    port_names,
    port_position,
    split_port,
)
from plumbing.model.line import Elbow, Line, Tube
from plumbing.model.parts import Connector, Drain, Filter, Joint, Outlet, Tee, Valve
from plumbing.model.tank import Pickup, Port, Tank
from plumbing.physics.developing import ENTRY
from plumbing.physics.fittings import MOUTH, coefficients

BARB_LENGTH = 12e-3  # length of the bore of a barb or nipple [m]; common practice
SHORTEST = 1e-3  # length of a line between ports drawn at one point [m]
_USUAL_BEND = 5.0  # bend radius in outer diameters where nothing states one; common practice
_FITTINGS = {"elbow-90": "elbow-90", "elbow-45": "elbow-45"}
_VALVES = {"shut-off": "valve-ball", "electric": "valve-diaphragm", "check": "check-swing"}


@frozen
class Reference:
    """State at which drops of filters and pickups are taken to be stated.

    Attributes
    ----------
    flow : float
        Full flow [m3/s]: of all engines, or of those a part serves.
    viscosity : float
        Dynamic viscosity of the fuel at its usual temperature [Pa s].
    bore_offset : float
        Added to every bore [m], for the band of the results.
    """

    flow: float
    viscosity: float
    bore_offset: float = 0.0

    def bore(self, bore: float) -> float:
        """Bore with the offset, never less than a tenth of itself [m]."""
        return max(bore + self.bore_offset, 0.1 * bore)


def line_rows(layout: Layout, line: Line, length: float, reference: Reference) -> list[Row]:
    """Elements of a line from its start to its end.

    Parameters
    ----------
    layout : Layout
        The layout.
    line : Line
        The line.
    length : float
        Length the flow sees [m].
    reference : Reference
        For the bore offset.
    """
    tube = layout.tube_of(line)
    bore = reference.bore(tube.inside_diameter)
    size = f"{1e3 * tube.outside_diameter:g}x{1e3 * tube.inside_diameter:g}"
    bend, coil = _bends(layout, line, tube)
    body = TubeRow(
        Tag(line.name, "", f"tube {size}, {1e3 * length:.0f} mm"),
        length=max(length, SHORTEST),
        bore=bore,
        roughness=tube.roughness,
        entry=ENTRY,
        bend_length=min(bend, length),
        coil=coil,
    )
    rows = _open_end(layout, line.from_, bore, reference)
    rows += _end_rows(layout, line, "from", bore, reference)
    rows.append(body)
    for fitting in line.fittings:
        rows += _fitting_rows(line, fitting, bore, reference)
    rows += _end_rows(layout, line, "to", bore, reference)
    return rows + _open_end(layout, line.to, bore, reference)


def _open_end(layout: Layout, end: str, bore: float, reference: Reference) -> list[Row]:
    """Mouth to the outside: the entry of air that goes in, the jet of what comes out."""
    part, _ = _port(layout, end)
    if not isinstance(part, Outlet | Drain):
        return []
    narrow = min(bore, reference.bore(part.bore))
    return [FittingRow(Tag("", part.name, f"mouth of {part.name}"), narrow, *MOUTH)]


def _bends(layout: Layout, line: Line, tube: Tube) -> tuple[float, float]:
    """Curved length of a route and diameter of its curves [m]."""
    radius = line.bend_radius or tube.bend_radius or _USUAL_BEND * tube.outside_diameter
    if not line.route:
        return 0.0, 2.0 * radius
    points = np.array([_at(layout, line.from_), *line.route, _at(layout, line.to)])
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    legs, lengths = legs[lengths > 0.0], lengths[lengths > 0.0]
    turned = sum(
        math.acos(float(np.clip(a @ b / (size_a * size_b), -1.0, 1.0)))
        for (a, size_a), (b, size_b) in pairwise(zip(legs, lengths, strict=True))
    )
    return turned * radius, 2.0 * radius


def _at(layout: Layout, reference: str) -> Vector:
    part, port = _port(layout, reference)
    return port_position(part, port)


def _port(layout: Layout, reference: str) -> tuple[Part, str]:
    name, port = split_port(reference)
    part = layout.part(name)
    return part, port or port_names(part)[0]


def _end_rows(layout: Layout, line: Line, end: str, bore: float, reference: Reference) -> list[Row]:
    """Barb at one end of a line: in, along and out again, seen from the tube's side alike."""
    part, port = _port(layout, line.from_ if end == "from" else line.to)
    joint = layout.joint_at(line, end)
    own = [found for found in (joint.bore if joint else None, port_bore(part, port)) if found]
    narrow = reference.bore(min(own)) if own else bore
    where = f"{part.name}.{port}" if len(port_names(part)) > 1 else part.name
    form = joint.kind if joint else "joint"
    tag = Tag(line.name, part.name, f"{form} at {where}, bore {_mm(narrow)}")
    if joint is not None and joint.loss_coefficient is not None:
        k = joint.loss_coefficient
        return [FittingRow(tag, narrow, 0.0, k, k)]
    if narrow >= bore:
        return []
    return [
        ChangeRow(tag, bore, narrow),
        TubeRow(tag, BARB_LENGTH, narrow),
        ChangeRow(tag, narrow, bore),
    ]


def _fitting_rows(line: Line, fitting: Elbow, bore: float, reference: Reference) -> list[Row]:
    own = reference.bore(fitting.bore)
    tag = Tag(line.name, "", f"{fitting.kind}, bore {_mm(own)}")
    rows: list[Row] = []
    if own < bore:
        rows = [
            ChangeRow(tag, bore, own),
            TubeRow(tag, BARB_LENGTH, own),
            ChangeRow(tag, own, bore),
        ]
    if fitting.kind in _FITTINGS:
        rows.insert(1 if rows else 0, _named(tag, _FITTINGS[fitting.kind], own))
    return rows


def _named(tag: Tag, name: str, bore: float) -> FittingRow:
    """Fitting of the published tables."""
    return FittingRow(tag, bore, *coefficients(name, bore))


def part_rows(
    part: Part,
    start_port: str,
    reference: Reference,
    joints: Mapping[str, Joint] = MappingProxyType({}),
) -> list[Row]:
    """Elements inside a part, from its first port to its last (or from a port to the contents).

    Parameters
    ----------
    part : Part
        Tank, tee, filter, valve or connector.
    start_port : str
        For a tank or tee, the port.
    reference : Reference
        Stated-drop reference.
    joints : mapping of str to Joint
        Joints of the layout, for the barb of a clunk.
    """
    if isinstance(part, Tank):
        return _tank_rows(part, part.ports[start_port], reference, joints)
    bore = reference.bore(getattr(part, "bore", 1.0))
    tag = Tag("", part.name, f"{_kind(part)}, bore {_mm(bore)}")
    if isinstance(part, Tee):
        return [_tee_row(tag, start_port, bore)]
    if isinstance(part, Valve):
        return [_named(tag, _VALVES[part.kind], bore)]
    if isinstance(part, Filter) and part.clean_drop is not None:
        flow = part.drop_flow or reference.flow
        return _stated(tag, part.clean_drop, part.dirty_drop, flow, reference)
    return []


def _mm(bore: float) -> str:
    return f"{1e3 * bore:.3g} mm"


def _kind(part: Part) -> str:
    if isinstance(part, Valve):
        return f"{part.kind} valve"
    return "connector" if isinstance(part, Connector) else type(part).__name__.lower()


def _tee_row(tag: Tag, port: str, bore: float) -> FittingRow:
    """One leg of a tee; both run legs together make the run, run and branch make the branch."""
    run, branch = _named(tag, "tee-run", bore), _named(tag, "tee-branch", bore)
    if port != "branch":
        return FittingRow(tag, bore, 0.5 * run.k1, 0.5 * run.k_inf_low, 0.5 * run.k_inf_high)
    return FittingRow(
        tag,
        bore,
        max(branch.k1 - 0.5 * run.k1, 0.0),
        max(branch.k_inf_low - 0.5 * run.k_inf_low, 0.0),
        max(branch.k_inf_high - 0.5 * run.k_inf_high, 0.0),
    )


def _stated(
    tag: Tag, clean: float, dirty: float | None, flow: float, reference: Reference
) -> list[Row]:
    if clean <= 0.0 or flow <= 0.0:
        return []
    return [FilterRow(tag, clean, dirty, flow, reference.viscosity)]


def _tank_rows(
    tank: Tank, port: Port, reference: Reference, joints: Mapping[str, Joint]
) -> list[Row]:
    """From the port to the contents: inner hose, barb of the clunk, pickup, mouth."""
    name = f"{tank.name}.{port.name}"
    pickup = port.pickup
    rows: list[Row] = []
    bore = reference.bore(port.bore) if port.bore else None
    if pickup is not None and pickup.hose is not None:
        hose = pickup.hose
        bore = reference.bore(hose.bore)
        words = f"hose in {tank.name}, bore {1e3 * hose.bore:g} mm, {1e3 * hose.length:.0f} mm"
        rows.append(TubeRow(Tag("", name, words), hose.length, bore, entry=ENTRY))
        barb = joints.get(pickup.joint or "")
        narrow = reference.bore(barb.bore) if barb and barb.bore else bore
        if barb and narrow < bore:
            tag = Tag("", name, f"{barb.kind} at the clunk in {tank.name}, bore {_mm(narrow)}")
            rows += [ChangeRow(tag, bore, narrow), TubeRow(tag, BARB_LENGTH, narrow)]
            bore = narrow
    if pickup is not None:
        rows += _pickup_rows(tank, name, pickup, reference)
    if bore is not None:
        rows.append(FittingRow(Tag("", name, f"mouth in {tank.name}"), bore, *MOUTH))
    return rows


def _pickup_rows(tank: Tank, name: str, pickup: Pickup, reference: Reference) -> list[Row]:
    if pickup.clean_drop is None:
        return []
    tag = Tag("", name, f"{pickup.kind} pickup in {tank.name}")
    return _stated(tag, pickup.clean_drop, pickup.dirty_drop, reference.flow, reference)
