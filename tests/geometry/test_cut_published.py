"""Partly filled solids against published values and closed forms."""

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.cut import cut
from plumbing.geometry.lathe import lathed

DOWN = (0.0, 0.0, -1.0)
INCHES3 = 231.0  # cubic inches in a US gallon
JONES = "D. Jones, Calculating Tank Volume, worked examples as printed in fluids 1.3.1"
SEGMENT = "circular segment area, R2 acos(1 - h/R) - (R - h) sqrt(2Rh - h2)"


def filled(mesh, depth, down=DOWN):
    """Volume of a solid filled to a depth above its lowest nominal point."""
    table = cut(mesh, down)
    return float(table.volume_at([depth])[0])


@pytest.mark.outside(SEGMENT, quantity="share of a lying cylinder")
@pytest.mark.parametrize(
    ("depth", "share"),
    [
        (0.05, 0.018693),
        (0.10, 0.052044),
        (0.15, 0.094060),
        (0.20, 0.142378),
        (0.25, 0.195501),
        (0.30, 0.252316),
        (0.35, 0.311919),
        (0.40, 0.373530),
        (0.45, 0.436444),
        (0.50, 0.500000),
        (0.75, 1.0 - 0.195501),
        (0.90, 1.0 - 0.052044),
    ],
)
def test_lying_cylinder(depth, share):
    """A lying cylinder fills like a circular segment."""
    mesh = solids.cylinder(0.3, 1.0)
    assert filled(mesh, depth - 0.5) / mesh.volume == pytest.approx(share, abs=1e-4)


@pytest.mark.outside("partial circle, worked value printed in fluids 1.3.1", quantity="segment")
def test_printed_partial_circle():
    """A circle of 96 filled to 22 has the printed area."""
    mesh = solids.cylinder(1.0, 96.0)
    expected = 1251.2018147383 / (np.pi * 48.0**2)
    assert filled(mesh, 22.0 - 48.0) / mesh.volume == pytest.approx(expected, abs=1e-4)


@pytest.mark.outside(
    "closed form of a tilted cylinder, derived; agrees with quadrature to 1e-8",
    quantity="volume in a tilted cylinder",
)
@pytest.mark.parametrize(
    ("radius", "length", "tilt", "depth", "volume"),
    [
        (0.05, 0.30, 5.0, 0.08, 1.6683532943e-3),
        (0.05, 0.30, 10.0, 0.03, 1.390733759e-4),
        (1.0, 1.0, 45.0, 1.0, 2.0 / 3.0),
    ],
)
def test_tilted_cylinder(radius, length, tilt, depth, volume):
    """A tilted cylinder, Archimedes' hoof among them, holds its closed form.

    The depth is measured square to the axis at the low end.
    """
    angle = np.deg2rad(tilt)
    down = np.array([-np.sin(angle), 0.0, -np.cos(angle)])  # the end at -x is low
    deepest = np.array([-length / 2, 0.0, depth - radius])  # where the surface meets that end
    mesh = solids.cylinder(length, 2.0 * radius)
    level = -down @ deepest
    assert filled(mesh, level, down) == pytest.approx(volume, abs=1e-4 * mesh.volume)


@pytest.mark.outside("closed form of a wedge, derived", quantity="volume in a tilted box")
@pytest.mark.parametrize(
    ("tilt", "depth", "volume"),
    [
        (10.0, 0.06, 1.0065285868e-3),
        (20.0, 0.06, 4.945459355e-4),
        (10.0, 0.12, 2.6931029504e-3),
    ],
)
def test_tilted_box(tilt, depth, volume):
    """A tilted box is exact: both ends wet, a wedge, and a dry top corner."""
    angle = np.deg2rad(tilt)
    down = np.array([-np.sin(angle), 0.0, -np.cos(angle)])
    level = -down @ np.array([-0.15, 0.0, depth - 0.05])
    mesh = solids.box((0.3, 0.1, 0.1))
    assert filled(mesh, level, down) == pytest.approx(volume, abs=1e-9 * mesh.volume)


