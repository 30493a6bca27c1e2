"""`plumbing explain`."""

import click

from plumbing import api
from plumbing.cli import common
from plumbing.cli.names import known_names


@click.command("explain")
@click.argument("name", nargs=-1, shell_complete=known_names)
def command(name: tuple[str, ...]) -> None:
    """Explain NAME: a check, a list, or anything a layout file can name.

    A check tells why it matters, its limit and source, a bad and a good example. Lists are tubes,
    materials, fittings, fuels, engines, outlets, starters, units, kinds, usual and keys. Any
    other word lists what has it: `polyurethane`, `6x4`, `vent`. Without NAME: list all checks.
    """
    from plumbing.layout.known import known
    from plumbing.report.explain import all_checks_text, check_page
    from plumbing.report.lists import answer_page, list_page

    word, width = " ".join(name), common.width()
    if not name or word == "checks":
        click.echo(all_checks_text(width=width))
    elif word in known():
        click.echo(list_page(word, width=width))
    else:
        found = api.look_up(word)
        own = [check for check in found.checks if check.name == word]
        if own:
            click.echo(check_page(own[0], width=width))
        else:
            click.echo(answer_page(word, found.named, found.checks, found.alike, width))
