"""Aircraft made up at random, with room for everything, and what is planted in them."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

PITCH = 0.36  # from tank to tank [m]
LOFT = 0.13  # height at which the lines go [m]


def mm(*values: float) -> Any:
    """Lengths as a file has them."""
    words = [f"{1e3 * value:.3f} mm" for value in values]
    return words if len(words) > 1 else words[0]


def boxed(at: Any, size: Any) -> dict[str, Any]:
    """A box as a file has it."""
    return {"box": {"at": mm(*at), "size": mm(*size)}}


@dataclass
class Aircraft:
    """A file in plain values, and where its tanks are."""

    file: dict[str, Any]
    centres: list[tuple[float, float, float]] = field(default_factory=list)
    sizes: list[Any] = field(default_factory=list)


def made(rng: np.random.Generator) -> Aircraft:
    """Two to four tanks in a row, lines over them, formers between them, zones to the sides."""
    count = int(rng.integers(2, 5))
    craft = Aircraft({"format": 1, "title": "made up", "origin": "nose"})
    file = craft.file
    tanks: dict[str, Any] = {}
    for k in range(count):
        centre = (0.3 + PITCH * k, rng.uniform(-0.03, 0.03), 0.0)
        size = rng.uniform((0.18, 0.08, 0.08), (0.26, 0.14, 0.12))
        craft.centres.append(centre)
        craft.sizes.append(size)
        tanks[f"tank {k}"] = {"shape": _shape(rng, centre, size), "ports": _ports(centre, size)}
    file["tanks"] = tanks
    file["lines"] = dict(_lines(craft, count))
    rear = 0.3 + PITCH * count
    file["valves"] = {"valve": {"kind": "shut-off", "at": mm(rear, 0, LOFT), "bore": "4 mm"}}
    file["engines"] = {"engine": {"at": mm(rear + 0.3, 0, LOFT), "thrust": "100 N"}}
    file["outlets"] = {"vent": {"at": mm(0.05, 0.0, -0.1), "bore": "4 mm"}}
    file["formers"] = dict(_formers(craft, count))
    file["zones"] = _zones(rng, rear)
    return craft


def _shape(rng: np.random.Generator, at: Any, size: Any) -> Any:
    kind = str(rng.choice(["box", "ellipsoid", "prism", "cylinder", "capsule"]))
    if kind in ("box", "ellipsoid"):
        return {kind: {"at": mm(*at), "size": mm(*size)}}
    if kind in ("cylinder", "capsule"):
        return {kind: {"at": mm(*at), "length": mm(size[0]), "diameter": mm(size[2])}}
    half = 0.5 * size
    outline = [mm(y, z) for y, z in _notched(half)]
    sections = [{"station": mm(x), "outline": outline} for x in (-half[0], half[0])]
    return {"prism": {"at": mm(*at), "sections": sections}}


def _notched(half: Any) -> list[tuple[float, float]]:
    """Outline of a saddle whose notch is below."""
    _, y, z = half
    inner, up = 0.4 * y, 0.3 * z
    return [
        (-y, -z),
        (-y, z),
        (y, z),
        (y, -z),
        (inner, -z),
        (inner, up),
        (-inner, up),
        (-inner, -z),
    ]


def _ports(at: Any, size: Any) -> Any:
    top = at[2] + 0.5 * size[2]
    return {
        "top": {"at": mm(at[0], at[1], top)},
        "rear": {"at": mm(at[0] + 0.02, at[1], top - 0.001)},
    }


def _lines(craft: Aircraft, count: int) -> Any:
    """Each tank by its top to the next one's, the last to the valve and on to the engine."""
    rear = 0.3 + PITCH * count
    for k in range(count - 1):
        one, other = craft.centres[k], craft.centres[k + 1]
        yield (
            f"line {k}",
            {
                "from": f"tank {k}.rear" if k else f"tank {k}.top",
                "to": f"tank {k + 1}.top",
                "tube": "polyurethane 6x4",
                "route": [
                    mm(one[0] + 0.02 * (k > 0), one[1], LOFT + 0.02 * k),
                    mm(other[0], other[1], LOFT + 0.02 * k),
                ],
                "bend-radius": "20 mm",
                "through": [f"F{k}.hole"],
            },
        )
    last = craft.centres[-1]
    height = LOFT + 0.02 * count
    yield (
        "feed",
        {
            "from": f"tank {count - 1}.rear",
            "to": "valve.in",
            "tube": "polyurethane 6x4",
            "route": [mm(last[0] + 0.02, last[1], height), mm(rear - 0.1, 0, height)],
            "bend-radius": "15 mm",
        },
    )
    yield "pressure", {"from": "valve.out", "to": "engine.feed", "tube": "PTFE 4x2"}


