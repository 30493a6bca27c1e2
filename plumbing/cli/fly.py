"""`plumbing fly`."""

from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout
from plumbing.cli.waiting import waiting


@click.command("fly")
@common.layout_argument
@click.option(
    "--flight",
    shell_complete=InLayout("flights"),
    help="Name of a flight in the layout; default its first.",
)
@click.option(
    "--log", type=click.Path(dir_okay=False), help="Fly a flight recorded as CSV instead."
)
@common.form_option
@click.option("--csv", type=common.Written(".csv"), help="Write the history as CSV.")
@click.option(
    "-o",
    "--output",
    type=common.Written(".svg", ".png", ".pdf"),
    help="Draw the history; the ending chooses SVG, PNG or PDF.",
)
@click.option(
    "--until-empty", is_flag=True, help="History until the engines stop, for --csv and -o."
)
@click.option(
    "--no-slugs", is_flag=True, help="Air is at the engine as soon as it leaves the tank."
)
@click.option("--slosh", is_flag=True, help="Surfaces swing after the force felt on board.")
@common.force_option
def command(
    layout: str,
    flight: str | None,
    log: str | None,
    form: str,
    csv: str | None,
    output: str | None,
    until_empty: bool,
    no_slugs: bool,
    slosh: bool,
    force: bool,
) -> None:
    """Fly LAYOUT: fuel in every tank, air, feed order, endurance, timer and balance."""
    loaded = api.load(layout)
    door = api.Door((*api.read_for(loaded), *([log] if log else [])), force)
    for path in filter(None, (csv, output)):
        door.ask(path)
    with waiting("Flying"):
        flown = api.fly(loaded, flight, log, slugs=not no_slugs, slosh=slosh)
    made: dict[api.AnyPath, bytes] = {}
    if csv is not None:
        from plumbing.report.fly_json import history_csv

        history = flown.dry_run if until_empty else flown.history
        made[csv] = history_csv(flown, history).encode()
    if output is not None:
        from plumbing.drawing.flight_plot import flight_plot

        made[output] = api.drawn_as(output, flight_plot(loaded, flown, until_empty))
    door.write(made)
    if form == "json":
        from plumbing.report.fly_json import fly_json

        click.echo(fly_json(flown))
        return
    from plumbing.report.fly_text import fly_text

    common.show(partial(fly_text, loaded, flown))
