"""`plumbing draw`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting

if TYPE_CHECKING:
    from plumbing.model.layout import Layout


@click.command("draw")
@common.layout_argument
@common.force_option
@click.option(
    "-o",
    "--output",
    required=True,
    type=common.Written(".svg", ".png", ".pdf", ".stl", ".glb"),
    help="File to write; its ending chooses SVG, PNG, PDF, STL or glTF (.glb).",
)
def command(layout: str, output: str, force: bool) -> None:
    """Draw the schematic of LAYOUT, with flow, line numbers, sizes and marked findings.

    STL and glTF hold the aircraft in space for CAD. STL has the tanks with their walls, the parts
    and the tubes in one body of millimetres; glTF has each of them, the formers and the zones by
    name, in colours and metres.
    """
    loaded = api.load(layout)
    door = api.Door(api.read_for(loaded), force)
    door.ask(output)
    with waiting("Drawing") as watch:
        content = _content(loaded, output)
    door.write({output: content})
    common.tell(f"Drew {layout} to {output}.")
    end(watch)


def _content(loaded: Layout, output: str) -> bytes:
    match Path(output).suffix.lower():
        case ".stl":
            return api.solids(loaded, "stl")
        case ".glb":
            return api.solids(loaded, "glb")
    return api.drawn_as(output, api.draw(loaded))
