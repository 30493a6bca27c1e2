"""The dossier: everything the bench, the flight line and the inspector want, typeset as PDF."""

from plumbing.report.dossier.typeset import dossier

__all__ = ["dossier"]
