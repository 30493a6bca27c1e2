"""A short layout file of one of the usual topologies, from what a builder said."""

from collections.abc import Iterator

from plumbing import units
from plumbing.frozen import frozen
from plumbing.layout.answers import Answers
from plumbing.layout.differences import Path, Plain
from plumbing.layout.edit import changed
from plumbing.layout.graded.ranges import TUBES
from plumbing.layout.load import read
from plumbing.layout.starting import EDITOR_LINE, STARTERS, short_starter
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh


@frozen
class Shortened:
    """A short layout.

    Attributes
    ----------
    text : str
        The file.
    said, assumed : tuple of str
        What was said, and what was not and stands in the file as in the starter, in words.
    """

    text: str
    said: tuple[str, ...]
    assumed: tuple[str, ...]


def shortened(answers: Answers) -> Shortened:
    """Write a short layout for what was said.

    Parameters
    ----------
    answers : Answers
        What was said; names of tanks are those of the starter.
    """
    start = short_starter(answers.starter)
    layout = read(start)
    said, assumed = tuple(_said(layout, answers)), tuple(_assumed(layout, answers))
    rows = [
        "# Said:    " + "\n#          ".join(said),
        *(["# Assumed: " + "\n#          ".join(assumed)] if assumed else []),
    ]
    text = changed(start.removeprefix(EDITOR_LINE), answers.starter, _values(layout, answers))
    return Shortened(EDITOR_LINE + "\n".join([*rows, text]), said, assumed)


def tanks_of(name: str) -> dict[str, float]:
    """Tanks of a starter and their volumes [m3], in the order they empty."""
    layout = read(short_starter(name))
    mains = [one for one in layout.tanks.values() if one.role == "main"]
    order = (*mains, *layout.headers())
    return {one.name: one.capacity or tank_mesh(one).volume for one in order}


def _values(layout: Layout, answers: Answers) -> dict[Path, Plain | None]:
    """What is to be written into the starter."""
    found: dict[Path, Plain | None] = {}
    if answers.engine:
        key, value = answers.engine
        size = units.show(value, "force" if key == "thrust" else "flow", 6)
        found |= {("engines", name): size for name in layout.engines}
    found |= {("tanks", name): _size(size) for name, size in answers.tanks.items()}
    if answers.tube:
        found["tube", "suction"] = answers.tube
    return found


def _said(layout: Layout, answers: Answers) -> Iterator[str]:
    yield f"{answers.starter}: {STARTERS[answers.starter]}"
    if answers.engine:
        key, value = answers.engine
        yield f"{key} {units.show(value, 'force' if key == 'thrust' else 'flow')}"
    for name in layout.tanks:
        if name in answers.tanks:
            yield f"{name} {_size(answers.tanks[name])}"
    if answers.tube:
        yield answers.tube


def _assumed(layout: Layout, answers: Answers) -> Iterator[str]:
    if answers.engine is None:
        thrust = next(iter(layout.engines.values())).thrust or 0.0
        yield f"thrust {units.show(thrust, 'force')}, as in the starter"
    for name, volume in tanks_of(answers.starter).items():
        if name not in answers.tanks:
            yield f"{name} {units.show(volume, 'volume')}, as in the starter"
    if not answers.tube:
        tubes = {line.tube for line in layout.lines.values()} - {TUBES["pressure"]}
        yield f"{', '.join(sorted(tubes))} before the pump and in the vents, as in the starter"


def _size(said: float | Vector) -> str:
    """A volume, or three inner sizes, as a file says it."""
    if isinstance(said, float):
        return units.show(said, "volume", 6)
    return "x".join(f"{1e3 * one:.6g}" for one in said) + " mm"
