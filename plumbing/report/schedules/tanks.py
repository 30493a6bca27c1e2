"""The tank schedule: volumes, ports, wall and mass of every tank."""

from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Port, Tank
from plumbing.report.schedules.lines import MM
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.simulation.fluid import blend_of

_LITRES, _GRAMS, _KILO = 1e3, 1e3, 1e-3
_COLUMNS = (
    Column("tank"),
    Column("role"),
    Column("inside", "L", 3),
    Column("holds brim-full", "L", 3),
    Column("filled to fly", "L", 3),
    Column("fuel mass at 15 degC", "g"),
    Column("empty mass", "g"),
    Column("centre x", "mm"),
    Column("centre y", "mm"),
    Column("centre z", "mm"),
    Column("ports"),
    Column("wall"),
    Column("wall thickness", "mm", 1),
    Column("proof pressure", "kPa", 1),
    Column("folds at suction of", "kPa", 1),
)
_PARTS = (
    (
        *("tank", "role", "inside", "holds brim-full", "filled to fly"),
        *("fuel mass at 15 degC", "empty mass"),
    ),
    ("tank", "wall", "wall thickness", "proof pressure", "folds at suction of"),
    ("tank", "centre x", "centre y", "centre z", "ports"),
)


def tanks(layout: Layout) -> Table:
    """Schedule of all tanks."""
    density = float(blend_of(layout).properties(15.0)[0])
    rows = tuple(_row(tank, density) for tank in layout.tanks.values())
    notes = ("Centre: of the whole inside. A proof pressure is tested with water, not with air.",)
    return Table("tanks", "Tank schedule", _COLUMNS, rows, notes, _PARTS)


def _row(tank: Tank, density: float) -> tuple[Cell, ...]:
    mesh, wall = tank_mesh(tank), tank.wall
    gross = mesh.volume
    brim = gross * (1.0 - tank.displaced)
    fuel = brim * tank.fill
    return (
        tank.name,
        f"{tank.role} tank",
        gross * _LITRES,
        brim * _LITRES,
        fuel * _LITRES,
        fuel * density * _GRAMS,
        None if tank.empty_mass is None else tank.empty_mass * _GRAMS,
        *(float(value) * MM for value in mesh.centroid),
        ", ".join(_port(port) for port in tank.ports.values()),
        _wall(tank),
        None if wall is None or wall.thickness is None else wall.thickness * MM,
        None if wall is None or wall.proof_pressure is None else wall.proof_pressure * _KILO,
        None if wall is None or wall.collapse_suction is None else wall.collapse_suction * _KILO,
    )


def _port(port: Port) -> str:
    bore = f" {port.bore * MM:g} mm" if port.bore else ""
    if port.capped:
        return f"{port.name}{bore} (capped)"
    return f"{port.name}{bore} ({port.pickup.kind})" if port.pickup else f"{port.name}{bore}"


def _wall(tank: Tank) -> str:
    if tank.wall is None:
        return "not stated"
    made = tank.wall.material
    return f"{tank.wall.kind}, {made}" if made else tank.wall.kind
