"""`plumbing faults`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout
from plumbing.cli.waiting import end, waiting


@click.command("faults")
@common.layout_argument
@click.option(
    "--flight",
    shell_complete=InLayout("flights"),
    help="Name of a flight in the layout; default its first.",
)
@common.form_option
def command(layout: str, flight: str | None, form: str) -> None:
    """Fly LAYOUT with one thing wrong at a time: what stops, when, and how it is noticed."""
    loaded = api.load(layout)
    with waiting("Flying every single fault") as watch:
        found = api.faults(loaded, flight)
    if form == "json":
        from plumbing.report.ground_json import faults_json

        click.echo(faults_json(found))
    else:
        from plumbing.report.faults_text import faults_text

        common.show(partial(faults_text, loaded, found))
    end(watch)
