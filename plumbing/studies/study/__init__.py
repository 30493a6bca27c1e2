"""Studies: many variants of one layout, numbered, computed anywhere, written to one table."""

from plumbing.studies.study.file import load_study
from plumbing.studies.study.identity import digest_of, files_named
from plumbing.studies.study.journal import Journal
from plumbing.studies.study.plan import Plan, plan_of
from plumbing.studies.study.result import Studied
from plumbing.studies.study.run import run

__all__ = ["Journal", "Plan", "Studied", "digest_of", "files_named", "load_study", "plan_of", "run"]
