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
@click.option("--brief", is_flag=True, help="Findings only: no tables, no assumptions.")
def command(layout: str, form: str, fail_on: str, brief: bool) -> None:
    """Check LAYOUT: what is wrong, where, by how much and by whose rule.

    Exit code 0: all judged, nothing at or above the chosen severity; 1: findings, or a result
    (such as peak flow, the flight, filling or parking) that could not be computed; 2: bad input.
    """
    with waiting("Checking") as watch:
        examined = api.check(layout)
    if form == "json":
        from plumbing.report.as_json import check_json

        click.echo(check_json(examined))
    else:
        from plumbing.report.text import check_text

        common.show(partial(check_text, examined, brief=brief))
    end(watch)
    if fail_on != "never" and not examined.verdict.passes(Severity(fail_on)):
        sys.exit(common.FINDINGS)
