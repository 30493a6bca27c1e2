"""`plumbing size`."""

import sys
from functools import partial
from typing import Literal

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.waiting import showing


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

    loaded = api.load(layout)
    with showing("Sizing"):
        sizing = api.size(loaded, prefer, new_joints)
        outcome = None if sizing.blocked else api.followed(loaded, sizing.layout)
    common.show(partial(size_text, loaded, sizing, outcome))
    if sizing.blocked:
        sys.exit(common.FINDINGS)
    if apply:
        common.apply(layout, *api.with_tubes(loaded, sizing), "as sized")
