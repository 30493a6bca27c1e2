"""`plumbing study`."""

import contextlib
import os
import sys
from collections.abc import Callable, Iterator

import click

from plumbing import api
from plumbing.cli import common
from plumbing.report.words import shown

_MOST_REASONS = 10


@click.command("study")
@click.argument("study", type=click.Path(dir_okay=False))
@click.option(
    "-o",
    "--output",
    type=common.Written(".csv", ".parquet"),
    default="results.csv",
    show_default=True,
    help="Table to write; the ending chooses CSV or Parquet.",
)
@click.option(
    "--workers", type=click.IntRange(1, 1024), help="Processes here; default one for each core."
)
@click.option("--scheduler", help="Compute on the Dask cluster at this address instead.")
@common.force_option
def command(
    study: str, output: str, workers: int | None, scheduler: str | None, force: bool
) -> None:
    """Compute every variant of a layout that STUDY lists, as one table.

    Called again after an interruption, it goes on where it was. docs/study.md says what a
    study file holds.
    """
    try:
        with _bar() as progress:
            done = api.study(study, output, workers, scheduler, progress, force)
    except KeyboardInterrupt:
        if os.path.exists(f"{output}.rows"):
            common.tell(f"Finished cases are kept in {output}.rows: call again to go on.")
        raise
    common.tell(f"Wrote {output}: {done.cases} cases.")
    if done.faulty:
        click.echo(f"{done.faulty} of them lack results:")
    often = sorted(done.reasons.items(), key=lambda pair: (-pair[1], pair[0]))
    for why, count in often[:_MOST_REASONS]:
        click.echo(f"    {count}  {shown(why)}")
    if len(often) > _MOST_REASONS:
        click.echo(f"    and {len(often) - _MOST_REASONS} more reasons; the table has them all")


@contextlib.contextmanager
def _bar() -> Iterator[Callable[[int, int], None] | None]:
    """A bar with the time left, if errors go to a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    columns = ("Cases", BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("cases", total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
