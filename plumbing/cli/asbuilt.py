"""`plumbing asbuilt`."""

import sys
from functools import partial

import click

from plumbing import api
from plumbing.cli import common


@click.command("asbuilt")
@common.layout_argument
@common.form_option
@click.option("--csv", type=common.Written(".csv"), help="Write the comparison as CSV.")
@common.force_option
def command(layout: str, form: str, csv: str | None, force: bool) -> None:
    """Compare what was measured on the built aircraft with what LAYOUT predicts.

    Values stand under `measured:` in the file. Exit code 0: none outside its band; 1: some
    outside; 2: bad input.
    """
    from plumbing.report import asbuilt

    loaded = api.load(layout)
    compared = api.asbuilt(loaded)
    if csv is not None:
        door = api.Door(api.read_for(loaded), force)
        door.write({csv: asbuilt.asbuilt_csv(compared).encode()})
    if form == "json":
        click.echo(asbuilt.asbuilt_json(loaded, compared))
    else:
        common.show(partial(asbuilt.asbuilt_text, loaded, compared))
    if any(one.verdict in ("above", "below") for one in compared):
        sys.exit(common.FINDINGS)
