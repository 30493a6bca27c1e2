"""`plumbing check`."""

import sys
from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting
from plumbing.findings import Severity


@click.command("check")
@common.layout_argument
@common.form_option
@click.option(
    "--fail-on",
    type=click.Choice([*(one.value for one in Severity), "never"]),
    default="fault",
    help="Exit with 1 from this severity upwards.",
    show_default=True,
)
@click.option("--full", is_flag=True, help="Every finding with its reason, tables, assumptions.")
def command(layout: str, form: str, fail_on: str, full: bool) -> None:
    """Check LAYOUT: what is to be mended, the worst first, and what follows from it.

    With --full: what is wrong, where, by how much and by whose rule, and the tables it rests on.

    Exit code 0: all judged, nothing at or above the chosen severity; 1: findings, or a result
    (such as peak flow, the flight, filling or parking) that could not be computed; 2: bad input.
    """
    with waiting("Checking") as watch:
        examined = api.check(layout)
    if form == "json":
        from plumbing.report.as_json import check_json

        click.echo(check_json(examined))
    else:
        from plumbing.report.subject import Subject
        from plumbing.report.text import check_text

        common.show(partial(check_text, Subject(examined), full=full))
    end(watch)
    if fail_on != "never" and not examined.verdict.passes(Severity(fail_on)):
        sys.exit(common.FINDINGS)
