"""Schedules: plain tables of lines, cuts, fittings, tanks and passages."""

from plumbing.report.schedules.kinds import KINDS, schedules
from plumbing.report.schedules.table import Column, Table
from plumbing.report.schedules.written import to_csv, to_text

__all__ = ["KINDS", "Column", "Table", "schedules", "to_csv", "to_text"]
