"""Random but plausible fuel systems of 5 to 40 parts for the geometry tests."""

import random

from drawn_samples import Bench, supply, vent

_WORDS = ("left", "right", "upper", "main", "nacelle", "saddle", "collector", "wing-root", "aft")


def generated(seed: int) -> Bench:
    """A system with a random mix of chains, tees, joined vents, returns, fills and drains."""
    pick = random.Random(seed)
    bench = Bench(f"Generated system {seed}")
    heads = [_branch(bench, pick, at) for at in range(pick.randint(1, 4))]
    while len(heads) > 1:
        at = len(bench.sections.get("tees", {}))
        tee = f"join-{at}"
        bench.small("tee", tee)
        bench.run("suction", heads.pop(0), f"{tee}.run-a")
        bench.run("suction", heads.pop(0), f"{tee}.run-b")
        heads.append(f"{tee}.branch")
    if pick.random() < 0.8:
        bench.tank("header", "header", pick.choice(["fixed", "fine-pore"]))
        bench.run("suction", heads[0], "header.in")
        heads = ["header.out"]
        if pick.random() < 0.4:
            first = next(iter(bench.sections["tanks"]))
            bench.run("return", "header.vent", f"{first}.bleed")
    supply(bench, source=heads[0])
    bench.feed_order = tuple(bench.sections["tanks"])
    return bench


def _branch(bench: Bench, pick: random.Random, at: int) -> str:
    """A chain of tanks with whatever hangs on it; the port it feeds from."""
    count = pick.randint(1, 3)
    names = [f"{pick.choice(_WORDS)}-{at}-{place}" for place in range(count)]
    for name in names:
        bench.tank(name, pickup=pick.choice(["fixed", "clunk", "fine-pore"]), z=0.1 + 0.02 * at)
    before = ""
    for name in names:
        if before:
            _link(bench, pick, f"{before}.out", f"{name}.in", f"{at}-{name}")
        before = name
    if pick.random() < 0.3 and count > 1:
        tee = f"vent-tee-{at}"
        bench.small("tee", tee)
        bench.small("outlet", f"vent-{at}")
        bench.run("vent", f"vent-{at}.tube", f"{tee}.branch")
        bench.run("vent", f"{tee}.run-a", f"{names[0]}.vent")
        bench.run("vent", f"{tee}.run-b", f"{names[1]}.vent")
    else:
        vent(bench, names[0], f"vent-{at}")
    if pick.random() < 0.3:
        bench.small("drain", f"drain-{at}")
        bench.run("drain", f"{names[-1]}.fill", f"drain-{at}.tube")
    elif pick.random() < 0.4:
        bench.small("fill", f"filler-{at}")
        bench.run("fill", f"filler-{at}.tube", f"{names[-1]}.fill")
    return f"{before}.out"


def _link(bench: Bench, pick: random.Random, start: str, end: str, tag: str) -> None:
    middle = pick.choice(["", "", "connector", "check", "filter"])
    if not middle:
        bench.run("suction", start, end)
        return
    name = f"{middle}-{tag}"
    bench.small(middle, name)
    bench.run("suction", start, f"{name}.in {name}.out", end)


_PORTS = {
    "tee": ("run-a", "run-b", "branch"),
    "outlet": ("tube",),
    "fill": ("tube",),
    "drain": ("tube",),
}
_KINDS = (
    "tee",
    "filter",
    "pump",
    "connector",
    "outlet",
    "fill",
    "drain",
    "shut-off",
    "check",
    "electric",
)


def absurd(seed: int) -> Bench:
    """Parts joined at random: legal in a layout file, senseless as a system."""
    pick = random.Random(seed)
    bench = Bench(f"Absurd system {seed}")
    ports = ["engine.feed"]
    bench.engine()
    for at in range(pick.randint(1, 5)):
        bench.tank(f"tank-{at}", role=pick.choice(["main", "header"]))
        ports += [f"tank-{at}.{port}" for port in ("vent", "in", "fill", "out", "bleed")[:4]]
    for at in range(pick.randint(0, 14)):
        kind = pick.choice(_KINDS)
        bench.small(kind, f"{kind}-{at}")
        ports += [f"{kind}-{at}.{port}" for port in _PORTS.get(kind, ("in", "out"))]
    pick.shuffle(ports)
    while len(ports) > 1 and pick.random() < 0.95:
        start, end = ports.pop(), ports.pop()
        if start.split(".")[0] != end.split(".")[0]:
            bench.run("suction", start, end)
    return bench
