"""`plumbing template`."""

import re
from pathlib import Path

import click

from plumbing import api
from plumbing.cli import common


@click.command("template")
@common.layout_argument
@click.option("--former", help="One former only; default all.")
@click.option(
    "--whole", is_flag=True, help="PDF pages of each former's own size, not sheets of A4."
)
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(dir_okay=False),
    help="File to write; its ending chooses PDF, SVG or DXF.",
)
@common.plain_errors
def command(layout: str, former: str | None, whole: bool, output: str) -> None:
    """Draw the formers of LAYOUT at full size: outline, holes, centres, datum.

    A PDF holds all formers, over sheets of A4 to be glued at their crosses. SVG and DXF hold one
    former a file; with several, its name is added to the file's. Print at 100 %, without fitting
    to the page, and measure both bars of 100 mm before drilling.
    """
    target = Path(output)
    files = api.templates(layout, target.suffix.lower().lstrip("."), former, whole)
    for name, content in files.items():
        path = target.with_name(f"{target.stem}-{_plain(name)}{target.suffix}")
        path = path if len(files) > 1 else target
        api.write_whole(path, content)
        click.echo(f"Wrote {path}.", err=True)


def _plain(name: str) -> str:
    """A former's name as part of a file's name."""
    return re.sub(r"[^\w-]+", "_", name)[:60]
