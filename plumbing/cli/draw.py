"""`plumbing draw`."""

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting


@click.command("draw")
@common.layout_argument
@common.force_option
@click.option(
    "-o",
    "--output",
    required=True,
    type=common.Written(".svg", ".png", ".pdf"),
    help="File to write; its ending chooses SVG, PNG or PDF.",
)
def command(layout: str, output: str, force: bool) -> None:
    """Draw the schematic of LAYOUT, with flow, line numbers, sizes and marked findings."""
    loaded = api.load(layout)
    door = api.Door(api.read_for(loaded), force)
    door.ask(output)
    with waiting("Drawing") as watch:
        drawn = api.draw(loaded)
    door.write({output: api.drawn_as(output, drawn)})
    common.tell(f"Drew {layout} to {output}.")
    end(watch)
