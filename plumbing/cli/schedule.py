"""`plumbing schedule`."""

from functools import partial
from pathlib import Path

import click

from plumbing import api
from plumbing.cli import common
from plumbing.errors import UsageError

_WHAT = ("lines", "cuts", "fittings", "tanks", "passages")


@click.command("schedule")
@common.layout_argument
@click.option("--what", type=click.Choice(_WHAT), help="One schedule only; default all.")
@click.option("--stock", help="Stock length of tube for the cut list, such as `2 m`.")
@click.option(
    "-o",
    "--output",
    type=click.Path(),
    help="A .csv file, or a folder for a file each.",
)
@common.force_option
def command(
    layout: str, what: str | None, stock: str | None, output: str | None, force: bool
) -> None:
    """List the lines, cuts, fittings, tanks and passages of LAYOUT."""
    from plumbing.report.schedules import to_csv, to_text

    loaded = api.load(layout)
    tables, door = api.schedules(loaded, what, stock), api.Door(api.read_for(loaded), force)
    if output is None:
        common.show(partial(to_text, tables))
    elif Path(output).suffix.lower() == ".csv":
        door.write({output: "\n".join(to_csv(table) for table in tables).encode()})
        common.tell(f"Wrote {output}.")
    elif Path(output).suffix and not Path(output).is_dir():
        raise UsageError(f"`{Path(output).name}` must end in .csv, or be a folder without ending")
    else:
        api.make_folder(output)
        folder = Path(output)
        door.write({folder / f"{table.name}.csv": to_csv(table).encode() for table in tables})
        common.tell(f"Wrote {len(tables)} files to {output}.")
