"""What several commands share: arguments, options, and what goes to the screen."""

import difflib
import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from plumbing.report.words import listed, safe, shown

FINDINGS = 1
STOPPED = 130  # as every shell has it for Ctrl-C

layout_argument = click.argument("layout", type=click.Path(dir_okay=False))
form_option = click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="Form of output."
)
force_option = click.option(
    "--force",
    is_flag=True,
    help="Replace also a file that this program did not write: one that is neither empty, nor "
    "bears its mark, nor is a table (CSV) with the same first row. An input is never replaced.",
)


class Written(click.Path):
    """Path of a file to be written, with one of some endings; a pipe or device has any."""

    def __init__(self, *endings: str) -> None:
        super().__init__(dir_okay=False)
        self.endings = endings

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Refuse another ending."""
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        no_file = path.exists() and not path.is_file()
        if not no_file and path.suffix.lower() not in self.endings:
            self.fail(f"`{path.name}` must end in {listed(self.endings, 'or')}", param, ctx)
        return str(path)


def tell(words: str) -> None:
    """Say something on the error stream, with nothing in it that a terminal would obey."""
    click.echo(safe(words), err=True)


def show(write: Callable[[int, bool], str]) -> None:
    """Print what is written for so many columns, and in colour or not, as the terminal has it."""
    colour = colour_wanted()
    click.echo(write(width(), colour), color=colour)


def apply(path: str, before: str, after: str, done: str, write: bool = True) -> None:
    """Show how a file's text is to change, and write it unless it is only to be shown."""
    from plumbing import api

    if before == after:
        click.echo("\nThe file says so already.")
        return
    rows = difflib.unified_diff(
        before.splitlines(), after.splitlines(), path, f"{path} {done}", n=0, lineterm=""
    )
    click.echo()
    for row in rows:
        click.echo(shown(row))
    if not write:
        return
    api.rewrite(path, before, after)
    tell(f"Wrote {path}.")


def colour_wanted() -> bool:
    """Colour only on a terminal and when NO_COLOR is not set."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def width() -> int:
    """Columns of the terminal, 80 elsewhere."""
    return min(shutil.get_terminal_size((80, 24)).columns, 100) if sys.stdout.isatty() else 80
