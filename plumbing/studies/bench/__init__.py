"""Predicted bench tests, compared with what was measured on the built aircraft."""

from plumbing.studies.bench.asbuilt import Compared, compare
from plumbing.studies.bench.moved import Moved
from plumbing.studies.bench.predictions import predict
from plumbing.studies.bench.readings import readings
from plumbing.studies.bench.values import Mark, Marks, Prediction, Predictions, Reading

__all__ = [
    "Compared",
    "Mark",
    "Marks",
    "Moved",
    "Prediction",
    "Predictions",
    "Reading",
    "compare",
    "predict",
    "readings",
]