def _formers(craft: Aircraft, count: int) -> Any:
    for k in range(count - 1):
        one, other = craft.centres[k], craft.centres[k + 1]
        start = one[0] + 0.02 * (k > 0)
        station = 0.5 * (one[0] + other[0])
        share = (station - start) / (other[0] - start)
        hole = mm(one[1] + share * (other[1] - one[1]), LOFT + 0.02 * k)
        yield (
            f"F{k}",
            {
                "station": mm(station),
                "thickness": "4 mm",
                "material": "plywood",
                "outline": [
                    mm(y, z) for y, z in ((-0.15, -0.1), (0.15, -0.1), (0.15, 0.3), (-0.15, 0.3))
                ],
                "passages": {"hole": {"at": hole, "diameter": "10 mm"}},
            },
        )


def _zones(rng: np.random.Generator, rear: float) -> Any:
    """All kinds of zones, well to the sides, above and behind."""
    x = rng.uniform(0.2, 0.6, size=6)
    can = {"at": mm(rear + 0.55, 0, LOFT), "length": "180 mm", "diameter": "110 mm"}
    run = [mm(0.1, -0.2, 0.1), mm(rear, -0.25, 0.1)]
    return {
        "battery": {"kind": "battery", "body": boxed((x[0], 0.3, 0), (0.1, 0.05, 0.03))},
        "receiver": {"kind": "electronics", "body": boxed((x[1], 0.4, 0), (0.06, 0.04, 0.02))},
        "spar": {"kind": "keep-out", "body": boxed((x[2], 0, -0.2), (0.02, 0.5, 0.03))},
        "leg": {"kind": "moving", "body": boxed((x[3], -0.4, 0), (0.03, 0.03, 0.2))},
        "rod": {"kind": "moving", "body": {"run": {"points": run, "diameter": "6 mm"}}},
        "case": {"kind": "hot", "body": {"cylinder": can}},
        "loom": {
            "kind": "wiring",
            "body": {"run": {"points": [mm(0.1, 0, 0.4), mm(rear, 0, 0.4)], "diameter": "8 mm"}},
        },
    }


def planted(craft: Aircraft, rng: np.random.Generator) -> set[str]:
    """Put one thing into another; returns the names of the two."""
    file = craft.file
    k = int(rng.integers(len(craft.centres)))
    at, size = craft.centres[k], craft.sizes[k]
    spot = (at[0] + rng.uniform(-0.3, 0.3) * size[0], at[1], at[2] + 0.4 * size[2])
    what = str(
        rng.choice(["zone in tank", "zone on line", "tank in tank", "former", "valve", "outlet"])
    )
    if what == "zone in tank":
        name = str(rng.choice(["battery", "receiver", "spar", "leg"]))
        file["zones"][name]["body"]["box"]["at"] = mm(*spot)
        return {name, f"tank {k}"}
    if what == "zone on line":
        name = str(rng.choice(["battery", "receiver", "spar", "leg"]))
        one, other = (np.array(point) for point in _run(file["lines"]["feed"]))
        file["zones"][name]["body"]["box"]["at"] = mm(
            *(one + rng.uniform(0.2, 0.8) * (other - one))
        )
        return {name, "feed"}
    if what == "tank in tank":
        file["tanks"]["header"] = {
            "role": "header",
            "shape": boxed((spot[0], at[1], at[2] + 0.35 * size[2]), (0.03, 0.03, 0.02)),
            "ports": {"top": {"at": mm(spot[0], at[1], at[2] + 0.35 * size[2] + 0.01)}},
        }
        return {"header", f"tank {k}"}
    if what == "former":
        file["formers"]["cut"] = {**next(iter(file["formers"].values())), "station": mm(spot[0])}
        file["formers"]["cut"] = {**file["formers"]["cut"], "passages": {}}
        return {"cut", f"tank {k}"}
    if what == "valve":
        file["tees"] = {"spare": {"at": mm(*spot), "bore": "4 mm"}}
        return {"spare", f"tank {k}"}
    file["zones"]["battery"]["body"]["box"]["at"] = mm(0.06, 0.0, -0.1)
    return {"battery", "vent"}


def _run(line: Any) -> Any:
    return [[1e-3 * float(word.split()[0]) for word in point] for point in line["route"]]
