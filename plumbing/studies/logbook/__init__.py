"""What the logbook tells: burn, timer and reserve as measured, drift, what is due."""

from plumbing.studies.logbook.burn import Burn
from plumbing.studies.logbook.logged import Logged, logged
from plumbing.studies.logbook.trends import Trend
from plumbing.studies.logbook.upkeep import Due, Job, jobs

__all__ = ["Burn", "Due", "Job", "Logged", "Trend", "jobs", "logged"]
