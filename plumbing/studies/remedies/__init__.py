"""Remedies tried on copies of a layout: what each clears, spoils and costs."""

from plumbing.studies.remedies.proposal import Proposal
from plumbing.studies.remedies.trial import Ask, Judged, Outcome, compared, proposed, trials

__all__ = ["Ask", "Judged", "Outcome", "Proposal", "compared", "proposed", "trials"]
