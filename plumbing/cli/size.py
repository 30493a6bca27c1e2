"""`plumbing size`."""

import difflib
import sys
from functools import partial
from typing import TYPE_CHECKING, Literal

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import showing
from plumbing.errors import UsageError

if TYPE_CHECKING:
    from plumbing.studies.sizing import Sizing


@click.command("size")
@common.layout_argument
@click.option(
    "--prefer",
    type=click.Choice(["light", "few"]),
    default="light",
    show_default=True,
    help="Least mass, or the fewest different tubes.",
)
@click.option(
    "--new-joints", is_flag=True, help="Take barbs to be bought with the tubes, made for them."
)
@click.option("--apply", is_flag=True, help="Write the tubes into LAYOUT, after showing the diff.")
def command(layout: str, prefer: Literal["light", "few"], new_joints: bool, apply: bool) -> None:
    """Choose the tube of every suction and vent line of LAYOUT at once.

    Tubes come from the catalogue and the file. They fit joints, passages and bends, stand
    kerosene and heat, and keep the suction limits at every temperature and load. Exit code 1
    where no choice does.
    """
    from plumbing.report.size_text import size_text

    if apply and new_joints:
        raise UsageError("--apply writes tubes only; with --new-joints the joints change as well")
    loaded = api.load(layout)
    with showing("Sizing"):
        sizing = api.size(loaded, prefer, new_joints)
    common.show(partial(size_text, loaded, sizing))
    if sizing.blocked:
        sys.exit(common.FINDINGS)
    if apply:
        _apply(layout, sizing)


def _apply(path: str, sizing: "Sizing") -> None:
    from plumbing.report.words import shown

    before, after = api.with_tubes(sizing)
    if before == after:
        click.echo("\nThe file has these tubes already.")
        return
    rows = difflib.unified_diff(
        before.splitlines(), after.splitlines(), path, f"{path} as sized", n=0, lineterm=""
    )
    click.echo()
    for row in rows:
        click.echo(shown(row))
    api.rewrite(path, before, after)
    common.tell(f"Wrote {path}.")
