"""Which schedules there are."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.report.schedules.cuts import cuts, stock_to_buy
from plumbing.report.schedules.fittings import fittings
from plumbing.report.schedules.lines import lines
from plumbing.report.schedules.passages import passages
from plumbing.report.schedules.table import Table
from plumbing.report.schedules.tanks import tanks

_Maker = Callable[[Layout, Survey, float | None], tuple[Table, ...]]

KINDS: Mapping[str, _Maker] = MappingProxyType(
    {
        "lines": lambda layout, survey, _: (lines(layout, survey),),
        "cuts": lambda layout, survey, stock: (
            cuts(layout, survey, stock),
            stock_to_buy(layout, survey, stock),
        ),
        "fittings": lambda layout, survey, _: (fittings(layout, survey),),
        "tanks": lambda layout, _survey, _stock: (tanks(layout),),
        "passages": lambda layout, _survey, _stock: (passages(layout),),
    }
)


def schedules(
    layout: Layout, survey: Survey, what: str | None = None, stock: float | None = None
) -> tuple[Table, ...]:
    """Schedules of a layout.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Its survey.
    what : str, optional
        Key of `KINDS`; all of them by default.
    stock : float, optional
        Stock length of every tube for the cut list [m].
    """
    chosen = KINDS if what is None else {what: KINDS[what]}
    return tuple(table for maker in chosen.values() for table in maker(layout, survey, stock))
