"""`plumbing fill`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout
from plumbing.cli.waiting import end, waiting


@click.command("fill")
@common.layout_argument
@click.option(
    "--port",
    shell_complete=InLayout("fill-ports"),
    help="Fill port; default the stated one, then any other that is needed.",
)
@common.form_option
def command(layout: str, port: str | None, form: str) -> None:
    """Fill LAYOUT and drain it: order, trapped air, pressures, safe flow, what stays."""
    loaded = api.load(layout)
    with waiting("Filling and draining") as watch:
        found = api.fill(loaded, port)
    if form == "json":
        from plumbing.report.ground_json import fill_json

        click.echo(fill_json(found))
    else:
        from plumbing.report.fill_text import fill_text

        common.show(partial(fill_text, loaded, found))
    end(watch)
