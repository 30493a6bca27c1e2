"""Photos that belong to a layout: what was seen, where, when and by whom."""

from dataclasses import field
from typing import Annotated

from plumbing.frozen import frozen
from plumbing.model.base import Named
from plumbing.model.fields import Refers
from plumbing.stage import Stage


@frozen(kw_only=True)
class Photo(Named):
    """A photo for the dossier and the page."""

    file: Annotated[str, "name of the PNG or JPEG file, beside the layout or below its folder"]
    part: Annotated[str | None, Refers("part"), "part that it shows"] = None
    words: Annotated[str | None, "what is to be seen on it"] = None
    stage: Annotated[Stage | None, "stage it is shown for"] = None
    on: Annotated[str | None, "date, as 2026-05-01"] = None
    by: Annotated[str | None, "who took it"] = None
    content: bytes = field(default=b"", compare=False, repr=False)
