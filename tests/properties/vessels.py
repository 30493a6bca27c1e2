"""Tanks of any shape for random layouts, with places for their ports [mm]."""

from .writing import mm


def shape_of(dice, at, small=False):
    """A shape at a place, and half its length, width and height where ports can be."""
    scale = 0.35 if small else 1.0
    x, y, z = (scale * dice.uniform(*span) for span in ((90, 300), (60, 160), (50, 120)))
    kind = dice.choice(["box", "box", "cylinder", "capsule", "ellipsoid", "prism"])
    if kind == "box":
        return {"box": {"at": mm(*at), "size": mm(x, y, z)}}, (x / 2, y / 2, z / 2)
    if kind == "ellipsoid":
        return {"ellipsoid": {"at": mm(*at), "size": mm(x, y, z)}}, (0.3 * x, 0.3 * y, 0.48 * z)
    if kind == "prism":
        return _prism(dice, at, x, y, z)
    length = x + z if kind == "capsule" else x
    half = (0.3 * length, 0.3 * z, 0.48 * z)
    entry = {"at": mm(*at), "length": mm(length), "diameter": mm(z)}
    if dice.random() < 0.3:
        entry["axis"], half = "z", (0.3 * z, 0.3 * z, 0.48 * length)
    return {kind: entry}, half


def _prism(dice, at, x, y, z):
    taper = dice.uniform(0.4, 1.0)
    sections = []
    for end, size in ((-0.5, 1.0), (0.5, taper)):
        corners = [(-y / 2, -z / 2), (y / 2, -z / 2), (y / 2, z / 2), (-y / 2, z / 2)]
        outline = [mm(size * a, size * b) for a, b in corners]
        sections.append({"station": mm(end * x), "outline": outline})
    half = (0.45 * x, 0.4 * taper * y, 0.49 * taper * z)
    return {"prism": {"at": mm(*at), "sections": sections}}, half


def pickup_of(dice, at, half):
    """A pickup at the top port of a tank, or None for a plain hole."""
    kind = dice.choice(["clunk", "clunk", "fixed", "fine-pore", None])
    if kind is None:
        return None
    pickup = {"kind": kind}
    rest = mm(at[0] + dice.uniform(-0.8, 0.8) * half[0], at[1], at[2] - 0.95 * half[2])
    if kind == "fixed":
        pickup["rest"] = rest
        return pickup
    if dice.random() < 0.9 or kind == "clunk":
        pickup["reach"] = mm(dice.uniform(0.5, 1.05) * 2 * half[2])
    if kind == "fine-pore":
        pickup |= {"pore": f"{dice.uniform(10, 80):.3g} um"}
        if dice.random() < 0.7:
            pickup |= {"clean-drop": f"{dice.uniform(0.1, 2):.3g} kPa"}
        if dice.random() < 0.5 and "clean-drop" in pickup:
            pickup |= {"dirty-drop": "3 kPa"}
    elif dice.random() < 0.5:
        pickup["hose"] = {"length": mm(1.6 * half[2]), "bore": mm(dice.choice([2.5, 3, 4]))}
    return pickup


def tank_of(dice, number, role="main"):
    """A tank with a feed, a vent and an inlet, and its place [mm]."""
    at = (150 + 180 * (number // 3), (number % 3 - 1) * 170, dice.uniform(-60, 60))
    if role == "header":
        at = (900, dice.uniform(-40, 40), dice.uniform(-80, 60))
    shape, half = shape_of(dice, at, small=role == "header")
    top, floor = at[2] + half[2], at[2] - half[2]
    aft = at[0] + 0.5 * half[0]
    feed = {"at": mm(at[0], at[1], top)}
    pickup = pickup_of(dice, at, half)
    if role == "header" or pickup is None:
        feed = {"at": mm(aft, at[1], floor)}
    else:
        feed["pickup"] = pickup
    ports = {"feed": feed, "in": {"at": mm(aft, at[1], top if dice.random() < 0.8 else floor)}}
    if role == "main" or dice.random() < 0.1:
        ports["vent"] = {"at": mm(at[0] - 0.5 * half[0], at[1], top)}
    for port in ports.values():
        if dice.random() < 0.6:
            port["bore"] = mm(dice.choice([1.6, 2.1, 3, 3.6, 4]))
    tank = {"role": role, "shape": shape, "ports": ports}
    if dice.random() < 0.6:
        tank["fill"] = f"{100 if role == 'header' else dice.choice([0, 5, 40, 90, 98, 100])} %"
    if dice.random() < 0.2:
        tank["wall"] = {
            "kind": "composite",
            "proof-pressure": "20 kPa",
            "collapse-suction": "5 kPa",
        }
    return tank, at
