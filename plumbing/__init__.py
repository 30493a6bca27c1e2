"""Design checker for the fuel systems of large model aircraft flown on small turbines.

The front door: what the command line does, for Python.
"""

from plumbing.api import (
    check,
    draw,
    explain,
    faults,
    fill,
    fly,
    load,
    park,
    schema,
    starter,
    tilt,
)

__all__ = [
    "check",
    "draw",
    "explain",
    "faults",
    "fill",
    "fly",
    "load",
    "park",
    "schema",
    "starter",
    "tilt",
]
