"""`plumbing spread`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting


@click.command("spread")
@common.layout_argument
@click.option("--samples", type=int, default=512, show_default=True, help="Samples, 64 to 16384.")
@click.option(
    "--seed",
    type=click.IntRange(0, 2**32 - 1),
    default=1,
    show_default=True,
    help="The same seed gives the same answer.",
)
@click.option(
    "--error",
    type=float,
    help="Standard error of every chance in percent, 0.4 or more: samples are doubled until then.",
)
@click.option("--sobol", is_flag=True, help="Sobol indices as well; takes about six times as long.")
@common.form_option
def command(
    layout: str, samples: int, seed: int, error: float | None, sobol: bool, form: str
) -> None:
    """Run peak flow and the flight of LAYOUT over its tolerances.

    Bore, pore, viscosity, engine flow, tank position, cut length and fuel temperature vary within
    the tolerances of the file, or the usual ones. What comes out is the chance of each finding
    that a number decides, how far suction, endurance and fuel left behind spread, and why.
    """
    from plumbing.report.spread_text import spread_json, spread_text

    loaded = api.load(layout)
    with waiting("Spreading") as watch:
        share = None if error is None else error / 100.0
        found = api.spread(loaded, samples, seed, share, sobol)
    if form == "json":
        click.echo(spread_json(loaded, found))
    else:
        common.show(partial(spread_text, loaded, found))
    end(watch)
