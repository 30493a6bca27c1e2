"""`plumbing study`."""

import contextlib
import sys
from collections.abc import Callable, Iterator

import click

from plumbing import api
from plumbing.cli import common


@click.command("study")
@click.argument("study", type=click.Path(dir_okay=False))
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False),
    default="results.csv",
    show_default=True,
    help="Table to write; the ending chooses CSV or Parquet.",
)
@click.option(
    "--workers", type=click.IntRange(1, 1024), help="Processes here; default one for each core."
)
@click.option("--scheduler", help="Compute on the Dask cluster at this address instead.")
@common.plain_errors
def command(study: str, output: str, workers: int | None, scheduler: str | None) -> None:
    """Compute every variant of a layout that STUDY lists, as one table.

    Called again after an interruption, it goes on where it was. docs/study.md says what a
    study file holds.
    """
    with _bar() as progress:
        done = api.study(study, output, workers, scheduler, progress)
    refused = [row for row in done if row.fault]
    click.echo(f"Wrote {output}: {len(done)} cases.", err=True)
    if refused:
        click.echo(f"{len(refused)} of them are no layout, such as case {refused[0].number}:")
        click.echo(f"    {''.join(c if c.isprintable() else '?' for c in refused[0].fault)}")


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
