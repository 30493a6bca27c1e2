"""Everything that is read on the bench: what is predicted, what must be met, each once."""

from __future__ import annotations

from collections.abc import Iterable

from plumbing.studies.bench.values import Marks, Prediction, Predictions, Reading


def readings(predictions: Predictions, marks: Marks) -> tuple[Reading, ...]:
    """Readings with their prediction and their mark.

    Parameters
    ----------
    predictions, marks
        What was computed, and the marks of the same layout.

    Returns
    -------
    tuple of Reading
        First those with a prediction, then those that only a limit decides.
    """
    predicted = [_reading(one, marks) for one in _each_once(predictions.values)]
    named = {(one.what, one.part) for one in predicted}
    limited = (
        Reading(mark.what, mark.part, "", mark.how, None, mark)
        for mark in marks.all
        if mark.how and (mark.what, mark.part) not in named
    )
    return (*predicted, *limited)


def _reading(one: Prediction, marks: Marks) -> Reading:
    return Reading(
        one.what, one.part, one.state, one.how, one.figure, marks.find(one.what, one.part)
    )


def _each_once(values: Iterable[Prediction]) -> Iterable[Prediction]:
    """The same reading in several attitudes or through several ports counts at its largest."""
    largest: dict[tuple[str, str, str], Prediction] = {}
    for one in values:
        key = (one.what, one.part, one.state)
        if key not in largest or one.figure.value > largest[key].figure.value:
            largest[key] = one
    return largest.values()
