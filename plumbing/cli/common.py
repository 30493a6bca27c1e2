"""What several commands share: the layout argument, faults to the screen, exit codes."""

import contextlib
import functools
import os
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import click

from plumbing.errors import LayoutError, PlumbingError

BAD_INPUT = 2
FINDINGS = 1
OUR_OWN_FAULT = 70  # as sysexits.h has it for an error in the program
STOPPED = 130  # as every shell has it for Ctrl-C
TRACE = "PLUMBING_TRACE"  # environment variable: set, the trace of an error of ours is shown
_MOST_FAULTS = 40
_PATIENCE = 1.0  # what takes longer than this shows that it runs [s]

layout_argument = click.argument("layout", type=click.Path(dir_okay=False))
form_option = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)


def plain_errors(command: Callable[..., Any]) -> Callable[..., Any]:
    """Turn exceptions into a message and an exit code: users never see a traceback."""

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
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except Exception as error:
            if os.environ.get(TRACE):
                raise
            _show_own_fault(error)
            sys.exit(OUR_OWN_FAULT)
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


def _show_own_fault(error: Exception) -> None:
    last = traceback.extract_tb(error.__traceback__)[-1]
    words = " ".join(f"{type(error).__name__}: {error}".split())
    click.echo(
        f"plumbing: an error of the program itself, not of your file: {words}\n"
        f"    at        {Path(last.filename).name}:{last.lineno}\n"
        f"    please    report it with the layout; {TRACE}=1 shows the whole trace",
        err=True,
    )


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
