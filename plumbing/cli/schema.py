"""`plumbing schema`."""

from typing import Literal

import click

from plumbing import api
from plumbing.cli import common


@click.command("schema")
@click.option(
    "--of",
    type=click.Choice(["layout", "check", "flight"]),
    default="layout",
    show_default=True,
    help="The layout file, or the JSON that check or fly prints.",
)
@common.plain_errors
def command(of: Literal["layout", "check", "flight"]) -> None:
    """Print the JSON Schema of the layout file, for editors, or of a result, for programs."""
    import json

    click.echo(json.dumps(api.schema(of), indent=2, ensure_ascii=False))
