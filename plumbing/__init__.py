"""Design checker for the fuel systems of large model aircraft flown on small turbines.

The front door: what the command line does, for Python.
"""

from plumbing.api import (
    asbuilt,
    check,
    draw,
    explain,
    faults,
    fill,
    fly,
    load,
    park,
    remedies,
    save_drawing,
    schedules,
    schema,
    size,
    spread,
    starter,
    study,
    templates,
    tilt,
)

__all__ = [
    "asbuilt",
    "check",
    "draw",
    "explain",
    "faults",
    "fill",
    "fly",
    "load",
    "park",
    "remedies",
    "save_drawing",
    "schedules",
    "schema",
    "size",
    "spread",
    "starter",
    "study",
    "templates",
    "tilt",
]
