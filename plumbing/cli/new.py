"""`plumbing new`."""

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import starters


@click.command("new")
@click.argument("starter", required=False, shell_complete=starters)
@click.option(
    "-o",
    "--output",
    type=common.Written(".yaml", ".yml"),
    help="File to write; default the screen.",
)
@common.force_option
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
    written = api.start(output, text, force=force)
    common.tell(f"Wrote {' and '.join(written)}. Next: plumbing check {output}")
