"""A sheet for each tank: volumes, what it gives, its pickup, its wall, the load on its mount."""

from __future__ import annotations

import math

from plumbing import units
from plumbing.checks.case import Case
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Pickup, Tank
from plumbing.physics.constants import GRAVITY
from plumbing.report.schedules.table import Column, Table
from plumbing.results import known
from plumbing.simulation.balance import fuel_mass

_COLUMNS = (Column("what"), Column("value"))
_Rows = list[tuple[str, str]]


def tank_sheets(case: Case) -> list[Table]:
    """Sheets of all tanks."""
    return [
        Table(f"tank {name}", f"Tank sheet: {name}", _COLUMNS, tuple(_rows(case, tank)))
        for name, tank in case.layout.tanks.items()
    ]


def _rows(case: Case, tank: Tank) -> _Rows:
    mesh = tank_mesh(tank)
    brim = mesh.volume * (1.0 - tank.displaced)
    x, y, z = (f"{round(1e3 * float(value))}" for value in mesh.centroid)
    return [
        ("holds brim-full, filled to fly", f"{_litres(brim)}, {_litres(brim * tank.fill)}"),
        *_usable(case, tank),
        ("centre x, y, z", f"{x}, {y}, {z} mm"),
        *_pickups(tank),
        *_wall(tank),
        *_mount(case, tank),
        *_parked(case, tank),
    ]


def _litres(volume: float) -> str:
    return f"{volume * 1e3:.3f} L"


def _usable(case: Case, tank: Tank) -> _Rows:
    flown = case.flight
    if not known(flown):
        return []
    held = float(flown.dry_run.volume[0, flown.dry_run.tanks.index(tank.name)])
    left = flown.stranded[tank.name]
    return [("usable, stays behind", f"{_litres(held - left)}, {units.show(left, 'volume', 2)}")]


def _pickups(tank: Tank) -> _Rows:
    return [
        (f"pickup at {name}", _pickup(port.pickup))
        for name, port in tank.ports.items()
        if port.pickup is not None
    ]


def _pickup(pickup: Pickup) -> str:
    hose = pickup.hose
    said = [
        pickup.kind,
        f"from port to end {units.show(pickup.reach, 'length')}" if pickup.reach else "",
        f"hose {units.show(hose.length, 'length')} of {hose.material or 'material not stated'}"
        if hose
        else "",
        f"{units.show(pickup.mass, 'mass')} heavy" if pickup.mass else "",
        f"pore {units.show(pickup.pore, 'length')}" if pickup.pore else "",
    ]
    return ", ".join(filter(None, said))


def _wall(tank: Tank) -> _Rows:
    wall = tank.wall
    if wall is None:
        return [("wall", "not stated")]
    said = [
        f"{wall.kind}, {wall.material}" if wall.material else wall.kind,
        f"{units.show(wall.thickness, 'length')} thick" if wall.thickness else "",
        f"proved to {units.show(wall.proof_pressure, 'pressure')}" if wall.proof_pressure else "",
        f"folds at {units.show(wall.collapse_suction, 'pressure')} of suction"
        if wall.collapse_suction
        else "",
        f"{units.show(wall.stays, 'share')} stays in its folds" if wall.stays else "",
        f"air drawn out: {wall.purged.words}" if tank.is_bag else "",
    ]
    return [("wall", ", ".join(filter(None, said)))]


def _mount(case: Case, tank: Tank) -> _Rows:
    """Load of the full tank at the largest load factor flown."""
    factors = case.layout.aircraft.load_factors
    most = max(abs(factors.positive), abs(factors.negative))
    mass = fuel_mass(case.layout, tank) + (tank.empty_mass or 0.0)
    empty = "" if tank.empty_mass is not None else ", its own mass not stated"
    holds = tank.fixing.holds if tank.fixing else None
    rated = f"; fixing holds {holds:g} g" if holds is not None else ""
    load = f"{mass * GRAVITY * most:.0f} N at {most:g} g{rated}"
    return [
        ("mass full, empty", f"{1e3 * mass:.0f} g{empty}" + _grams(tank.empty_mass)),
        ("load on the mount", load),
    ]


def _grams(mass: float | None) -> str:
    return "" if mass is None else f", {1e3 * mass:.0f} g"


def _parked(case: Case, tank: Tank) -> _Rows:
    """Where the tank loses most, left standing."""
    parked = case.parking
    if not known(parked):
        return []
    losses = [
        (one.fuel.get(tank.name, 0.0) - one.books.left.get(tank.name, 0.0), one.name)
        for one in parked.attitudes.values()
    ]
    lost, name = max(losses, default=(0.0, ""))
    if not name or not math.isfinite(lost):
        return []
    said = f"{units.show(lost, 'volume', 2)}, {name}" if lost > 1e-7 else "none"
    return [("gives away parked", said)]
