"""`plumbing new`."""

import click

from plumbing import api
from plumbing.cli import common
from plumbing.errors import UsageError


@click.command("new")
@click.argument("starter", required=False)
@click.option(
    "-o", "--output", type=click.Path(dir_okay=False), help="File to write; default the screen."
)
@click.option("--force", is_flag=True, help="Write over an existing file.")
@common.plain_errors
def command(starter: str | None, output: str | None, force: bool) -> None:
    """Write a commented layout file for the topology STARTER.

    Without STARTER: list the starters.
    """
    if starter is None:
        from plumbing.layout import STARTERS

        rows = [f"  {name:18}{words}" for name, words in STARTERS.items()]
        click.echo("\n".join(["Starters:", *rows]))
        return
    text = api.starter(starter)
    if output is None:
        click.echo(text, nl=False)
        return
    from pathlib import Path

    if Path(output).exists() and not force:
        raise UsageError(f"`{output}` exists; add --force to write over it")
    api.write_whole(output, text.encode())
    click.echo(f"Wrote {output}. Next: plumbing check {output}", err=True)
