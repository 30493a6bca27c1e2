"""`plumbing report`."""

from datetime import date

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import end, waiting


@click.command("report")
@common.layout_argument
@common.force_option
@click.option(
    "-o",
    "--output",
    required=True,
    type=common.Written(".html", ".htm", ".pdf"),
    help="File to write; its ending chooses HTML or PDF.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="Paper of the PDF.",
)
@click.option(
    "--since",
    type=click.Path(dir_okay=False),
    help="Earlier layout file: tell what changed since, and what is to be tested again.",
)
@click.option("--date", "day", help="Date to write on it; default today.")
def command(
    layout: str, output: str, paper: str, since: str | None, day: str | None, force: bool
) -> None:
    """Write the whole report of LAYOUT as one file.

    HTML: findings linked to the drawings, the flight moment by moment, curves and tables.
    PDF: the dossier for the bench, the flight line and the inspector.
    """
    loaded = api.load(layout)
    before = None if since is None else api.load(since)
    inputs = [path for one in (loaded, before) if one for path in api.read_for(one)]
    door = api.Door(tuple(inputs), force)
    door.ask(output)
    form = "pdf" if output.lower().endswith(".pdf") else "html"
    with waiting("Reporting") as watch:
        made = api.report(loaded, form, paper, today() if day is None else day, before)
    door.write({output: made})
    common.tell(f"Wrote {output}.")
    end(watch)


def today() -> str:
    """Today as a reader writes it."""
    now = date.today()
    return f"{now.day} {now:%B %Y}"
