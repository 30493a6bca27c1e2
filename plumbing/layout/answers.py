"""What a builder says of a new aircraft: topology, engine, tanks, tube; every fault in words."""

import re
from collections.abc import Mapping
from dataclasses import field

from plumbing import quantities
from plumbing.errors import UsageError
from plumbing.frozen import frozen
from plumbing.layout import tube_names
from plumbing.layout.catalogue import catalogue
from plumbing.layout.slips import slip_in
from plumbing.model.fields import Vector

_SIZES = re.compile(r"([\d.]+) ?(?:mm)? ?[x×*] ?([\d.]+) ?(?:mm)? ?[x×*] ?([\d.]+) ?mm")
ENGINE_FORM = "thrust such as `60 N`, or flow at full throttle such as `220 ml/min`"
TANK_FORM = "a volume such as `1.5 L`, or inner length x width x height such as `240x90x70 mm`"
TUBE_FORM = "a tube such as `polyurethane 6x4`; `plumbing explain tubes` lists them"
_LARGEST = 0.1  # of a tank [m3]


@frozen(kw_only=True)
class Answers:
    """What was said; what was not is taken from the starter.

    Attributes
    ----------
    starter : str
        Topology: one of `STARTERS`.
    engine : tuple of (str, float) or None
        `thrust` [N] or `full-flow` [m3/s], of every engine.
    tanks : mapping of str to (float or tuple of float)
        Inner volume [m3], or inner length, width and height [m], by the starter's names of tanks.
    tube : str or None
        Tube of all lines before the pump and of the vents, as the catalogue names it.
    """

    starter: str
    engine: tuple[str, float] | None = None
    tanks: Mapping[str, float | Vector] = field(default_factory=dict)
    tube: str | None = None


def engine_said(text: str) -> tuple[str, float]:
    """Read thrust or flow.

    Raises
    ------
    UsageError
        It is neither.
    """
    for key, kind in (("thrust", "force"), ("full-flow", "flow")):
        try:
            value = quantities.parse(text.strip(), kind)
        except quantities.UnitError:
            continue
        if value > 0.0:
            return key, value
    raise UsageError(f"engine `{text}`{_slip(text, 'force', 'flow')}; expected {ENGINE_FORM}")


def tank_said(text: str) -> float | Vector:
    """Read a volume [m3] or three inner sizes [m].

    Raises
    ------
    UsageError
        It is neither, or no tank is of that size.
    """
    sizes = _SIZES.fullmatch(text.strip())
    try:
        if sizes is not None:
            length, width, height = (float(one) * 1e-3 for one in sizes.groups())
            volume, said = length * width * height, (length, width, height)
            found: float | Vector = said
        else:
            found = volume = quantities.parse(text.strip(), "volume")
    except ValueError:
        slip = _slip(text, "volume")
        raise UsageError(f"tank `{text}`{slip}; expected {TANK_FORM}") from None
    if not 0.0 < volume <= _LARGEST:
        raise UsageError(f"tank `{text}`; expected a tank of at most 100 L")
    return found


def tube_said(text: str) -> str:
    """Read a tube's name, however it is written.

    Raises
    ------
    UsageError
        There is none, or several are meant.
    """
    known = sorted(catalogue())
    found = [text] if text in known else tube_names.meant(text, known)
    if len(found) == 1:
        return found[0]
    names = ", ".join(f"`{one}`" for one in found)
    hint = f"which of {names}?" if found else f"expected {TUBE_FORM}"
    raise UsageError(f"tube `{text}`: {hint}")


def _slip(text: str, *kinds: str) -> str:
    """What is wrong with a number, where it is a usual slip."""
    for kind in kinds:
        slip = slip_in(text.strip(), kind)
        if slip is not None:
            return f" with {slip[0]}: {slip[1]}"
    if re.match(r"\s*\d+,\d", text):
        return " with a decimal comma"
    return ""
