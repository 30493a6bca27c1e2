"""`plumbing asbuilt`."""

import sys

import click

from plumbing import api
from plumbing.cli import common


@click.command("asbuilt")
@common.layout_argument
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)
@click.option("--csv", type=click.Path(dir_okay=False), help="Write the comparison as CSV.")
@common.plain_errors
def command(layout: str, form: str, csv: str | None) -> None:
    """Compare what was measured on the built aircraft with what LAYOUT foretells.

    Values stand under `measured:` in the file. Exit code 0: none outside its band; 1: some
    outside; 2: bad input.
    """
    from plumbing.report import asbuilt

    loaded = api.load(layout)
    compared = api.asbuilt(loaded)
    if csv is not None:
        api.write_whole(csv, asbuilt.asbuilt_csv(compared).encode())
    if form == "json":
        click.echo(asbuilt.asbuilt_json(loaded, compared))
    else:
        colour = common.colour_wanted()
        text = asbuilt.asbuilt_text(loaded, compared, common.width(), colour)
        click.echo(text, color=colour)
    if any(one.verdict in ("above", "below") for one in compared):
        sys.exit(common.FINDINGS)
