"""Design checker for the fuel systems of large model aircraft flown on small turbines.

The front door: what the command line does, for Python. A verb is loaded when it is first used.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from plumbing.api import (
        asbuilt,
        bench_form,
        check,
        compare,
        draw,
        explain,
        faults,
        fill,
        fly,
        jigs,
        load,
        log,
        logbook,
        park,
        remedies,
        save_drawing,
        schedules,
        schema,
        size,
        solids,
        spread,
        starter,
        study,
        templates,
        tilt,
    )

__all__ = [
    "asbuilt",
    "bench_form",
    "check",
    "compare",
    "draw",
    "explain",
    "faults",
    "fill",
    "fly",
    "jigs",
    "load",
    "log",
    "logbook",
    "park",
    "remedies",
    "save_drawing",
    "schedules",
    "schema",
    "size",
    "solids",
    "spread",
    "starter",
    "study",
    "templates",
    "tilt",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from plumbing import api

    return getattr(api, name)


def __dir__() -> list[str]:
    return __all__
