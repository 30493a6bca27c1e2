"""`plumbing tilt`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common


@click.command("tilt")
@common.layout_argument
@click.option("--tank", help="Only this tank; default all that feed an engine.")
@common.form_option
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False),
    help="Draw the map; the ending chooses SVG, PNG or PDF.",
)
@common.plain_errors
def command(layout: str, tank: str | None, form: str, output: str | None) -> None:
    """Map the unusable fuel of LAYOUT over pitch and roll, and name the worst attitudes."""
    loaded = api.load(layout)
    found = api.tilt(loaded, tank)
    if output is not None:
        from plumbing.drawing.tilt_plot import tilt_plot

        api.save_drawing(tilt_plot(loaded, found, tank), output)
    if form == "json":
        from plumbing.report.tilt_text import tilt_json

        click.echo(tilt_json(loaded, found))
        return
    from plumbing.report.tilt_text import tilt_text

    common.show(partial(tilt_text, loaded, found))
