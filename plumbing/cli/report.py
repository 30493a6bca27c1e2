"""`plumbing report`."""

from datetime import date
from pathlib import Path

import click

from plumbing import api
from plumbing.cli import common
from plumbing.errors import UsageError

_FORMS = {".html": "html", ".htm": "html", ".pdf": "pdf"}


@click.command("report")
@common.layout_argument
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(dir_okay=False),
    help="File to write; its ending chooses HTML or PDF.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="Paper of the PDF.",
)
@click.option("--date", "day", help="Date to write on it; default today.")
@common.plain_errors
def command(layout: str, output: str, paper: str, day: str | None) -> None:
    """Write the whole report of LAYOUT as one file.

    HTML: findings linked to the drawings, the flight moment by moment, curves and tables.
    PDF: the dossier for the bench, the flight line and the inspector.
    """
    form = _FORMS.get(Path(output).suffix.lower())
    if form is None:
        raise UsageError(f"`{Path(output).name}` must end in .html or .pdf")
    made = api.report(layout, form, paper, today() if day is None else day)
    api.write_whole(output, made)
    click.echo(f"Wrote {output}.", err=True)


def today() -> str:
    """Today as a reader writes it."""
    now = date.today()
    return f"{now.day} {now:%B %Y}"
