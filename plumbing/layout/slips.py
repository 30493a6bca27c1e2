"""Ways builders write a number that a file cannot have, each with what to write instead."""

import re
import unicodedata
from collections.abc import Callable

from plumbing import quantities, units

_LONGEST = 60
_UNITS = {'"': "in"}
_VULGAR = re.compile("[¼-¾⅐-⅞]")  # one sign for a whole fraction
_UNIT = r"[^\W\d_][\w/°%]*"
_SAID_OTHERWISE = {  # words for units that the units library lacks, or takes for something else
    "f": "degF",
    "gr": "g",  # grains to the library
    "grs": "g",
    "kgs": "kg",
    "kilo": "kg",
    "kilos": "kg",
    "lpm": "L/min",
    "yr": "years",
    "yrs": "years",
    "y": "years",
}
_IN_TWO_COUNTRIES = re.compile(r"(?:gal|gals|gallons?|gpm|pt|pints?|qt|quarts?|floz)(?:/min)?")


def _decimal(found: re.Match[str]) -> str:
    whole, over, under, unit = found.groups()
    value = int(whole or 0) + int(over) / int(under)
    return f"decimals: `{value:.6g} {_UNITS.get(unit, unit or 'in')}`"


def _middle(found: re.Match[str]) -> str:
    low, high, unit = float(found[1]), float(found[2]), found[3]
    return f"one value, such as the middle: `{0.5 * (low + high):.6g} {unit}`"


_SLIPS: tuple[tuple[re.Pattern[str], str, Callable[[re.Match[str]], str]], ...] = (
    (
        re.compile(r"\d{4}-\d\d?-\d\d?|\d\d?[./]\d\d?[./]\d{2,4}|[A-Z][a-z]+\.? (?:19|20)\d\d"),
        "a date",
        lambda _: "the time since then, such as `8 months`",
    ),
    (
        re.compile(r"(\d{1,3}):([0-5]\d)(?: ?min)?"),
        "a colon in a time",
        lambda found: f"`{found[1]} min {found[2]} s`",
    ),
    (
        re.compile(r"(\d{1,3}) ?(?:m|min) ?(\d{1,2})(?: ?s)?"),
        "a time in two parts",
        lambda found: f"`{found[1]} min {found[2]} s`",
    ),
    (
        re.compile(r"(?:(\d{1,3})[ -])?(\d{1,4})/([1-9]\d{0,3}) ?([a-z]+|\")?"),
        "a fraction",
        _decimal,
    ),
    (re.compile(r"([\d.]+) ?\""), "a sign for inches", lambda found: f"`{found[1]} in`"),
    (
        re.compile(rf"(\d+\.?\d*)(?: ?{_UNIT})? ?(?:-|–|to|\.\.+) ?(\d+\.?\d*) ?({_UNIT})"),
        "a range",
        _middle,
    ),
    (re.compile(r"[−–—] ?(.+)"), "a dash that is no minus sign", lambda found: f"`-{found[1]}`"),
    (
        re.compile(r"(?:[øØ⌀~≈±]|ca\.?|about|approx\.?) ?([\d.-].*)"),
        "a sign before the number",
        lambda found: f"only `{found[1]}`",
    ),
    (
        re.compile(rf"([-+]?[\d.]+ ?{_UNIT}) ?(?:±|\+/-|\+-) ?.*"),
        "a tolerance",
        lambda found: f"only `{found[1]}`; `tolerances` says how far values may be off",
    ),
    (
        re.compile(rf"([-+]?[\d.]+ ?{_UNIT}) (?:OD|ID|od|id|\(.*\))"),
        "words behind the unit",
        lambda found: f"only `{found[1]}`; put words behind a ` #`",
    ),
)


def slip_in(text: str, kind: str) -> tuple[str, str] | None:
    """What is wrong with a number as written, where it is a usual slip.

    Parameters
    ----------
    text : str
        As written.
    kind : str
        What should stand there: a key of `plumbing.units.KINDS`.

    Returns
    -------
    tuple of (str, str) or None
        What it has that it should not, and what to write instead.
    """
    short = text[: _LONGEST + 1]
    plain = _VULGAR.sub(lambda sign: " " + unicodedata.normalize("NFKC", sign[0]), short)
    plain = plain.strip().replace("⁄", "/").replace("  ", " ")
    for pattern, what, mend in _SLIPS:
        found = pattern.fullmatch(plain)
        if found is not None and not _is_right(short, kind):
            return what, mend(found)
    return _unit_said_otherwise(short, kind)


def _is_right(text: str, kind: str) -> bool:
    """Whether it can be read all the same, such as `5 min 30 s` or `1e-3 m`."""
    try:
        quantities.parse(text, kind)
    except quantities.UnitError:
        return False
    return True


def _unit_said_otherwise(text: str, kind: str) -> tuple[str, str] | None:
    """A unit with other capitals, or another word for it."""
    found = re.fullmatch(rf"([-+]?[\d.]+) ?({_UNIT})", text)
    known = units.KINDS[kind].units
    if found is None or found[2] in known:
        return None
    plain = found[2].casefold()
    capitals = [unit for unit in known if unit.casefold() == plain]
    if _IN_TWO_COUNTRIES.fullmatch(plain):
        return "a unit that is larger in one country than in another", "litres, such as `1.5 L`"
    other = _SAID_OTHERWISE.get(plain, "")
    if len(capitals) == 1:
        return "a unit with other capitals", f"`{found[1]} {capitals[0]}`"
    if other and other in known:
        return "another word for a unit", f"`{found[1]} {other}`"
    return None
