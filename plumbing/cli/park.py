"""`plumbing park`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("park")
@common.layout_argument
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)
@common.plain_errors
def command(layout: str, form: str) -> None:
    """Leave LAYOUT standing with fuel: siphons, levels, leaks to the engine, heat, vents."""
    loaded = api.load(layout)
    with common.waiting("Parking in every attitude"):
        found = api.park(loaded)
    if form == "json":
        from plumbing.report.ground_json import park_json

        click.echo(park_json(found))
        return
    from plumbing.report.park_text import park_text

    text = park_text(loaded, found, common.width(), common.colour_wanted())
    click.echo(text, color=common.colour_wanted())
