"""Whether the typesetter can decode the photos of a layout: asked before anything is made."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from plumbing.errors import Fault, LayoutError
from plumbing.layout.pictures import kind_of
from plumbing.model.layout import Layout

_SOURCE = '#image("/{}") #metadata(1) <seen>'


def check_photos(layout: Layout) -> None:
    """Decode every photo.

    Raises
    ------
    LayoutError
        Some cannot be decoded: each with its place.
    """
    if not layout.photos:
        return
    import typst  # loads the typesetter; only photos need it here

    faults = []
    with TemporaryDirectory() as place:
        main = Path(place, "main.typ")
        for photo in layout.photos.values():
            name = f"photo.{kind_of(photo.content)}"
            Path(place, name).write_bytes(photo.content)
            main.write_text(_SOURCE.format(name), "utf-8")
            try:
                typst.query(str(main), "<seen>", root=place)
            except RuntimeError:
                found = f"`{photo.file}`, which is damaged and cannot be decoded"
                expected = "a PNG or JPEG file that opens; save it anew from a picture viewer"
                faults.append(Fault(photo.place_of("file"), found, expected))
    if faults:
        raise LayoutError(tuple(faults))
