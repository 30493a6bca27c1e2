"""`plumbing schema`."""

import click

from plumbing import api
from plumbing.cli import common


@click.command("schema")
@common.plain_errors
def command() -> None:
    """Print the JSON Schema of the layout file, for editors."""
    import json

    click.echo(json.dumps(api.schema(), indent=2, ensure_ascii=False))
