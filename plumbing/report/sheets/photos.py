"""Photos with their captions, and what is signed at each stage with the photos that show it."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.layout.pictures import kind_of
from plumbing.model.layout import Layout
from plumbing.report.words import listed
from plumbing.stage import STAGES

_MIME = {"png": "image/png", "jpg": "image/jpeg"}
_SIGNED = {
    "drawing": "Drawn as it is to be built; every finding mended, or accepted with a reason.",
    "built": "Built as drawn; tank bays and lines seen open; changes written down.",
    "bench-tested": "Every card carries readings, and each meets its limit.",
    "flown": "First runs and flights recorded; timer set from the measured burn.",
}


@frozen
class Shown:
    """A photo as a paper shows it.

    Attributes
    ----------
    caption : str
        Part, what is to be seen, day and name.
    kind : str
        `png` or `jpg`.
    content : bytes
        Its file.
    """

    caption: str
    kind: str
    content: bytes

    @property
    def mime(self) -> str:
        """Kind of content, as browsers call it."""
        return _MIME[self.kind]


@frozen
class SignOff:
    """A stage to be signed.

    Attributes
    ----------
    stage : str
        The stage.
    words : str
        What a signature says.
    photos : str
        Names of the photos that show it, or empty.
    """

    stage: str
    words: str
    photos: str


def photos_of(layout: Layout) -> tuple[Shown, ...]:
    """Photos of a layout with their captions, in the order of their names."""
    found = []
    for photo in layout.photos.values():
        said = ": ".join(filter(None, (photo.part, photo.words or photo.name)))
        noted = listed([one for one in (photo.on, photo.by) if one], "by")
        caption = f"{said} ({noted})" if noted else said
        found.append(Shown(caption, kind_of(photo.content), photo.content))
    return tuple(found)


def sign_offs(layout: Layout) -> tuple[SignOff, ...]:
    """What is signed at each stage."""
    return tuple(
        SignOff(
            stage,
            _SIGNED[stage],
            listed([name for name, photo in layout.photos.items() if photo.stage == stage]),
        )
        for stage in STAGES
    )
