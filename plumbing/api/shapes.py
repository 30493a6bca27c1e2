"""Solids out: the whole plumbing for CAD, and guide blocks for the drill."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Literal

from plumbing.api.files import opened

if TYPE_CHECKING:
    from plumbing.model.layout import Layout


def solids(layout: Layout | str | os.PathLike[str], form: Literal["stl", "glb"]) -> bytes:
    """Everything in the aircraft as solids.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    form : {"stl", "glb"}
        Binary STL of tanks, parts and lines [mm], or glTF of these, the formers and the zones,
        one named node each [m].

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        It is too much for a model, or there is nothing to show.
    """
    from plumbing.drawing.glb import glb
    from plumbing.drawing.spatial import plumbing, solids
    from plumbing.drawing.stl import stl
    from plumbing.geometry.mesh import joined
    from plumbing.network import survey

    loaded = opened(layout)
    seen = survey(loaded)
    if form == "glb":
        return glb(solids(loaded, seen), loaded.title)
    return stl(joined(shown.mesh for shown in plumbing(loaded, seen)))


def jigs(
    layout: Layout | str | os.PathLike[str], former: str | None = None
) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Guide blocks that lead the drill through formers, to be printed.

    Parameters
    ----------
    layout : Layout or path
        A layout, or the file to read it from.
    former : str, optional
        Only this former; by default all.

    Returns
    -------
    tuple of dict of str to bytes, and tuple of str
        STL [mm] by a name for each former and passage, unique as part of a file's name; and why
        some passages have none, a sentence each.

    Raises
    ------
    LayoutError
        The file has faults.
    UsageError
        There is no such former, or no passage can have a block.
    """
    from plumbing.drawing.jigs import jigs as made
    from plumbing.drawing.stl import stl
    from plumbing.drawing.templates import by_name

    found = made(opened(layout), former)
    files = by_name((f"{one}-{hole}", stl(mesh)) for (one, hole), mesh in found.blocks.items())
    return files, found.left
