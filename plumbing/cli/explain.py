"""`plumbing explain`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("explain")
@click.argument("check", required=False)
def command(check: str | None) -> None:
    """Explain CHECK: why it matters, its limit and source, a bad and a good example.

    Without CHECK: list all checks.
    """
    from plumbing.report.explain import all_checks_text, check_page

    if check is None:
        click.echo(all_checks_text(width=common.width()))
    else:
        click.echo(check_page(api.explain(check), width=common.width()))
