"""Which other predictions move if what explains a reading is so."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey, survey
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_result import Peak
from plumbing.studies.bench.meaning import Change, Meaning
from plumbing.studies.bench.predictions import predict
from plumbing.studies.bench.values import Mark, Marks

LEAST = 0.02  # a share less than this is no move [-]
_Key = tuple[str, str, str]


@frozen
class Moved:
    """A prediction before and after a change.

    Attributes
    ----------
    what, part, state : str
        Which; beside those of the bench `cold-suction`, `loaded-suction` and `dirty-suction`.
    before, after : Figure
        As drawn, and with the change.
    mark : Mark or None
        What it must meet; None where there is no limit.
    """

    what: str
    part: str
    state: str
    before: Figure
    after: Figure
    mark: Mark | None

    @property
    def beyond(self) -> bool:
        """Whether it comes to lie beyond its limit."""
        return self.mark is not None and not self.mark.passes(self.after.value)


class Moves:
    """Predictions of a layout as drawn, and as a reading suggests it was built."""

    def __init__(self, layout: Layout, found: Survey, marks: Marks) -> None:
        self.layout, self.survey, self.marks = layout, found, marks

    @cached_property
    def drawn(self) -> dict[_Key, Figure]:
        """Everything predicted as drawn."""
        return _predicted(self.layout, self.survey)

    def of(self, meaning: Meaning) -> tuple[Moved, ...]:
        """What moves with the change that a meaning names; nothing where it names none."""
        if meaning.change is None:
            return ()
        changed = _changed(self.layout, meaning.change)
        after = _predicted(changed, survey(changed))
        return tuple(
            Moved(*key, before, after[key], self.marks.find(key[0], key[1]))
            for key, before in self.drawn.items()
            if key in after and _moves(before.value, after[key].value)
        )


def _moves(before: float, after: float) -> bool:
    return abs(after - before) > LEAST * max(abs(before), abs(after))


def _changed(layout: Layout, change: Change) -> Layout:
    if change.kind == "flow":
        engines = {
            name: replace(one, full_flow=(one.full_flow or 0.0) * change.value)
            for name, one in layout.engines.items()
        }
        return replace(layout, engines=engines)
    line = layout.lines[change.part]
    name = f"{line.tube}, narrowed"
    tube = replace(layout.tube_of(line), name=name, inside_diameter=change.value)
    lines = {**layout.lines, line.name: replace(line, tube=name)}
    return replace(layout, lines=lines, tubes={**layout.tubes, name: tube})


def _predicted(layout: Layout, found: Survey) -> dict[_Key, Figure]:
    peak = peak_flow(layout, found)
    bench = predict(layout, found, peak).values
    values = {(one.what, one.part, one.state): one.figure for one in bench}
    return {**values, **_worst(peak)}


def _worst(peak: Peak) -> dict[_Key, Figure]:
    """Suctions in the cases that are not met on the bench."""
    return {
        (what, one.pump, ""): worst.suction
        for one in peak.engines.values()
        for what, worst in (
            ("cold-suction", one.coldest),
            ("loaded-suction", one.loaded),
            ("dirty-suction", one.dirty),
        )
    }
