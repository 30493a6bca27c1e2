"""Where all the fuel went, and how fast it may be filled, in a line each."""

from __future__ import annotations

from plumbing.simulation.books import Books
from plumbing.simulation.filling_result import SafeFlow
from plumbing.units import show

_DROP = 5e-8  # less than half a tenth of a millilitre is not told [m3]


def books_line(books: Books) -> str:
    """On board and pushed in, against left, taken, leaked and lost by outlet, in ml."""
    came = [_ml(books.start, "on board")] if books.start > _DROP or not books.pushed_in else []
    came += [_ml(books.pushed_in, "pushed in")] if books.pushed_in > _DROP else []
    went = [_ml(sum(books.left.values()), "left")]
    went += [_ml(books.taken, "taken out")] if books.taken > _DROP else []
    went += [
        _ml(one, f"out of {outlet}")
        for outlet, one in books.lost_overboard.items()
        if abs(one) > _DROP
    ]
    return f"{' + '.join(came)} = {' + '.join(went)}."


def safe_flow_words(safe: SafeFlow) -> str:
    """The highest safe filling flow and the tank that decides."""
    if safe.highest is None:
        return f"not known, {safe.why_not}"
    return f"{show(safe.highest, 'flow', 5)}{f', for {safe.tank}' if safe.tank else ' or more'}"


def _ml(volume: float, words: str) -> str:
    return f"{1e6 * volume:.1f} ml {words}"