@pytest.mark.outside("spherical cap, pi h2 (3R - h)/3", quantity="volume of a cap")
@pytest.mark.parametrize(
    ("diameter", "depth", "volume"), [(0.1, 0.03, 0.36e-4 * np.pi), (1.0, 0.7, 0.41050144007)]
)
@pytest.mark.parametrize("down", [(0, 0, -1), (1, 0, 0), (0, 0.6, 0.8), (-0.48, 0.64, 0.6)])
def test_spherical_cap(diameter, depth, volume, down):
    """A sphere filled to a depth holds the cap, whichever way it is turned."""
    mesh = solids.ellipsoid((diameter,) * 3)
    got = filled(mesh, depth - diameter / 2, down)
    assert got == pytest.approx(volume, abs=1e-4 * mesh.volume)


@pytest.mark.outside("fluids 1.3.1, tank with spherical heads", quantity="volume in a capsule")
@pytest.mark.parametrize(
    ("axis", "depth", "volume"),
    [
        ("x", 0.02, 2.781018816e-4),
        ("x", 0.05, 1.0471975512e-3),
        ("x", 0.08, 1.8162932207e-3),
        ("z", 0.02, 5.4454273e-5),
        ("z", 0.05, 2.617993878e-4),
        ("z", 0.15, 1.0471975512e-3),
        ("z", 0.28, 2.0399408297e-3),
    ],
)
def test_capsule_lying_and_standing(axis, depth, volume):
    """A capsule of 0.1 m with 0.2 m straight holds what the tank formulas give."""
    mesh = solids.capsule(0.3, 0.1, axis)
    half = 0.05 if axis == "x" else 0.15
    assert mesh.volume == pytest.approx(2.0943951024e-3, rel=1e-9)
    assert filled(mesh, depth - half) == pytest.approx(volume, abs=1e-4 * mesh.volume)


def head(kind, radius, depth, count=200):
    """Profile of a tank head from its pole to its rim: distance to the rim and radius."""
    if kind == "conical":
        return np.array([depth, 0.0]), np.array([0.0, radius])
    t = np.linspace(0.0, np.pi / 2, count)
    if kind == "torispherical":  # dish of one diameter, knuckle of 0.06 diameters
        dish, knuckle = 2.0 * radius, 0.12 * radius
        edge = np.arcsin((radius - knuckle) / (dish - knuckle))
        centre = (dish - knuckle) * np.cos(edge)
        flat, round_ = np.linspace(0.0, edge, count), np.linspace(edge, np.pi / 2, count)[1:]
        out = np.concatenate([dish * np.cos(flat) - centre, knuckle * np.cos(round_)])
        across = radius - knuckle + knuckle * np.sin(round_)
        return out, np.concatenate([dish * np.sin(flat), across])
    if kind == "ellipsoidal":
        return depth * np.cos(t), radius * np.sin(t)
    ball = (radius**2 + depth**2) / (2.0 * depth)
    edge = np.arcsin(radius / ball)
    return ball * np.cos(t / (np.pi / 2) * edge) - (ball - depth), ball * np.sin(
        t / (np.pi / 2) * edge
    )


@pytest.mark.outside(JONES, quantity="horizontal tank with heads [US gal]")
@pytest.mark.parametrize(
    ("kind", "gallons"),
    [
        ("conical", 2041.19236),
        ("ellipsoidal", 2380.95654),
        ("spherical", 2303.96151),
        ("torispherical", 2028.62667),
    ],
)
def test_published_horizontal_tanks(kind, gallons):
    """A lying tank of 108 by 156 in, heads of 42 in, filled to 36 in, as published."""
    out, radius = head(kind, 54.0, 42.0)
    along = np.concatenate([-78.0 - out, (78.0 + out)[::-1]])
    mesh = lathed(along, np.concatenate([radius, radius[::-1]]), 64)
    got = filled(mesh, 36.0 - 54.0)
    assert got == pytest.approx(gallons * INCHES3, abs=1e-4 * mesh.volume)


@pytest.mark.outside(JONES, quantity="vertical tank with heads [US gal]")
@pytest.mark.parametrize(
    ("kind", "gallons"),
    [
        ("conical", 250.67461),
        ("ellipsoidal", 783.35817),
        ("spherical", 583.60184),
        ("torispherical", 904.06883),
    ],
)
def test_published_vertical_tanks(kind, gallons):
    """The lower head of a standing tank of 132 in, 33 in deep, filled to 24 in, as published."""
    out, radius = head(kind, 66.0, 33.0)
    mesh = lathed(np.append(-out, 100.0), np.append(radius, 66.0), 64)
    got = filled(mesh, 24.0 - out.max(), (-1.0, 0.0, 0.0))
    assert got == pytest.approx(gallons * INCHES3, abs=1e-4 * mesh.volume)
