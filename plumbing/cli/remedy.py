"""`plumbing remedy`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import waiting


@click.command("remedy")
@common.layout_argument
@click.argument("check", required=False)
def command(layout: str, check: str | None) -> None:
    """Try remedies on copies of LAYOUT: what each clears, spoils and costs.

    With CHECK: only remedies for the findings of that check. LAYOUT itself is not changed.
    """
    from plumbing.report.remedy_text import remedy_text

    with waiting("Trying remedies"):
        found = api.remedies(layout, check)
    common.show(partial(remedy_text, found))
