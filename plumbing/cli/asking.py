"""Questions at the terminal for a new layout file."""

import sys
from collections.abc import Callable, Iterator
from typing import Any

import click

from plumbing.errors import UsageError


def at_a_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty()


def asked() -> tuple[str, str | None, list[str], str | None]:
    """Ask for topology, engine, tanks and tube, as `api.shortened` takes them.

    An answer that cannot be read is asked for again; an empty one is not said.
    """
    from plumbing.layout import STARTERS, answers

    names = list(STARTERS)
    for number, (name, words) in enumerate(STARTERS.items(), 1):
        click.echo(f"  {number}  {name:18}{words}", err=True)
    name = _ask("Topology, by number or name", lambda text: _starter(text, names))
    click.echo("Press Enter where you do not know: what the starter has is assumed.", err=True)
    engine = _maybe(f"Engine: {answers.ENGINE_FORM}", answers.engine_said)
    tanks = list(_tanks(name))
    return name, engine, tanks, _maybe(f"Tube: {answers.TUBE_FORM}", answers.tube_said)


def _tanks(name: str) -> Iterator[str]:
    """Answers for the tanks; of two that are alike in the starter the second is as the first."""
    from plumbing import units
    from plumbing.layout.answers import TANK_FORM, tank_said
    from plumbing.layout.shortened import tanks_of

    before: dict[str, str | None] = {}
    for tank, volume in tanks_of(name).items():
        shown = units.show(volume, "volume")
        alike = before.get(shown)
        hint = f"Enter: {alike}, as the one before" if alike else f"{shown} in the starter"
        size = _maybe(f"Tank {tank} ({hint}): {TANK_FORM}", tank_said) or alike
        before[shown] = size
        if size is not None:
            yield f"{tank}={size}"


def _starter(text: str, names: list[str]) -> str:
    if text.isdigit() and 0 < int(text) <= len(names):
        return names[int(text) - 1]
    if text in names:
        return text
    raise UsageError(f"`{text}`; expected a number from 1 to {len(names)} or a name")


def _maybe(words: str, read: Callable[[str], Any]) -> str | None:
    """Answer as typed, once it can be read; None where nothing is said."""

    def as_typed(text: str) -> str:
        if text.strip():
            read(text)
        return text.strip()

    return _ask(words, as_typed, default="") or None


def _ask(words: str, read: Callable[[str], str], default: str | None = None) -> str:
    def again(text: str) -> str:
        try:
            return read(text)
        except UsageError as refused:
            raise click.UsageError(str(refused)) from None

    answer: str = click.prompt(
        words, default=default, show_default=False, value_proc=again, err=True
    )
    return answer
