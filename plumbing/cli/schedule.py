"""`plumbing schedule`."""

from functools import partial
from pathlib import Path

import click

from plumbing import api
from plumbing.cli import common

_WHAT = ("lines", "cuts", "fittings", "tanks", "passages")


@click.command("schedule")
@common.layout_argument
@click.option("--what", type=click.Choice(_WHAT), help="One schedule only; default all.")
@click.option("--stock", help="Stock length of tube for the cut list, such as `2 m`.")
@click.option(
    "-o",
    "--output",
    type=click.Path(),
    help="A .csv file for one schedule, or a folder for a file each.",
)
@common.plain_errors
def command(layout: str, what: str | None, stock: str | None, output: str | None) -> None:
    """List the lines, cuts, fittings, tanks and passages of LAYOUT."""
    from plumbing.report.schedules import to_csv, to_text

    tables = api.schedules(layout, what, stock)
    if output is None:
        common.show(partial(to_text, tables))
    elif Path(output).suffix.lower() == ".csv":
        api.write_whole(output, "\n".join(to_csv(table) for table in tables).encode())
        click.echo(f"Wrote {output}.", err=True)
    else:
        api.make_folder(output)
        for table in tables:
            api.write_whole(Path(output) / f"{table.name}.csv", to_csv(table).encode())
        click.echo(f"Wrote {len(tables)} files to {output}.", err=True)
