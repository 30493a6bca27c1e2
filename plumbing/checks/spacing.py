"""Things that must not meet, held to their least distance."""

from collections.abc import Iterable, Iterator
from math import ceil

from plumbing.checks.kit import Figure, Found
from plumbing.checks.words import called, subject
from plumbing.geometry.bodies import Gap, shell
from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.moves import FARTHEST, is_within, least_move, least_move_within
from plumbing.model.layout import Layout
from plumbing.model.structure import Zone
from plumbing.network.space import Thing, between, place_words
from plumbing.units import show

_SPLASH = (
    50e-3  # from an outlet, which lets fuel out while filling and in turns; common practice [m]
)
_TOUCHES = 1e-4  # nearer than that is said to touch [m]
_MARGIN = 1e-5  # by which a move clears what need not be apart [m]
_STEP = 1e-3  # moves are said in whole millimetres [m]
_WAYS = ("aft", "to starboard", "up", "forward", "to port", "down")


def least(zone: Zone, limit: float) -> float:
    """Distance to be kept to a zone [m]; a shield needs none, but nothing may enter it."""
    return 0.0 if zone.shielded else zone.clearance or limit


def splashed(thing: Thing, limit: float) -> float:
    """Distance that what must not get wet keeps to a thing that holds fuel [m]."""
    return max(limit, _SPLASH) if thing.kind == "outlet" else limit


def too_near(
    layout: Layout, one: Thing, others: Iterable[Thing], allowed: float, moves: str = ""
) -> Iterator[Found]:
    """Find everything that comes nearer to a thing than allowed, or overlaps it.

    Parameters
    ----------
    one : Thing
        The thing the findings are about.
    others : iterable of Thing
        What must not come near it.
    allowed : float
        Least distance [m].
    moves : str
        Name of what is said to move; the thing itself by default.
    """
    for other in others:
        if one.is_meant(other):
            continue
        found = between(one.body, other.body, allowed)
        if found is not None and (found.overlap or found.size < allowed):
            yield _found(layout, one, other, found, allowed, moves)


def stands_out(layout: Layout, one: Thing, room: Mesh, allowed: float) -> Iterator[Found]:
    """Find where a thing stands out of a room, or comes nearer to its skin than allowed.

    Parameters as for `too_near`.
    """
    skin = shell(room)
    if is_within(one.body, room, skin, allowed):
        return
    gap = between(one.body, skin)
    assert gap is not None
    out = not contains(room, one.body.points[0, :1])[0]
    stands = "lies outside" if out else "crosses the skin of"
    if not (out or gap.overlap):
        stands = f"lies {show(gap.size, 'length')}, not {show(allowed, 'length')}, from the skin of"
    move = least_move_within(one.body, room, allowed)
    clear = (
        f"moved {show(move[0], 'length')} {_WAYS[move[1]]} it is clear"
        if move
        else (f"no move of up to {show(FARTHEST, 'length')} along one axis clears it")
    )
    x, y, z = gap.at.tolist()
    what = (
        f"{subject(one.kind, one.name)} {stands} the airframe at {place_words(layout, (x, y, z))}; "
        f"{clear}."
    )
    size = 0.0 if out else gap.size
    yield Found(one.name, what, Figure(size, "length"), Figure(allowed, "length"), one.field)


def _found(layout: Layout, one: Thing, other: Thing, gap: Gap, allowed: float, moves: str) -> Found:
    mover, still = (other, one) if moves == other.name else (one, other)
    far, way = least_move(mover.body, still.body, max(allowed, _MARGIN))
    shift = f"{_named(mover)} moved {show(ceil(far / _STEP - 1e-6) * _STEP, 'length')} {_WAYS[way]}"
    x, y, z = gap.at.tolist()
    what = (
        f"{subject(one.kind, one.name)} {_stands(gap, allowed)} {_named(other)} "
        f"at {place_words(layout, (x, y, z))}; {shift} is clear."
    )
    figures = Figure(gap.size, "length"), Figure(allowed, "length")
    return Found(one.name, what, *figures, one.field, (other.name,))


def _stands(gap: Gap, allowed: float) -> str:
    if gap.overlap:
        return "overlaps"
    if gap.size < _TOUCHES:
        return "touches"
    return f"lies {show(gap.size, 'length')}, not {show(allowed, 'length')}, from"


def _named(thing: Thing) -> str:
    if thing.words:
        return thing.words
    return thing.name if thing.kind == "zone" else called(thing.kind, thing.name)
