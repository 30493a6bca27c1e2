"""`plumbing fill`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("fill")
@common.layout_argument
@click.option("--port", help="Fill port; default the stated one, then any other that is needed.")
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)
@common.plain_errors
def command(layout: str, port: str | None, form: str) -> None:
    """Fill LAYOUT and drain it: order, trapped air, pressures, safe flow, what stays."""
    loaded = api.load(layout)
    with common.waiting("Filling and draining"):
        found = api.fill(loaded, port)
    if form == "json":
        from plumbing.report.ground_json import fill_json

        click.echo(fill_json(found))
        return
    from plumbing.report.fill_text import fill_text

    text = fill_text(loaded, found, common.width(), common.colour_wanted())
    click.echo(text, color=common.colour_wanted())
