"""Photos named in a layout: read from its folder, each fault at its place."""

from __future__ import annotations

from dataclasses import replace

from plumbing.layout import nearby
from plumbing.layout.content import content_of
from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.pictures import MOST_BYTES, MOST_PIXELS, PictureError, kind_of
from plumbing.layout.stated import stated
from plumbing.model.layout import Layout
from plumbing.model.photo import Photo

ENDINGS = (".jpg", ".jpeg", ".png")
MOST = 60
MOST_TOGETHER = 60_000_000  # bytes: they all stand in one page
_EXPECTED = (
    f"a whole PNG or JPEG file (grey or colour) of at most {MOST_BYTES // 1_000_000} MB and "
    f"{MOST_PIXELS // 1_000_000} million pixels"
)


def check(layout: Layout, folder: str, faults: Faults) -> Layout:
    """Read the photos of a layout.

    Parameters
    ----------
    layout : Layout
        The layout as written.
    folder : str
        Folder of the layout file.
    faults : Faults
        Receives files that are not there, are no pictures, or are too many.

    Returns
    -------
    Layout
        The layout with the content of its photos, those of its statements among them.
    """
    named = {**layout.photos, **_of_statements(layout)}
    if len(named) > MOST:
        faults.add(layout.place_of("photos"), f"{len(named)} photos", f"at most {MOST}")
        return layout
    read = {name: _read(photo, folder, faults) for name, photo in named.items()}
    together = sum(len(photo.content) for photo in read.values())
    if together > MOST_TOGETHER:
        found = f"photos of {together / 1e6:.0f} MB together"
        faults.add(layout.place_of("photos"), found, f"at most {MOST_TOGETHER // 1_000_000} MB")
    return replace(layout, photos=read)


def _of_statements(layout: Layout) -> dict[str, Photo]:
    """Photos that statements name as their evidence, by the key path of the statement."""
    return {
        path: Photo(
            name=path,
            file=one.photo,
            words=f"{path}, {one.words}",
            stage=one.due,
            place=one.place,
        )
        for path, one in stated(layout).items()
        if one.photo
    }


def _read(photo: Photo, folder: str, faults: Faults) -> Photo:
    place = photo.place_of("file")
    path = nearby.path_of(photo.file, folder, ENDINGS, place, faults)
    if path is None:
        return photo
    try:
        content = content_of(path, MOST_BYTES)
        kind_of(content)
    except PictureError as fault:
        faults.add(place, f"{quoted(photo.file)}, {fault}", _EXPECTED)
        return photo
    except OSError as refused:
        reason = (refused.strerror or "not a path").lower()
        faults.add(place, f"{quoted(photo.file)}, which cannot be read: {reason}", _EXPECTED)
        return photo
    return replace(photo, content=content)
