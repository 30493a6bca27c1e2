"""`plumbing remedy`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import checks
from plumbing.cli.waiting import waiting
from plumbing.errors import UsageError


@click.command("remedy")
@common.layout_argument
@click.argument("which", required=False, shell_complete=checks)
@click.option(
    "--apply", is_flag=True, help="Write a remedy into LAYOUT, after showing the diff; check again."
)
@click.option("--take", type=click.IntRange(min=1), help="Remedy to write, if not the first.")
def command(layout: str, which: str | None, apply: bool, take: int | None) -> None:
    """Try remedies on copies of LAYOUT: what each clears, spoils and costs.

    With WHICH: only for the cause of that number in `plumbing check`, or for a check by its name.
    Each is followed through the whole check; those that bring nothing new come first.
    """
    from plumbing.report.remedy_text import remedy_text
    from plumbing.report.subject import Subject
    from plumbing.report.text import check_text

    if (apply or take) and which is None:
        raise UsageError("--apply needs the number of a cause, as in `plumbing remedy LAYOUT 1`")
    if take and not apply:
        raise UsageError("--take goes with --apply")
    with waiting("Trying remedies"):
        found = api.remedies(layout, int(which) if which and which.isdecimal() else which)
    common.show(partial(remedy_text, found))
    if apply:
        common.apply(layout, *api.with_remedy(found, take), "as mended")
        click.echo("\nBefore:\n")
        common.show(partial(check_text, Subject(found.examined)))
        click.echo("\nAfter:\n")
        common.show(partial(check_text, Subject(api.check(layout))))
