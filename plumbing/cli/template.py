"""`plumbing template`."""

from pathlib import Path

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import InLayout


@click.command("template")
@common.layout_argument
@common.force_option
@click.option(
    "--former",
    shell_complete=InLayout("formers"),
    help="One former only; default all.",
)
@click.option(
    "--whole", is_flag=True, help="PDF pages of each former's own size, not sheets of A4."
)
@click.option(
    "-o",
    "--output",
    required=True,
    type=common.Written(".pdf", ".svg", ".dxf"),
    help="File to write; its ending chooses PDF, SVG or DXF.",
)
def command(layout: str, former: str | None, whole: bool, output: str, force: bool) -> None:
    """Draw the formers of LAYOUT at full size: outline, holes, centres, datum.

    A PDF holds all formers, over sheets of A4 to be glued at their crosses. SVG and DXF hold one
    former a file; with several, its name is added to the file's. Print at 100 %, without fitting
    to the page, and measure both bars of 100 mm before drilling.
    """
    loaded, target = api.load(layout), Path(output)
    files = api.templates(loaded, target.suffix.lower().lstrip("."), former, whole)
    made: dict[api.AnyPath, bytes] = {
        target.with_name(f"{target.stem}-{name}{target.suffix}") if len(files) > 1 else target: one
        for name, one in files.items()
    }
    api.Door(api.read_for(loaded), force).write(made)
    for path in made:
        common.tell(f"Wrote {path}.")
