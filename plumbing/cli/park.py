"""`plumbing park`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import waiting


@click.command("park")
@common.layout_argument
@common.form_option
def command(layout: str, form: str) -> None:
    """Leave LAYOUT standing with fuel: siphons, levels, leaks to the engine, heat, vents."""
    loaded = api.load(layout)
    with waiting("Parking in every attitude"):
        found = api.park(loaded)
    if form == "json":
        from plumbing.report.ground_json import park_json

        click.echo(park_json(found))
        return
    from plumbing.report.park_text import park_text

    common.show(partial(park_text, loaded, found))
