"""`plumbing upgrade`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("upgrade")
@common.layout_argument
@click.option("--apply", is_flag=True, help="Write LAYOUT, after showing the diff.")
def command(layout: str, apply: bool) -> None:
    """Show LAYOUT of format 1 as a file of format 2, with every comment and blank as it was.

    A yes becomes `done`, a no `open`. Put date and name to what was done, and say at which
    `stage:` the aircraft is: without it, it is taken to be a drawing.
    """
    common.apply(layout, *api.upgraded(layout), "in format 2", write=apply)
