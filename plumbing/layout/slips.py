"""Ways builders write a number that a file cannot have, each with what to write instead."""

import re
from collections.abc import Callable

_LONGEST = 60
_UNITS = {'"': "in"}


def _decimal(found: re.Match[str]) -> str:
    whole, over, under, unit = found.groups()
    value = int(whole or 0) + int(over) / int(under)
    return f"decimals: `{value:.6g} {_UNITS.get(unit, unit)}`"


_SLIPS: tuple[tuple[re.Pattern[str], str, Callable[[re.Match[str]], str]], ...] = (
    (
        re.compile(r"(?:(\d{1,3}) )?(\d{1,4})/([1-9]\d{0,3}) ?([a-z]+|\")"),
        "a fraction",
        _decimal,
    ),
    (re.compile(r"([\d.]+) ?\""), "a sign for inches", lambda found: f"`{found[1]} in`"),
    (re.compile(r"[−–—] ?(.+)"), "a dash that is no minus sign", lambda found: f"`-{found[1]}`"),
    (re.compile(r"[øØ⌀~≈±] ?(.+)"), "a sign before the number", lambda found: f"only `{found[1]}`"),
)


def slip_in(text: str) -> tuple[str, str] | None:
    """What is wrong with a number as written, where it is a usual slip.

    Returns
    -------
    tuple of (str, str) or None
        What it has that it should not, and what to write instead.
    """
    for pattern, what, mend in _SLIPS:
        found = pattern.fullmatch(text[: _LONGEST + 1])
        if found is not None:
            return what, mend(found)
    return None
