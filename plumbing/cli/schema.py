"""`plumbing schema`."""

import click

from plumbing import api
from plumbing.api.knowledge import SCHEMAS, SchemaOf


@click.command("schema")
@click.option(
    "--of",
    type=click.Choice(list(SCHEMAS)),
    default="layout",
    show_default=True,
    metavar="NAME",
    help=f"The layout file, or the JSON that a command prints: {', '.join(SCHEMAS)}.",
)
def command(of: SchemaOf) -> None:
    """Print the JSON Schema of the layout file, for editors, or of a result, for programs."""
    import json

    click.echo(json.dumps(api.schema(of), indent=2, ensure_ascii=False))
