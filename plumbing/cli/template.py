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
    type=common.Written(".pdf", ".svg", ".dxf", ".stl"),
    help="File to write; its ending chooses PDF, SVG, DXF or STL.",
)
def command(layout: str, former: str | None, whole: bool, output: str, force: bool) -> None:
    """Draw the formers of LAYOUT at full size: outline, holes, centres, datum.

    A PDF holds all formers, over sheets of A4 to be glued at their crosses. SVG and DXF hold one
    former a file; with several, its name is added to the file's. Print at 100 %, without fitting
    to the page, and measure both bars of 100 mm before drilling.

    STL holds guide blocks to be printed, one passage a file: tape a block on the template with
    its notches on the centre lines and the cut corner up and to the right, and its bore leads the
    drill along the tube.
    """
    loaded, target = api.load(layout), Path(output)
    form, left = target.suffix.lower().lstrip("."), tuple[str, ...]()
    if form == "stl":
        files, left = api.jigs(loaded, former)
    else:
        files = api.templates(loaded, form, former, whole)
    made: dict[api.AnyPath, bytes] = {
        target.with_name(f"{target.stem}-{name}{target.suffix}") if len(files) > 1 else target: one
        for name, one in files.items()
    }
    api.Door(api.read_for(loaded), force).write(made)
    for path in made:
        common.tell(f"Wrote {path}.")
    for words in left:
        common.tell(words)
