"""`plumbing draw`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("draw")
@common.layout_argument
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(dir_okay=False),
    help="File to write; its ending chooses SVG, PNG or PDF.",
)
@common.plain_errors
def command(layout: str, output: str) -> None:
    """Draw the schematic of LAYOUT, with flow, line numbers, sizes and marked findings."""
    api.save_drawing(api.draw(layout), output)
    click.echo(f"Drew {layout} to {output}.", err=True)
