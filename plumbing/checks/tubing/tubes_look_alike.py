"""Tubes of different purpose cannot be told apart.

Why: A vent joined where a feed belongs fits perfectly and stops the engine in the air.
Cure: Give feed, vent and fill tubes a colour or sleeve each, the same at both ends.

Bad::

    lines:
      vent: {colour: clear}

Good::

    lines:
      vent: {colour: yellow}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.ADVICE
SOURCE = "common practice"

_PURPOSE = {"suction": "feed", "pressure": "feed", "vent": "vent", "fill": "fill"}


def find(case: Case, limit: float) -> Says:
    seen: dict[str, dict[str, list[str]]] = {}
    for name, line in case.layout.lines.items():
        purpose = _PURPOSE.get(case.survey.lines[name].role)
        if purpose is None:
            continue
        if line.colour is None:
            yield Lacking(f"lines.{name}.colour", name)
            continue
        seen.setdefault(line.colour.strip().lower(), {}).setdefault(purpose, []).append(name)
    for colour, by_purpose in seen.items():
        if len(by_purpose) > 1:
            first, *others = (line for lines in by_purpose.values() for line in lines)
            words = listed(by_purpose)
            yield Found(
                first,
                f"Lines for {words} are all {colour}: {listed([first, *others])}.",
                field="colour",
                parts=tuple(others),
            )
