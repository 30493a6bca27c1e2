"""`plumbing fly`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common


@click.command("fly")
@common.layout_argument
@click.option("--flight", help="Name of a flight in the layout; default its first.")
@click.option(
    "--log", type=click.Path(dir_okay=False), help="Fly a flight recorded as CSV instead."
)
@common.form_option
@click.option("--csv", type=click.Path(dir_okay=False), help="Write the history as CSV.")
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False),
    help="Draw the history; the ending chooses SVG, PNG or PDF.",
)
@click.option("--dry-run", is_flag=True, help="History until the engines stop, for --csv and -o.")
@common.plain_errors
def command(
    layout: str,
    flight: str | None,
    log: str | None,
    form: str,
    csv: str | None,
    output: str | None,
    dry_run: bool,
) -> None:
    """Fly LAYOUT: fuel in every tank, air, feed order, endurance, timer and balance."""
    loaded = api.load(layout)
    flown = api.fly(loaded, flight, log)
    if csv is not None:
        from plumbing.report.fly_json import history_csv

        history = flown.dry_run if dry_run else flown.history
        api.write_whole(csv, history_csv(flown, history).encode())
    if output is not None:
        from plumbing.drawing.flight_plot import flight_plot

        api.save_drawing(flight_plot(loaded, flown, dry_run), output)
    if form == "json":
        from plumbing.report.fly_json import fly_json

        click.echo(fly_json(flown))
        return
    from plumbing.report.fly_text import fly_text

    common.show(partial(fly_text, loaded, flown))
