"""What every value read from the file has: its place, and for named parts a name."""

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType

from plumbing.frozen import frozen
from plumbing.place import NOWHERE, Place


@frozen(kw_only=True)
class Written:
    """A value that remembers where it was written.

    Attributes
    ----------
    place : Place
        Where the value begins.
    places : mapping of str to Place
        Where each of its fields stands, by field name; absent fields are absent.
    """

    place: Place = field(default=NOWHERE, compare=False, repr=False)
    places: Mapping[str, Place] = field(
        default_factory=lambda: MappingProxyType({}), compare=False, repr=False
    )

    def place_of(self, name: str) -> Place:
        """Place of a field, or of the whole value where the field is not written."""
        return self.places.get(name, self.place)


@frozen(kw_only=True)
class Named(Written):
    """A value with a name of its own in the file."""

    name: str = ""
