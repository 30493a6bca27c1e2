"""Running checks: limits of the user's own, what is unchecked, order and places."""

from dataclasses import replace

import pytest
from overlay import overlaid

from plumbing.checks.kit import Case, Check, Found, Lacking, Says, Severity
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.checks.run import Verdict, judge
from plumbing.errors import LayoutError
from plumbing.layout import load, read, starter
from plumbing.model.layout import Layout

NAMED = {check.name: check for check in checks()}
SMALL_HEADER = NAMED["header-too-small"]
NO_LIMIT = NAMED["header-vented"]


@pytest.fixture
def layout() -> Layout:
    """The plainest starter."""
    return overlaid("single-main", "notes: as it is")


def saying(check: Check, *said: Found | Lacking) -> Check:
    """A check that says just this."""

    def find(case: Case, limit: float) -> Says:
        yield from said

    return replace(check, find=find)


def heard(verdict: Verdict) -> set[str]:
    """Checks that had their say."""
    said = (*verdict.findings, *verdict.due, *verdict.unchecked)
    return {one.check for one in said} | set(verdict.clear)


def test_limit_is_the_usual_one_unless_set(layout):
    """Without a limit of the user's own the check's own holds, in SI."""
    assert limits_in_force(layout)["header-too-small"] == 15.0


def test_limit_of_the_users_own_decides():
    """A stricter limit in the file turns a good header into a finding that states that limit."""
    strict = overlaid("single-main", "limits: {header-too-small: 10 min}")
    (found,) = judge(Case(strict), [SMALL_HEADER]).findings
    assert found.allowed is not None
    assert found.allowed.value == 600.0
    assert found.severity is Severity.UNSAFE


@pytest.mark.parametrize(
    ("line", "found", "expected"),
    [
        ("header-to-small: 20 s", "header-to-small", "header-too-small"),
        ("zzz: 20 s", "zzz", "plumbing explain"),
        ("header-vented: 20 s", "header-vented", "limit"),
        ("header-too-small: 20 mm", "20 mm", "a time"),
        ("header-too-small: '20'", "without a unit", "90 s"),
    ],
)
def test_limit_that_cannot_be_meant_is_a_fault(line, found, expected):
    """A misspelt check, one without limit and a wrong unit are faults that show the right form."""
    wrong = overlaid("single-main", f"limits: {{{line}}}")
    with pytest.raises(LayoutError) as raised:
        judge(Case(wrong))
    (fault,) = raised.value.faults
    assert found in fault.found
    assert expected in fault.expected


def test_all_wrong_limits_are_told_together():
    """Every limit that cannot be meant is reported in one go."""
    wrong = overlaid("single-main", "limits: {no-such-check: 1 s, nor-this: 2 s}")
    with pytest.raises(LayoutError) as raised:
        limits_in_force(wrong)
    assert len(raised.value.faults) == 2


def test_lacking_is_never_clear(layout):
    """A check that lacked data is unchecked, whether or not it found something too."""
    lacking = Lacking("pumps.pump.curve", "pump")
    found = Found("pump", "The pump is wrong.")
    alone = judge(Case(layout), [saying(SMALL_HEADER, lacking)])
    both = judge(Case(layout), [saying(SMALL_HEADER, found, lacking)])
    for verdict in (alone, both):
        (unchecked,) = verdict.unchecked
        assert (unchecked.check, unchecked.missing) == ("header-too-small", "pumps.pump.curve")
        assert verdict.clear == ()
    assert [one.part for one in both.findings] == ["pump"]


def test_what_is_lacking_is_said_once(layout):
    """The same datum of the same part is asked for once."""
    lacking = Lacking("pumps.pump.curve", "pump")
    assert len(judge(Case(layout), [saying(SMALL_HEADER, lacking, lacking)]).unchecked) == 1


def test_silent_check_is_clear(layout):
    """A check that ran and said nothing is clear."""
    assert judge(Case(layout), [saying(SMALL_HEADER)]).clear == ("header-too-small",)


def test_worst_comes_first_then_as_the_checks_stand(layout):
    """Findings are sorted by severity, and those of one severity stay as they were found."""
    verdict = judge(
        Case(layout),
        [
            saying(NO_LIMIT, Found("pump", "A.", severity=Severity.ADVICE)),
            saying(SMALL_HEADER, Found("pump", "B."), Found("main", "C.")),
        ],
    )
    unsafe = [one for one in verdict.findings if one.severity is Severity.UNSAFE]
    assert verdict.findings[-1].what == "A."
    assert [one.what for one in unsafe] == ["B.", "C."]
    assert verdict.at_or_above(Severity.FAULT) == tuple(unsafe)


def test_finding_is_completed_from_its_check(layout):
    """Name, severity, source, reason and cure come from the check, unless the case has its own."""
    own = Found("pump", "A.", severity=Severity.ADVICE, advice="Do this.")
    first, second = judge(Case(layout), [saying(SMALL_HEADER, Found("pump", "B."), own)]).findings
    assert (first.severity, first.advice) == (SMALL_HEADER.severity, SMALL_HEADER.cure)
    assert (second.severity, second.advice) == (Severity.ADVICE, "Do this.")
    for one in (first, second):
        assert (one.check, one.source, one.why) == (
            "header-too-small",
            SMALL_HEADER.source,
            SMALL_HEADER.why,
        )


def test_place_is_the_users_own_line(tmp_path):
    """A finding points at the line of its part, or of the very field, in the user's file."""
    path = tmp_path / "layout.yaml"
    text = starter("single-main")
    path.write_text(text, encoding="utf-8")
    layout = load(str(path))
    part, field = judge(
        Case(layout),
        [saying(SMALL_HEADER, Found("header", "A."), Found("header", "B.", field="shape"))],
    ).findings
    lines = text.splitlines()
    assert part.place.file == str(path)
    assert lines[part.place.line - 1].strip().startswith("header:")
    assert "shape:" in lines[field.place.line - 1]
    assert field.place > part.place


def test_verdict_does_not_change_from_run_to_run(layout):
    """The same layout gives the same verdict."""
    assert judge(Case(layout)) == judge(Case(layout))


def test_every_check_has_a_verdict(layout):
    """Each check is found, due, unchecked or clear; none is lost."""
    verdict = judge(Case(layout))
    assert heard(verdict) == set(NAMED)


GRAVITY_FED = """\
format: 1
title: An engine that draws for itself
origin: nose
engines: {engine: {at: [900 mm, 0 mm, 0 mm], full-flow: 150 ml/min, idle-flow: 40 ml/min}}
tanks:
  main:
    shape: {box: {at: [200 mm, 0 mm, 25 mm], size: [200 mm, 100 mm, 50 mm]}}
    ports:
      feed: {at: [200 mm, 0 mm, 0 mm]}
      vent: {at: [120 mm, 0 mm, 50 mm]}
outlets: {vent: {at: [120 mm, 90 mm, -60 mm], bore: 4 mm}}
lines:
  feed: {from: main.feed, to: engine, tube: polyurethane 6x4, cut-length: 600 mm}
  vent: {from: main.vent, to: vent, tube: polyurethane 6x4, cut-length: 300 mm}
"""


def test_engine_without_a_pump_is_judged():
    """Every check has its say about an engine that draws for itself; none trips over the pump."""
    verdict = judge(Case(read(GRAVITY_FED, "fed.yaml")))
    assert heard(verdict) == set(NAMED)
    assert "pump-too-weak" in verdict.clear
