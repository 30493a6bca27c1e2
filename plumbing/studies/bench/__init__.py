"""Predicted bench tests, compared with what was measured on the built aircraft."""

from plumbing.studies.bench.asbuilt import Compared, compare
from plumbing.studies.bench.predictions import Prediction, Predictions, predict

__all__ = ["Compared", "Prediction", "Predictions", "compare", "predict"]
