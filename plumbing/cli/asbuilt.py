"""`plumbing asbuilt`."""

import sys
from functools import partial

import click

from plumbing import api
from plumbing.cli import common
from plumbing.errors import UsageError


@click.command("asbuilt")
@common.layout_argument
@common.form_option
@click.option(
    "--write-form",
    type=common.Written(".csv"),
    help="Write an empty form of all bench readings as CSV, and stop.",
)
@click.option(
    "--readings",
    type=click.Path(dir_okay=False),
    help="Such a form, filled in: judge its readings too.",
)
@click.option(
    "--lines",
    is_flag=True,
    help="Print the readings of the form as lines for LAYOUT, with what they prove, and stop.",
)
@click.option("--csv", type=common.Written(".csv"), help="Write the comparison as CSV.")
@common.force_option
def command(
    layout: str,
    form: str,
    write_form: str | None,
    readings: str | None,
    lines: bool,
    csv: str | None,
    force: bool,
) -> None:
    """Compare what was measured on the built aircraft with what LAYOUT predicts.

    Values stand under `measured:` in the file, or in a form. Each is held to its predicted band
    and to the limit of its rule; one that passed, dated and signed, is evidence for a statement.
    Exit code 0: all inside and within; 1: some are not; 2: bad input.
    """
    from plumbing.report import asbuilt

    loaded = api.load(layout)
    inputs = (*api.read_for(loaded), *((readings,) if readings else ()))
    door = api.Door(inputs, force)
    if write_form is not None:
        door.ask(write_form)
        door.write({write_form: api.bench_form(loaded).encode()})
        common.tell(f"Wrote {write_form}.")
        return
    if lines:
        if readings is None:
            raise UsageError("--lines needs the form that was filled in: --readings bench.csv")
        click.echo(api.bench_lines(loaded, readings))
        return
    compared = api.asbuilt(loaded, readings)
    if csv is not None:
        door.write({csv: asbuilt.asbuilt_csv(compared).encode()})
    if form == "json":
        click.echo(asbuilt.asbuilt_json(loaded, compared))
    else:
        common.show(partial(asbuilt.asbuilt_text, loaded, compared))
    if any(one.fails for one in compared):
        sys.exit(common.FINDINGS)
