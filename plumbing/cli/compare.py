"""`plumbing compare`."""

import sys
from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import waiting
from plumbing.findings import Severity


@click.command("compare")
@click.argument("old", type=click.Path(dir_okay=False))
@click.argument("new", type=click.Path(dir_okay=False))
@common.form_option
def command(old: str, new: str, form: str) -> None:
    """Compare the layout file OLD with NEW: values, findings, and what is to be tested again.

    Exit code 0: nothing new at or above a fault; 1: something; 2: bad input.
    """
    from plumbing.report.comparison import compare_json, compare_text

    with waiting("Checking both"):
        found = api.compare(old, new)
    if form == "json":
        click.echo(compare_json(found))
    else:
        common.show(partial(compare_text, found))
    if any(one.severity is not Severity.ADVICE for one in found.outcome.spoils):
        sys.exit(common.FINDINGS)
