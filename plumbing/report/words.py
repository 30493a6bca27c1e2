"""The fixed words of every report: cautions, and how numbers and counts are said."""

import math
import re
from collections.abc import Iterable, Sequence

from plumbing import units
from plumbing.findings import Figure, Finding, Severity
from plumbing.results import NotComputed

CAUTION = (
    "Kerosene is combustible and turbine exhaust is hot. Test pressure with liquid or "
    "low-pressure air, and wear eye protection. This is a computed check of a drawing: national "
    "rules and an authorised inspector decide."
)

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
_QUANTITY = re.compile(r"-?[\d.]+(e[-+]?\d+)?( [A-Za-z°%][\w°%/]*)?", re.ASCII)

MEANING = {
    Severity.UNSAFE: "do not put fuel in",
    Severity.FAULT: "fix before drilling or flight",
    Severity.ADVICE: "worth doing",
}


def version() -> str:
    """Version of the program; empty where it is not installed."""
    from importlib.metadata import PackageNotFoundError
    from importlib.metadata import version as of

    try:
        return of("plumbing")
    except PackageNotFoundError:
        return ""


def figure(value: Figure) -> str:
    """Say a figure with its unit and, where it is uncertain, its band."""
    text = units.show(value.value, value.kind)
    if value.low is None or value.high is None or value.low == value.high:
        return text
    low, high = (units.show(bound, value.kind) for bound in (value.low, value.high))
    return text if low == high else f"{text} ({low} to {high})"


def compared(finding: Finding) -> str:
    """Say a measured value and its limit, told apart; empty where there is no number."""
    if finding.measured is None or finding.allowed is None:
        return ""
    value, limit = finding.measured, finding.allowed
    shown, allowed = units.apart(value.value, limit.value, value.kind)
    band = figure(value).partition(" (")
    return f"{shown}{band[1]}{band[2]}, limit {allowed}"


def counted(number: int, one: str, many: str = "") -> str:
    """Say a number with its noun."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def sentence(words: str) -> str:
    """Words with a capital and a full stop."""
    return f"{words[:1].upper()}{words[1:]}."


def reasons(*results: Iterable[NotComputed]) -> dict[str, str]:
    """Why results are missing, by what they are."""
    return {one.what: one.reason for missing in results for one in missing}


def listed(names: Sequence[str], word: str = "and") -> str:
    """Say names in a row: `a`, `a and b`, `a, b and c`."""
    return f" {word} ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))


def shown(text: str) -> str:
    """Make a name safe to print: control and direction characters become a question mark."""
    return "".join(char if char.isprintable() else "?" for char in text)


def harmless(text: str) -> str:
    """Make a text safe as a cell: printable, and no spreadsheet takes it for a formula.

    A number with or without its unit, such as `-10 degC`, stays as it is.
    """
    plain = shown(text)
    formula = plain.lstrip().startswith(_FORMULA) and not _QUANTITY.fullmatch(plain)
    return f"'{plain}" if formula else plain


def opening(node: str) -> str:
    """Name of an opening: the part alone, where it has but one port."""
    return node.removesuffix(".tube")


def safe(text: str) -> str:
    """Make running text safe to print, keeping its line breaks."""
    return "\n".join(shown(line) for line in text.splitlines())


def attitude(pitch: float, roll: float) -> str:
    """An attitude [rad] in words, such as `nose up 8 deg, port down 5 deg`."""
    parts = []
    if pitch:
        parts.append(f"nose {'up' if pitch > 0 else 'down'} {abs(math.degrees(pitch)):.3g} deg")
    if roll:
        side = "starboard" if roll > 0 else "port"
        parts.append(f"{side} down {abs(math.degrees(roll)):.3g} deg")
    return ", ".join(parts) or "level"
