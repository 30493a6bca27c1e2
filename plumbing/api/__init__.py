"""The verbs: each one short enough to show the whole way from file to result.

Floors are imported inside the verbs, so that a verb costs only what it uses.
"""

from plumbing.api.building import (
    followed,
    remedies,
    schedules,
    size,
    templates,
    with_remedy,
    with_tubes,
)
from plumbing.api.door import AnyPath, Door, make_folder, rewrite
from plumbing.api.examining import (
    check,
    draw,
    drawn_as,
    faults,
    fill,
    fly,
    park,
    save_drawing,
    tilt,
)
from plumbing.api.files import load, names_in, read_for, upgraded
from plumbing.api.knowledge import explain, look_up, names, schema
from plumbing.api.many import spread, study
from plumbing.api.papers import asbuilt, bench_form, bench_lines, compare, report
from plumbing.api.record import empty_logbook, log, logbook, logbook_path, logbook_plot
from plumbing.api.shapes import jigs, solids
from plumbing.api.starting import shortened, start, starter

__all__ = [
    "AnyPath",
    "Door",
    "asbuilt",
    "bench_form",
    "bench_lines",
    "check",
    "compare",
    "draw",
    "drawn_as",
    "empty_logbook",
    "explain",
    "faults",
    "fill",
    "fly",
    "followed",
    "jigs",
    "load",
    "log",
    "logbook",
    "logbook_path",
    "logbook_plot",
    "look_up",
    "make_folder",
    "names",
    "names_in",
    "park",
    "read_for",
    "remedies",
    "report",
    "rewrite",
    "save_drawing",
    "schedules",
    "schema",
    "shortened",
    "size",
    "solids",
    "spread",
    "start",
    "starter",
    "study",
    "templates",
    "tilt",
    "upgraded",
    "with_remedy",
    "with_tubes",
]
