"""A verdict over all that the values left out could be: told, open, unchecked, and what to measure.

A finding is told where it is made over the whole band; made in part of it, it is open. What rests
on a place, a shape or a pickup that is not said is open or unchecked, never clear.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from plumbing.checks import needs
from plumbing.checks.causes import Key, key
from plumbing.checks.kit import Case, Check
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.checks.run import Verdict, judge, place_of
from plumbing.checks.statements import statements
from plumbing.findings import Figure, Finding, Measure, Question, Unchecked
from plumbing.studies.bands import Band, Bands, bands

_LISTED = 3  # key paths that a check names of those it lacks
_LEAST = 0.03  # share of a band below which nobody measures anything


def weighed(case: Case, verdict: Verdict) -> Verdict:
    """Weigh a verdict against what the values left out could be.

    Parameters
    ----------
    case : Case
        The layout with the usual values, and its results.
    verdict : Verdict
        What the checks said of them.

    Returns
    -------
    Verdict
        The same where the file leaves nothing out; else with open questions, and what to measure.
    """
    layout = case.layout
    if not layout.guesses and not layout.unsaid:
        return verdict
    limits = limits_in_force(layout)
    found = bands(layout, case.survey, case.peak, limits)
    lacking = {check.name: needs.lacking(layout, needs.kind_of(check)) for check in checks()}
    asked = [check for check in _computing() if not lacking[check.name]]
    ends = [judge(Case(end), asked) for end in found.ends]
    return _Weighing(case, verdict, found, ends, lacking, {one.name for one in asked}).verdict()


def _computing() -> list[Check]:
    """Checks that compute something quickly; the others only read what the file states.

    What is found on the ground rests on places, or on what is joined to what.
    """
    left_out = {check.name for check in statements()}
    return [
        one
        for one in checks()
        if one.name not in left_out
        and one.subject not in ("filling", "ground")
        and one.rests_on != "faults"
    ]


class _Weighing:
    """One verdict on the scales."""

    def __init__(
        self,
        case: Case,
        verdict: Verdict,
        found: Bands,
        ends: list[Verdict],
        lacking: Mapping[str, tuple[str, ...]],
        asked: set[str],
    ) -> None:
        self.case, self.before, self.found = case, verdict, found
        self.ends = [{key(one): one for one in end.findings} for end in ends]
        self.lacking, self.asked = lacking, asked
        self.bands = {(one.check, one.part): one for one in found.bands}

    def verdict(self) -> Verdict:
        """The verdict as weighed."""
        told, opened = [], []
        for one in self.before.findings:
            if self.holds(one):
                told.append(one)
            elif self.kind(one.check) not in (*needs.LOCAL, needs.PLACES):
                opened.append(self.question(one, usual=True))
        known = {key(one) for one in (*told, *(q.finding for q in opened))}
        known |= {key(one.finding) for one in self.before.accepted}
        for one in self.elsewhere(known):
            opened.append(self.question(one, usual=False))
        open_checks = {question.finding.check for question in opened}
        rests = {name for name, paths in self.lacking.items() if paths}
        unchecked = [*self.before.unchecked, *self.unchecked(rests)]
        clear = (one for one in self.before.clear if one not in open_checks | rests)
        return replace(
            self.before,
            findings=tuple(told),
            unchecked=tuple(dict.fromkeys(unchecked)),
            clear=tuple(clear),
            questions=tuple(opened),
            measure=tuple(self.measure(opened)),
        )

    def kind(self, check: str) -> str:
        """What a check needs that is not said; empty where it lacks nothing."""
        return needs.kind_of(_by_name()[check]) if self.lacking[check] else ""

    def holds(self, finding: Finding) -> bool:
        """Whether a finding is made whatever the values left out are."""
        kind = self.kind(finding.check)
        if kind in needs.LOCAL:
            return not needs.rests_on(self.case.layout, finding, self.lacking[finding.check])
        band = self.bands.get(key(finding))
        if kind or (band is not None and not band.found[2]):
            return False
        return finding.check not in self.asked or all(key(finding) in end for end in self.ends)

    def elsewhere(self, known: set[Key]) -> Iterator[Finding]:
        """Findings that are made in part of the band only, and not with the usual values."""
        for end in self.ends:
            for name, one in end.items():
                if name not in known:
                    known.add(name)
                    yield one
        for name, band in self.bands.items():
            if band.open and name not in known:
                yield self.made(band)

    def made(self, band: Band) -> Finding:
        """Finding of a band that no computed end has made."""
        check, layout = _by_name()[band.check], self.case.layout
        return Finding(
            check=check.name,
            severity=check.severity,
            part=band.part,
            what=f"The {band.what} at {band.part} may be over its limit.",
            place=place_of(layout, band.part, ""),
            allowed=Figure(band.limit, band.figure.kind),
            source=check.source,
            why=check.why,
            advice=check.cure,
        )

    def question(self, finding: Finding, *, usual: bool) -> Question:
        """An open question from what was found in one case."""
        band = self.bands.get(key(finding))
        if band is not None:
            finding = replace(finding, measured=band.figure)
        elif finding.measured is not None:
            finding = replace(finding, measured=self.spanned(finding))
        severity = _by_name()[finding.check].severity
        if finding.severity.rank > severity.rank and not finding.assumed:
            finding = replace(finding, severity=severity)
        if band is None:
            return Question(finding, usual, tuple(self.near(finding)))
        ranked = sorted(range(len(self.found.guesses)), key=lambda one: -band.share(one))
        named = [self.found.guesses[n].words for n in ranked if band.share(n) >= _LEAST]
        return Question(finding, usual, tuple(named))

    def near(self, finding: Finding) -> Iterator[str]:
        """What is not said of the parts that a finding names, or what its check lacks."""
        if paths := self.lacking[finding.check]:
            yield from paths
            return
        names = {finding.part, *finding.parts}
        for guess in self.found.guesses:
            if names & {path.split(".")[1] for path in guess.paths}:
                yield guess.words

    def spanned(self, finding: Finding) -> Figure:
        """Its measured value with what it is at the ends of the bands."""
        assert finding.measured is not None
        seen = [end[key(finding)].measured for end in self.ends if key(finding) in end]
        edges = [finding.measured.band, *(one.band for one in seen if one is not None)]
        low, high = min(edge[0] for edge in edges), max(edge[1] for edge in edges)
        return replace(finding.measured, low=low, high=high)

    def unchecked(self, rests: set[str]) -> Iterator[Unchecked]:
        """Checks that rest on what is not said."""
        already = {one.check for one in self.before.unchecked}
        for name in sorted(rests - already):
            paths = self.lacking[name]
            more = f" and {len(paths) - _LISTED} more" if len(paths) > _LISTED else ""
            yield Unchecked(name, ", ".join(paths[:_LISTED]) + more, "", self.case.layout.place)

    def measure(self, opened: list[Question]) -> Iterator[Measure]:
        """What to measure, that first which decides most."""
        judged = [one for one in self.found.bands if one.open] or list(self.found.bands)
        names = {key(question.finding) for question in opened}
        wanted = []
        for number, guess in enumerate(self.found.guesses):
            shares = [band.share(number) for band in judged]
            decides = tuple(
                dict.fromkeys(
                    band.check
                    for band in judged
                    if band.decided_by(number) and (band.check, band.part) in names
                )
            )
            share = max(shares, default=0.0)
            if share >= _LEAST:
                wanted.append((sum(shares), Measure(guess, share, decides)))
        wanted.sort(key=lambda one: -one[0])
        yield from (one for _, one in wanted)


def _by_name() -> dict[str, Check]:
    return {check.name: check for check in checks()}
