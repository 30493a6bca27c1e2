"""The verbs: each one short enough to show the whole way from file to result.

Floors are imported inside the verbs, so that a verb costs only what it uses.
"""

from plumbing.api.building import remedies, schedules, size, templates, with_tubes
from plumbing.api.examining import check, draw, faults, fill, fly, park, save_drawing, tilt
from plumbing.api.files import digest_of, load, make_folder, write_whole
from plumbing.api.knowledge import explain, schema, starter
from plumbing.api.many import spread, study
from plumbing.api.papers import asbuilt, report

__all__ = [
    "asbuilt",
    "check",
    "digest_of",
    "draw",
    "explain",
    "faults",
    "fill",
    "fly",
    "load",
    "make_folder",
    "park",
    "remedies",
    "report",
    "save_drawing",
    "schedules",
    "schema",
    "size",
    "spread",
    "starter",
    "study",
    "templates",
    "tilt",
    "with_tubes",
    "write_whole",
]
