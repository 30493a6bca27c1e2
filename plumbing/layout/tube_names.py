"""Tubes by the words on the roll: which of the catalogue's are meant by `PU 4 x 6 mm`."""

import re
from collections.abc import Iterable

from plumbing.errors import nearest
from plumbing.physics.materials import SPELLINGS

_PAIR = re.compile(r"(\d+(?:[.,]\d+)?)\s*([x*/])\s*(\d+(?:[.,]\d+)?)")
_LABELS = re.compile(r"\b(?:mm|od|id|inch|in|outside|inside|tube|tubing|hose)\b|[(),:\"]")
_MM = re.compile(r"(?<=\d) ?mm\b")
_BY_LABELS = re.compile(r"\bod (\S+) id (\S+)")
_LIKE = 0.8  # how alike a material's name must be to be the one that was meant
_LONGEST = 60


def meant(word: str, known: Iterable[str]) -> list[str]:
    """Known tubes of the size and the material that are written, whatever their order.

    Parameters
    ----------
    word : str
        As written.
    known : iterable of str
        Names of tubes, such as `polyurethane 6x4`.

    Returns
    -------
    list of str
        Those of the size, or without a size those of the material; none where neither is said.
        Where no material is said, or one that nothing is made of, those of every material.
    """
    words, plain = list(known), _plain(word)
    size = _PAIR.search(plain)
    said = " ".join(_LABELS.sub(" ", _PAIR.sub(" ", plain)).split())
    material = nearest(SPELLINGS.get(said, said), {_material(one) for one in words}, _LIKE)
    if size is None and material is None:
        return []
    return [
        one
        for one in words
        if (material is None or _material(one) == material)
        and (size is None or _sizes(_PAIR.search(one)) == _sizes(size))
    ]


def inner_first(word: str) -> bool:
    """Whether the smaller of two diameters is written first."""
    size = _PAIR.search(_plain(word))
    return size is not None and size[2] == "x" and _number(size[1]) < _number(size[3])


def _plain(word: str) -> str:
    plain = _MM.sub("", word[:_LONGEST].casefold().replace("×", "x").replace("*", "x"))
    return _BY_LABELS.sub(r"\1x\2", plain)


def _material(name: str) -> str:
    return name.split()[0].casefold()


def _sizes(found: re.Match[str] | None) -> tuple[float, float] | None:
    """Both diameters, the smaller first."""
    if found is None:
        return None
    one, other = _number(found[1]), _number(found[3])
    return min(one, other), max(one, other)


def _number(text: str) -> float:
    return float(text.replace(",", "."))
