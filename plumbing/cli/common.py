"""What several commands share: the layout argument, faults to the screen, exit codes."""

import contextlib
import functools
import sys
import threading
from collections.abc import Callable, Iterator
from typing import Any

import click

from plumbing.errors import LayoutError, PlumbingError

BAD_INPUT = 2
FINDINGS = 1
STOPPED = 130  # as every shell has it for Ctrl-C
_MOST_FAULTS = 40
_PATIENCE = 1.0  # what takes longer than this shows that it runs [s]

layout_argument = click.argument("layout", type=click.Path(dir_okay=False))
form_option = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)


def plain_errors(command: Callable[..., Any]) -> Callable[..., Any]:
    """Turn our own exceptions into a message and exit code 2: users never see a traceback."""

    @functools.wraps(command)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except LayoutError as error:
            _show_faults(error)
        except PlumbingError as error:
            click.echo(f"plumbing: {error}", err=True)
        except KeyboardInterrupt:
            click.echo("plumbing: stopped", err=True)
            sys.exit(STOPPED)
        sys.exit(BAD_INPUT)

    return guarded


def _show_faults(error: LayoutError) -> None:
    count = len(error.faults)
    word = "fault" if count == 1 else "faults"
    click.echo(f"plumbing: {count} {word} in the file; nothing was computed.", err=True)
    for fault in error.faults[:_MOST_FAULTS]:
        click.echo(f"{fault.place}\n    found     {fault.found}", err=True)
        click.echo(f"    expected  {fault.expected}", err=True)
    if count > _MOST_FAULTS:
        click.echo(f"... and {count - _MOST_FAULTS} more.", err=True)


@contextlib.contextmanager
def progress(what: str) -> Iterator[Callable[[float], None]]:
    """Show how far it is, if it takes over a second and errors go to a terminal.

    Gives a function that is told the share done, 0 to 1; without one the bar only moves.
    """
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console
    from rich.progress import Progress

    bar = Progress(console=Console(stderr=True), transient=True)
    task = bar.add_task(what, total=None)
    timer = threading.Timer(_PATIENCE, bar.start)
    timer.daemon = True
    timer.start()
    try:
        yield lambda share: bar.update(task, total=1.0, completed=share)
    finally:
        timer.cancel()
        bar.stop()


@contextlib.contextmanager
def waiting(what: str) -> Iterator[None]:
    """Show that something is going on, if it takes over a second and errors go to a terminal."""
    with progress(what):
        yield


def show(write: Callable[[int, bool], str]) -> None:
    """Print what is written for so many columns, and in colour or not, as the terminal has it."""
    colour = colour_wanted()
    click.echo(write(width(), colour), color=colour)


def colour_wanted() -> bool:
    """Colour only on a terminal and when NO_COLOR is not set."""
    import os

    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def width() -> int:
    """Columns of the terminal, 80 elsewhere."""
    import shutil

    return min(shutil.get_terminal_size((80, 24)).columns, 100) if sys.stdout.isatty() else 80
