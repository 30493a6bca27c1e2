"""`plumbing logbook`."""

import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from typing import get_args, get_type_hints

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout
from plumbing.model.layout import PART_SECTIONS
from plumbing.model.logbook import Entry, Happened
from plumbing.results import NotComputed

_APART = ("date", "kind", "place", "places")  # of a row, what has no option of its own here


def _row_options(command: Callable[..., None]) -> Callable[..., None]:
    """An option for every value of a row."""
    hints = get_type_hints(Entry, include_extras=True)
    for name in reversed([name for name in hints if name not in _APART]):
        words = next(one for one in get_args(hints[name])[1:] if isinstance(one, str))
        parts = InLayout(*PART_SECTIONS) if name == "part" else None
        option = click.option(
            f"--{name.replace('_', '-')}", help=f"Of the row: {words}.", shell_complete=parts
        )
        command = option(command)
    return command


@click.command("logbook")
@common.layout_argument
@click.option(
    "--add", type=click.Choice(get_args(Happened)), help="Put a row to the logbook, and stop."
)
@click.option("--date", "day", help="Day of the row, else the day for what is due; default today.")
@_row_options
@click.option(
    "--write-form", type=common.Written(".csv"), help="Write an empty logbook as CSV, and stop."
)
@common.form_option
@click.option(
    "-o",
    "--output",
    type=common.Written(".svg", ".png", ".pdf"),
    help="Draw flow and drift; the ending chooses SVG, PNG or PDF.",
)
@common.force_option
def command(
    layout: str,
    add: str | None,
    day: str | None,
    write_form: str | None,
    form: str,
    output: str | None,
    force: bool,
    **row: str | None,
) -> None:
    """Keep the logbook of LAYOUT: what each flight and test read, and what follows.

    It is a CSV file beside LAYOUT, mine.logbook.csv for mine.yaml. Mean burn corrects timer and
    reserve; effort of the pump and air in the header are watched for drift; upkeep falls due by
    months, hours and litres. Exit code 1: something is beyond its limit or overdue.
    """
    said = {name.replace("_", "-"): text for name, text in row.items() if text is not None}
    if said and add is None:
        raise click.UsageError(f"`--{next(iter(said))}` is part of a row; say what it is by --add")
    loaded = api.load(layout)
    door = api.Door(api.read_for(loaded), force)
    if write_form is not None:
        door.write({write_form: api.empty_logbook().encode()})
        common.tell(f"Wrote {write_form}.")
        return
    if add is not None:
        entry = api.log(loaded, {"kind": add, **said, **({"date": day} if day else {})})
        common.tell(f"Wrote line {entry.place.line} of {api.logbook_path(loaded)}.")
        return
    if output is not None:
        door.ask(output)
    found = api.logbook(loaded, _day(day))
    if output is not None:
        door.write({output: api.drawn_as(output, api.logbook_plot(found))})
    if form == "json":
        from plumbing.report.logbook_json import logbook_json

        click.echo(logbook_json(loaded, found))
    else:
        from plumbing.report.logbook_text import logbook_text

        common.show(partial(logbook_text, loaded, found))
    if not isinstance(found, NotComputed) and found.findings:
        sys.exit(common.FINDINGS)


def _day(text: str | None) -> date:
    """Day for what is due."""
    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise click.UsageError(f"`{text}` is not a day such as 2026-05-01") from None
