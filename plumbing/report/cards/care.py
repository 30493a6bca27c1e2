"""The maintenance card: what is renewed or looked at, when it is due. Common practice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plumbing import quantities
from plumbing.model.layout import Layout
from plumbing.report.cards.form import Form
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown

_FLIGHTS = 50.0  # between yearly jobs
_YEAR, _MONTH = quantities.parse("1 year", "age"), quantities.parse("1 month", "age")
_HEADS = (
    "part", "job", "every", "or after", "age in the file", "due from then", "done on", "next due",
)  # fmt: skip
_Job = tuple[str, str, float, float | None, str]  # part, job, interval, age, rule


def care(layout: Layout, flown: Flown | NotComputed, limits: Mapping[str, float]) -> Form:
    """Maintenance card of a layout.

    Parameters
    ----------
    layout : Layout
        The layout.
    flown : Flown or NotComputed
        Its flight: fifty of them give the hours and litres.
    limits : mapping of str to float
        Limits of the checks in force [SI].
    """
    use = _use(flown)
    rows = tuple(
        (
            part,
            job,
            _months(interval),
            use if interval <= _YEAR else "",
            _months(age),
            _due(interval, age),
            "",
            "",
        )
        for part, job, interval, age, _ in (*_renewals(layout, limits), *_looks(layout))
    )
    rules = ", ".join(dict.fromkeys(one[4] for one in _renewals(layout, limits)))
    notes = (
        f"Yearly jobs fall due after {_FLIGHTS:.0f} flights too, given in hours and litres of the "
        "stated flight. Whatever was opened goes through its bench tests again.",
        *((f"Limits of age: {rules}.",) if rules else ()),
    )
    return Form("Maintenance", (), (), _HEADS, rows, notes, wide=True)


def _use(flown: Flown | NotComputed) -> str:
    """Hours and litres of fifty flights."""
    if not known(flown):
        return f"{_FLIGHTS:.0f} flights"
    burn = sum(flown.books.burnt.values())
    return f"{_FLIGHTS * flown.duration / 3600:.0f} h or {_FLIGHTS * burn * 1e3:.0f} L"


def _renewals(layout: Layout, limits: Mapping[str, float]) -> Iterator[_Job]:
    hose, seal = limits["hose-overdue"], limits["fitting-overdue"]
    own = layout.papers.renewal or hose
    soft = min(hose, own)
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            if port.pickup and port.pickup.hose:
                part = f"{tank.name}.{port.name}"
                yield part, "renew the pickup hose", soft, port.pickup.hose.age, "hose-overdue"
    tubes: dict[str, float | None] = {}
    for line in layout.lines.values():
        tubes[line.tube] = max(filter(None, (tubes.get(line.tube), line.age)), default=None)
    for tube, age in tubes.items():
        yield f"lines of {tube}", "renew, those at heat first", soft, age, "hose-overdue"
    for name, joint in layout.joints.items():
        yield f"joints {name}", "renew seals and locks", seal, joint.age, "fitting-overdue"
    for name, connector in layout.connectors.items():
        yield name, "renew seals", seal, connector.age, "fitting-overdue"


def _looks(layout: Layout) -> Iterator[_Job]:
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            if port.pickup and port.pickup.pore is not None:
                yield f"{tank.name}.{port.name}", "renew felt or mesh", _YEAR, None, ""
    for name in layout.filters:
        yield name, "open and clean, look for water and fibres", _YEAR, None, ""
    for name in layout.pumps:
        yield name, "compare volts at idle and full with the first run", _YEAR, None, ""
    for name in layout.outlets:
        yield name, "blow through, look for insects", _YEAR, None, ""
    yield "suction side", "vacuum test", _YEAR, None, ""
    yield "tanks", "look for chafe at straps, weeping walls, loose bungs", _YEAR, None, ""


def _months(age: float | None) -> str:
    if age is None:
        return ""
    months = round(age / _MONTH)
    return f"{months} month{'s' if months != 1 else ''}"


def _due(interval: float, age: float | None) -> str:
    if age is None:
        return ""
    left = interval - age
    return f"in {_months(left)}" if left > 0.0 else "OVERDUE"
