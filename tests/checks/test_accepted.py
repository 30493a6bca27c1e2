"""What the file takes on itself is seen: accepted findings and changed limits."""

import json

import pytest
from overlay import overlaid

from plumbing.checks.examined import examine
from plumbing.errors import LayoutError
from plumbing.findings import Figure, Finding, Severity
from plumbing.report.as_json import check_json
from plumbing.report.dossier.contents import contents
from plumbing.report.html import html_page
from plumbing.report.subject import Subject
from plumbing.report.text import check_text
from plumbing.units import apart

WAIVED = """
limits: {suction-flow-too-fast: 0.05 m/s}
accepted:
  fast: {check: suction-flow-too-fast, part: PART, reason: measured on the bench,
    by: the builder, on: 2026-05-01}
"""


def test_an_accepted_finding_is_no_longer_found_but_shown() -> None:
    """Only the finding at the named part goes; screen, page, dossier and JSON name the reason."""
    over = examine(overlaid("single-main", "limits: {suction-flow-too-fast: 0.05 m/s}"))
    found = [one.part for one in over.findings if one.check == "suction-flow-too-fast"]
    assert len(found) > 1
    examined = examine(overlaid("single-main", WAIVED.replace("PART", found[0])))
    left = [one.part for one in examined.findings if one.check == "suction-flow-too-fast"]
    assert left == found[1:]
    assert "suction-flow-too-fast" not in examined.verdict.clear
    subject = Subject(examined)
    where = f"suction-flow-too-fast at {found[0]}"
    said = f"accepted: {where}: measured on the bench (the builder, 2026-05-01)"
    limit = "limit changed: suction-flow-too-fast: 0.05 m/s, usually 1 m/s"
    assert subject.taken_on() == [said, limit]
    assert said[:70] in check_text(subject)
    page = html_page(subject)
    assert said in page
    assert page.index(said) < page.index('id="drawings"')
    taken = [words.replace("\u200b", "") for words in contents(subject)["taken_on"]]
    assert taken == [said, limit]
    data = json.loads(check_json(examined))
    assert data["accepted"][0]["reason"] == "measured on the bench"
    assert data["changed_limits"][0]["usual"] == "1 m/s"


@pytest.mark.parametrize(
    ("was", "by", "said"),
    [
        ("suction-flow-too-fast, part", "suction-flow-to-fast, part", "suction-flow-too-fast"),
        ("on: 2026-05-01", "on: yesterday", "2026-05-01"),
        (", reason: measured on the bench", "", "reason"),
    ],
)
def test_an_acceptance_must_be_whole(was: str, by: str, said: str) -> None:
    """A check that there is not, no date, or no reason is a fault of the file, with its mend."""
    with pytest.raises(LayoutError) as refused:
        examine(overlaid("single-main", WAIVED.replace("PART", "feed").replace(was, by)))
    assert any(said in f"{one.found} {one.expected}" for one in refused.value.faults)


def over(value: float, band: float | None = None) -> Finding:
    """A fault beyond a limit of 10."""
    low, high = (None, None) if band is None else (value - band, value + band)
    measured = Figure(value, "pressure", low, high)
    return Finding(
        "c", Severity.FAULT, "pump", "w", measured=measured, allowed=Figure(10.0, "pressure")
    )


@pytest.mark.parametrize(
    ("finding", "uncertain"),
    [
        (over(10.04), True),  # 10.0 in three digits
        (over(10.1), False),
        (over(12.0, 3.0), True),
        (over(12.0, 1.0), False),
        (over(10.04, 0.01), False),  # known better than three digits
    ],
)
def test_what_cannot_be_told_apart_from_its_limit(finding: Finding, uncertain: bool) -> None:
    """A band across the limit, or one number as rounded, says what is to be measured."""
    assert finding.uncertain is uncertain
    assert ("measure the pressure at pump" in finding.doubt) is uncertain


def test_nothing_doubtful_is_worse_than_advice() -> None:
    """With its limit just inside the band of the suction a finding is advice, well below it not."""
    peak = examine(overlaid("single-main", "{}")).case.peak.engines["engine"]
    low, value = peak.suction.low or 0.0, peak.suction.value
    severities = {}
    for limit in (0.5 * (low + value), 0.9 * low):
        text = f"limits: {{inlet-suction-too-high: {limit:.6g} Pa}}"
        found = examine(overlaid("single-main", text)).findings
        one = next(one for one in found if one.check == "inlet-suction-too-high")
        severities[limit] = one.severity
        assert one.uncertain is (limit > low)
    assert list(severities.values()) == [Severity.ADVICE, Severity.UNSAFE]


def test_a_value_and_its_limit_are_never_one_number() -> None:
    """1225.3 mm and 1225 mm read as different numbers; equal ones as one."""
    assert apart(1.2253, 1.225, "length") == ("1225.3 mm", "1225 mm")
    assert apart(1.225, 1.225, "length") == ("1225 mm", "1225 mm")
    assert apart(12.0, 8.0, "count") == ("12", "8")
