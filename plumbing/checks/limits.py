"""The limits in force: the layout file's own where it sets one, else the usual ones."""

from plumbing import quantities, units
from plumbing.checks.registry import checks
from plumbing.errors import Fault, LayoutError, nearest
from plumbing.model.layout import Layout

_MOST = 100.0  # times the usual limit: what is beyond is a slip


def limits_in_force(layout: Layout) -> dict[str, float]:
    """Limit of every check in SI: the file's own where it sets one, else the usual one."""
    limits = {check.name: check.limit.value if check.limit else 0.0 for check in checks()}
    kinds = {check.name: check.limit.kind for check in checks() if check.limit}
    faults = []
    for name, text in layout.limits.items():
        place = layout.place_of(f"limits.{name}")
        if name not in kinds:
            close = nearest(name, kinds)
            hint = (
                f"the name of a check with a limit, perhaps `{close}`"
                if close
                else ("the name of a check with a limit; `plumbing explain` lists them")
            )
            faults.append(Fault(place, f"a limit for `{name}`", hint))
            continue
        try:
            most = _MOST * limits[name] or 1.0
            limits[name] = quantities.parse(text, kinds[name])
            if not 0.0 <= limits[name] <= most:
                allowed = f"0 to {units.show(most, kinds[name])}"
                faults.append(Fault(place, f"limit of `{name}`: `{text}`", allowed))
        except quantities.UnitError as wrong:
            found, _, expected = str(wrong).partition("; expected ")
            faults.append(Fault(place, f"limit of `{name}`: {found}", expected))
    if faults:
        raise LayoutError(tuple(faults))
    return limits
