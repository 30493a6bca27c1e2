"""Studies: many variants of one layout, numbered, computed anywhere, written to one table."""

from plumbing.studies.study.file import load_study
from plumbing.studies.study.plan import Plan, plan_of
from plumbing.studies.study.run import run

__all__ = ["Plan", "load_study", "plan_of", "run"]
