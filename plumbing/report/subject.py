"""What a report is about: an examined layout, its file's digest, and the day it was made."""

from __future__ import annotations

import contextlib
import datetime
from pathlib import PurePath
from typing import TYPE_CHECKING

from plumbing.checks.examined import Examined
from plumbing.findings import Severity
from plumbing.frozen import frozen
from plumbing.report.words import MEANING, counted, listed, shown
from plumbing.results import NotComputed, known
from plumbing.stage import STAGES, Due, Stage, reached
from plumbing.studies.logbook import Logged

if TYPE_CHECKING:
    from collections.abc import Mapping

    from plumbing.physics.arrays import Array
    from plumbing.report.comparison import Comparison

_DAYS = ("%Y-%m-%d", "%d %B %Y")
NO_LOGBOOK = NotComputed("logbook", "it was not asked for")


@frozen(eq=False)
class Subject:
    """An examined layout as a report needs it.

    Attributes
    ----------
    examined : Examined
        The layout with results and verdict.
    date : str
        Day of the report, or empty.
    since : Comparison or None
        What changed since an earlier state of the layout, where there is one.
    logbook : Logged or NotComputed
        What the logbook beside the file tells.
    """

    examined: Examined
    date: str = ""
    since: Comparison | None = None
    logbook: Logged | NotComputed = NO_LOGBOOK

    @property
    def file(self) -> str:
        """Name of the layout file without its folders."""
        return shown(PurePath(self.examined.case.layout.place.file).name)

    @property
    def digest(self) -> str:
        """SHA-256 of the layout file in hexadecimal; empty where there is no file."""
        return self.examined.case.layout.digest

    @property
    def day(self) -> datetime.date | None:
        """Day of the report, where its words name one."""
        return day_of(self.date)

    @property
    def worst(self) -> Severity | None:
        """Severity of the worst finding."""
        findings = self.examined.findings
        return findings[0].severity if findings else None

    @property
    def mark(self) -> str:
        """What the verdict is marked as; what was not judged is no better than a fault."""
        if self.examined.verdict.not_judged and self.worst is not Severity.UNSAFE:
            return str(Severity.FAULT)
        return str(self.worst or "clear")

    def verdict(self) -> str:
        """The verdict in one line, such as `do not put fuel in`."""
        worst = self.worst
        missing = ", ".join(one.what for one in self.examined.verdict.not_judged)
        if missing and worst is not Severity.UNSAFE:
            return f"not judged: {missing}"
        if worst is None:
            return f"no findings at stage {self.examined.verdict.stage}"
        if worst is Severity.ADVICE:
            return f"nothing unsafe, no faults at stage {self.examined.verdict.stage}"
        return MEANING[worst]

    def open(self) -> dict[Stage, tuple[Due, ...]]:
        """Statements that do not hold, each once, by the stage at which they are due."""
        each = {one.statement: one for one in self.examined.verdict.open}.values()
        return {stage: tuple(one for one in each if one.stage == stage) for stage in STAGES[1:]}

    def due(self) -> str:
        """How many statements are due at which later stage, in words; empty where none is."""
        now = self.examined.verdict.stage
        later = [(stage, found) for stage, found in self.open().items() if not reached(now, stage)]
        said = [f"{len(found)} when {stage}" for stage, found in later if found]
        return f"due: {listed(said)}" if said else ""

    def counts(self) -> list[tuple[Severity, int]]:
        """Causes by severity, worst first."""
        causes = self.examined.causes
        return [(one, sum(cause.severity is one for cause in causes)) for one in Severity]

    def taken_on(self) -> list[str]:
        """What was accepted, changed, and logged beyond a limit: it stands on every front page."""
        verdict = self.examined.verdict
        accepted = [f"accepted: {one.words}" for one in verdict.accepted]
        limits = (f"limit changed: {one.words}" for one in verdict.limits)
        drifted = [] if isinstance(self.logbook, NotComputed) else self.logbook.findings
        return [*accepted, *limits, *(f"logbook: {one.what}" for one in drifted)]

    def lacking(self) -> dict[str, list[str]]:
        """What each unchecked check lacks, or why what it needs was not computed; each once."""
        found: dict[str, list[str]] = {}
        for one in self.examined.verdict.unchecked:
            words = f"{one.words} ({one.part})" if one.part and not one.why else one.words
            missing = found.setdefault(one.check, [])
            if words not in missing:
                missing.append(words)
        return found

    def assumed(self) -> dict[str, list[tuple[str, str]]]:
        """Assumed values as (what, value), by source."""
        found: dict[str, list[tuple[str, str]]] = {}
        for one in self.examined.case.assumptions:
            found.setdefault(one.source, []).append((one.what, one.value))
        return found

    def reserve_surfaces(self) -> Mapping[str, tuple[Array, ...]]:
        """Outlines of the surfaces in every tank at landing reserve; none without a flight."""
        flight = self.examined.case.flight
        return flight.surfaces_at_reserve if known(flight) else {}

    def summary(self) -> str:
        """Things to mend by severity, what follows; checks clear, unchecked and due later."""
        verdict, causes = self.examined.verdict, self.examined.causes
        said = [
            f"{number} {one.value if one is not Severity.FAULT or number == 1 else 'faults'}"
            for one, number in self.counts()
            if number
        ]
        follow = sum(len(one.follows) for one in causes)
        checked = f"{len(verdict.clear)} checks clear, {len(self.lacking())} unchecked"
        waiting = len({one.check for one in verdict.due})
        checked += f", {waiting} due later" if waiting else ""
        if verdict.questions:
            checked = f"{counted(len(verdict.questions), 'question')}, {checked}"
        found = []
        if causes:
            found = [f"{counted(len(causes), 'thing')} to mend ({', '.join(said)})"]
        if follow:
            them = "it" if len(causes) == 1 else "them"
            found.append(f"{counted(follow, 'finding follows', 'findings follow')} from {them}")
        return "; ".join((*found, checked))


def day_of(words: str) -> datetime.date | None:
    """The day that words such as `2026-05-01` or `1 May 2026` mean; None for others."""
    for form in _DAYS:
        with contextlib.suppress(ValueError):
            return datetime.datetime.strptime(words, form).date()
    return None
