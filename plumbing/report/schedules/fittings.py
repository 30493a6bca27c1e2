"""The fittings list: what to buy, how many, and which of it stands on the suction side."""

from collections.abc import Iterator

from plumbing.model.layout import Layout, Part, split_port
from plumbing.model.line import Elbow, Line
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Joint, Outlet, Pump, Tee, Valve
from plumbing.network import Role, Survey
from plumbing.network.space import place_words
from plumbing.report.schedules.lines import MM, clips_of
from plumbing.report.schedules.table import Cell, Column, Table

_COLUMNS = (
    Column("item"),
    Column("name"),
    Column("bore", "mm", 1),
    Column("OD", "mm", 1),
    Column("for tube"),
    Column("material"),
    Column("mass of one", "g", 1),
    Column("quantity", short="how many"),
    Column("on the suction side"),
    Column("where on the suction side"),
)
_PARTS = (
    ("item", "name", "for tube", "bore", "OD", "material", "quantity", "on the suction side"),
    ("item", "name", "mass of one", "where on the suction side"),
)
_NOT_STATED = "joint not stated"


def fittings(layout: Layout, survey: Survey) -> Table:
    """Joints by kind and tube, locks, fittings in lines, clips and the small parts."""
    rows = (
        *_joints(layout, survey),
        *_locks(layout, survey),
        *_hose_joints(layout),
        *_inline(layout, survey),
        *_clips(layout, survey),
        *_parts(layout, survey),
    )
    notes = (
        "Every joint on the suction side draws air when it leaks and shows no fuel: test them "
        "under vacuum.",
    )
    return Table("fittings", "Fittings", _COLUMNS, tuple(rows), notes, _PARTS)


def _ends(layout: Layout) -> Iterator[tuple[Line, str, Joint | None]]:
    """Line, port and joint of every line end."""
    for line in layout.lines.values():
        yield line, line.from_, layout.joint_at(line, "from")
        yield line, line.to, layout.joint_at(line, "to")


def _suction(survey: Survey, line: Line) -> bool:
    return survey.lines[line.name].role is Role.SUCTION


def _joints(layout: Layout, survey: Survey) -> Iterator[tuple[Cell, ...]]:
    found: dict[tuple[str, str], list[tuple[Line, str, Joint | None]]] = {}
    for end in _ends(layout):
        key = (end[2].name if end[2] else "", end[0].tube)
        found.setdefault(key, []).append(end)
    for (_, tube), ends in found.items():
        joint = ends[0][2]
        where = [f"{line.name} at {port}" for line, port, _ in ends if _suction(survey, line)]
        yield (
            joint.kind if joint else _NOT_STATED,
            joint.name if joint else "",
            _mm(joint.bore if joint else None),
            _mm(joint.outside_diameter if joint else None),
            tube,
            (joint.body or "") if joint else "",
            _grams(joint.mass if joint else None),
            float(len(ends)),
            float(len(where)),
            ", ".join(where),
        )


def _grams(mass: float | None) -> float | None:
    return None if mass is None else 1e3 * mass


def _mm(length: float | None) -> float | None:
    return None if length is None else length * MM


def _locks(layout: Layout, survey: Survey) -> Iterator[tuple[Cell, ...]]:
    found: dict[tuple[str, str], list[tuple[Line, str]]] = {}
    for line, port, joint in _ends(layout):
        if joint is not None and joint.lock not in (None, "none"):
            found.setdefault((str(joint.lock), line.tube), []).append((line, port))
    for (lock, tube), ends in found.items():
        outside = layout.tube_of(ends[0][0]).outside_diameter
        on = float(sum(_suction(survey, line) for line, _ in ends))
        yield f"{lock} lock", "", None, _mm(outside), tube, "", None, float(len(ends)), on, ""


def _hose_joints(layout: Layout) -> Iterator[tuple[Cell, ...]]:
    """Joints of the hoses inside tanks: one at the port and one at the pickup."""
    found: dict[str, list[str]] = {}
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            if port.pickup and port.pickup.hose:
                name = port.pickup.joint or ""
                found.setdefault(name, []).append(f"hose at {tank.name}.{port.name}")
    for name, hoses in found.items():
        joint = layout.joints.get(name)
        count = 2.0 * len(hoses)
        yield (
            f"{joint.kind} of a pickup hose" if joint else f"pickup hose: {_NOT_STATED}",
            name,
            _mm(joint.bore if joint else None),
            _mm(joint.outside_diameter if joint else None),
            "",
            (joint.body or "") if joint else "",
            _grams(joint.mass if joint else None),
            count,
            count,
            ", ".join(hoses),
        )


def _inline(layout: Layout, survey: Survey) -> Iterator[tuple[Cell, ...]]:
    found: dict[tuple[str, float, str], list[tuple[Line, Elbow]]] = {}
    for line in layout.lines.values():
        for fitting in line.fittings:
            found.setdefault((fitting.kind, fitting.bore, line.tube), []).append((line, fitting))
    for (kind, bore, tube), lines in found.items():
        where = [_spot(layout, *one) for one in lines if _suction(survey, one[0])]
        count, on = float(len(lines)), float(len(where))
        yield kind, "", bore * MM, None, tube, "", None, count, on, ", ".join(where)


def _spot(layout: Layout, line: Line, fitting: Elbow) -> str:
    """On which line a fitting is, and where, if that is stated."""
    if fitting.at is None:
        return line.name
    return f"{line.name} at {place_words(layout, fitting.at)}"


def _clips(layout: Layout, survey: Survey) -> Iterator[tuple[Cell, ...]]:
    found: dict[float, float] = {}
    for line in layout.lines.values():
        count = clips_of(survey.lengths[line.name].routed, line.clips)
        outside = layout.tube_of(line).outside_diameter
        found[outside] = found.get(outside, 0.0) + (count or 0.0)
    for outside, count in sorted(found.items()):
        if count:
            yield "clip", "", None, outside * MM, "", "", None, count, None, ""


def _parts(layout: Layout, survey: Survey) -> Iterator[tuple[Cell, ...]]:
    suction = {
        split_port(port)[0]
        for line in layout.lines.values()
        if _suction(survey, line)
        for port in (line.from_, line.to)
    }
    for part in layout.parts():
        word = _word(part)
        if word:
            bore, on = _mm(getattr(part, "bore", None)), float(part.name in suction)
            mass = _grams(getattr(part, "mass", None))
            yield word, part.name, bore, None, "", "", mass, 1.0, on, ""


def _word(part: Part) -> str:
    match part:
        case Tee():
            return part.kind
        case Valve():
            return f"{part.kind} valve"
        case Filter():
            return "filter"
        case Pump():
            return "pump"
        case Connector():
            return "connector"
        case Outlet():
            return "outlet"
        case FillPort():
            return "fill port"
        case Drain():
            return "drain"
    return ""
