"""`plumbing measure`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting


@click.command("measure")
@common.layout_argument
@common.form_option
def command(layout: str, form: str) -> None:
    """List what to measure of LAYOUT, that first which decides most, as a form to fill in.

    What a file does not say is taken as usual, with a band. Here is how much of the band of a
    result each value makes, and which open questions it closes.
    """
    from plumbing.report.measure_text import measure_json, measure_text
    from plumbing.report.subject import Subject

    with waiting("Weighing") as watch:
        subject = Subject(api.check(layout))
    if form == "json":
        click.echo(measure_json(subject))
    else:
        common.show(partial(measure_text, subject))
    end(watch)
