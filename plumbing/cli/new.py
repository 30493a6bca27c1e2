"""`plumbing new`."""

import click

from plumbing import api
from plumbing.cli import asking, common
from plumbing.cli.names import starters, tubes
from plumbing.errors import UsageError

_DEFAULT = "mine.yaml"


@click.command("new")
@click.argument("starter", required=False, shell_complete=starters)
@click.option("--engine", metavar="SIZE", help="Thrust or full flow: `60 N`, `220 ml/min`.")
@click.option(
    "--tank",
    "tanks",
    multiple=True,
    metavar="NAME=SIZE",
    help="Volume or inner sizes: `main=1.5 L`, `main=240x90x70 mm`. Once for every tank.",
)
@click.option(
    "--tube",
    metavar="NAME",
    shell_complete=tubes,
    help="Tube before the pump and of the vents: `polyurethane 6x4`.",
)
@click.option("--short", is_flag=True, help="The short form also where nothing else is said.")
@click.option(
    "-o",
    "--output",
    type=common.Written(".yaml", ".yml"),
    help="File to write; default the screen, or mine.yaml after questions.",
)
@common.force_option
def command(
    starter: str | None,
    engine: str | None,
    tanks: tuple[str, ...],
    tube: str | None,
    short: bool,
    output: str | None,
    force: bool,
) -> None:
    """Write a commented layout file for the topology STARTER.

    With answers (--engine, --tank, --tube) or --short the file has a dozen lines: engine, tanks,
    chains of names, tube. What it leaves out is taken as usual, with a band. Without STARTER: ask
    at a terminal, else list the starters.
    """
    if starter is None:
        if short or engine or tanks or tube:
            raise UsageError("say a STARTER with --engine, --tank, --tube or --short")
        if not asking.at_a_terminal():
            click.echo(_starters())
            return
        output = output or _DEFAULT
        api.Door(force=force).ask(output)  # before the questions, not after them
        made = api.shortened(*asking.asked())
    elif short or engine or tanks or tube:
        made = api.shortened(starter, engine, tanks, tube)
    else:
        _write(api.starter(starter), output, force)
        return
    _write(made.text, output, force)
    if output is not None:
        common.tell("Assumed, and listed at the top of the file:")
        for words in made.assumed:
            common.tell(f"  {words}")


def _starters() -> str:
    from plumbing.layout import STARTERS

    rows = [f"  {name:18}{words}" for name, words in STARTERS.items()]
    return "\n".join(["Starters:", *rows])


def _write(text: str, output: str | None, force: bool) -> None:
    if output is None:
        click.echo(text, nl=False)
        return
    written = api.start(output, text, force=force)
    common.tell(f"Wrote {' and '.join(written)}. Next: plumbing check {output}")
