"""Quantities read: text with a unit to SI floats.

What is not among the spellings of `units.KINDS` is put to the units library, so that every unit
it knows is accepted when its dimension fits.
"""

import math
import re
from functools import cache
from typing import Any

from plumbing.units import KINDS, Kind

_NUMBER = re.compile(r"^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?)\s*(.*?)\s*$")
_CLOCK = re.compile(r"\s*(\d+) ?min (\d+) ?s\s*")  # as reports say times
_COMMA = re.compile(r"\s*[-+]?\d+,\d+(?![\d,])")
_MAX_TEXT = 60
_LONGEST_UNIT = 30
_WORD = r"[A-Za-zµ°]+(?:(?:\*\*|\^)?-?[1-4])?"  # one small exponent: towers of powers never end
_FOREIGN = re.compile(rf"{_WORD}(?: ?[*/ ] ?{_WORD}){{0,3}}")


class UnitError(ValueError):
    """A text is not a quantity of the kind asked for; the message says what was expected."""


def parse(text: str, kind: str) -> float:
    """Read a quantity as a builder would write it.

    Parameters
    ----------
    text : str
        Number and unit, e.g. `6 mm`.
    kind : str
        Key of `KINDS`.

    Returns
    -------
    float
        SI value (degrees Celsius for temperatures, per second for flows, radians for angles).

    Raises
    ------
    UnitError
        The text is not a quantity of this kind.
    """
    wanted = KINDS[kind]
    if len(text) > _MAX_TEXT:
        raise UnitError(f"a text of {len(text)} characters; expected {_form(wanted)}")
    match = _NUMBER.match(text)
    if _COMMA.match(text):
        pointed = text.strip().replace(",", ".", 1)
        raise UnitError(f"`{text}` with a decimal comma; expected a decimal point: `{pointed}`")
    if match is None:
        raise UnitError(f"`{text}`; expected {_form(wanted)}")
    number, unit = float(match[1]), match[2]
    parts = _CLOCK.fullmatch(text) if kind == "time" else None
    if parts is not None:
        value = float(parts[1]) * 60.0 + float(parts[2])
    elif unit in wanted.units:
        factor, offset = wanted.units[unit]
        value = number * factor + offset
    elif not unit:
        raise UnitError(f"`{text}` without a unit; expected {_form(wanted)}")
    else:
        value = _ask_library(number, unit, wanted, text)
    if not math.isfinite(value):
        raise UnitError(f"`{text}`, which is not a finite number; expected {_form(wanted)}")
    return value


def _form(kind: Kind) -> str:
    return f"{kind.name} such as `{kind.example}`"


def _ask_library(number: float, unit: str, kind: Kind, text: str) -> float:
    other = next((k for k in KINDS.values() if unit in k.units), None)
    if other is not None:
        raise UnitError(f"`{text}`, which is {other.name}; expected {_form(kind)}")
    if not _FOREIGN.fullmatch(unit) or len(unit) > _LONGEST_UNIT or not kind.si:
        raise UnitError(f"`{text}` with an unknown unit `{unit}`; expected {_form(kind)}")
    import pint  # slow to import, and needed only for unusual units

    try:
        if _root(unit) != _root(kind.si):  # an angle is no mere number
            raise ValueError
        converted = _registry().Quantity(number, unit).to(kind.si)
    except (
        pint.errors.PintError,
        TypeError,
        ValueError,
        AttributeError,
        ArithmeticError,
        AssertionError,  # of the library, at a product of logarithmic units
    ):
        message = f"`{text}` with a unit that does not fit, `{unit}`; expected {_form(kind)}"
        raise UnitError(message) from None
    return float(converted.magnitude)


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def _root(unit: str) -> Any:
    """Units that a unit is made of in the end, angles among them."""
    return _registry().get_root_units(unit)[1]
