"""What a layout could come to, with everything it leaves out anywhere in its range."""

from plumbing.studies.bands.bands import bands
from plumbing.studies.bands.laid import laid
from plumbing.studies.bands.result import Band, Bands

__all__ = ["Band", "Bands", "bands", "laid"]
