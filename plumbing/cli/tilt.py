"""`plumbing tilt`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout


@click.command("tilt")
@common.layout_argument
@common.force_option
@click.option(
    "--tank",
    shell_complete=InLayout("tanks"),
    help="Only this tank; default all that feed an engine.",
)
@common.form_option
@click.option(
    "-o",
    "--output",
    type=common.Written(".svg", ".png", ".pdf"),
    help="Draw the map; the ending chooses SVG, PNG or PDF.",
)
def command(layout: str, tank: str | None, form: str, output: str | None, force: bool) -> None:
    """Map the unusable fuel of LAYOUT over pitch and roll, and name the worst attitudes."""
    loaded = api.load(layout)
    door = api.Door(api.read_for(loaded), force)
    if output is not None:
        door.ask(output)
    found = api.tilt(loaded, tank)
    if output is not None:
        from plumbing.drawing.tilt_plot import tilt_plot

        door.write({output: api.drawn_as(output, tilt_plot(loaded, found, tank))})
    if form == "json":
        from plumbing.report.tilt_text import tilt_json

        click.echo(tilt_json(loaded, found))
        return
    from plumbing.report.tilt_text import tilt_text

    common.show(partial(tilt_text, loaded, found))
