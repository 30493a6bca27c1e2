"""Names the shell offers for an argument: of the program, or of the layout on the command line."""

from collections.abc import Iterable
from itertools import chain

import click

from plumbing import api


def known_names(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    """What `plumbing explain` can be asked."""
    return beginning(api.names(), incomplete)


def checks(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    """Checks by name."""
    from plumbing.checks.registry import checks as all_checks

    return beginning((one.name for one in all_checks()), incomplete)


def starters(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    """Starters that `plumbing new` writes."""
    from plumbing.layout import STARTERS

    return beginning(STARTERS, incomplete)


def tubes(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
    """Tubes of the catalogue."""
    from plumbing.layout.catalogue import catalogue

    return beginning(catalogue(), incomplete)


class InLayout:
    """Names that sections of the layout on the command line hold.

    Attributes
    ----------
    sections : tuple of str
        Keys of the layout file, such as `tanks`.
    """

    def __init__(self, *sections: str) -> None:
        self.sections = sections

    def __call__(self, ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[str]:
        """Names that begin with what is typed; none without a layout that can be read."""
        # Behind an option still without its value, the library has not named the arguments yet.
        layout = ctx.params.get("layout") or next(iter(ctx.args), None)
        found = (api.names_in(layout, one) for one in self.sections if layout)
        return beginning(chain.from_iterable(found), incomplete)


def beginning(names: Iterable[str], incomplete: str) -> list[str]:
    """Names that begin with what is typed, whatever its capitals."""
    typed = incomplete.casefold()
    return [name for name in names if name.casefold().startswith(typed)]
