"""What a way through lines and parts costs at one flow, its elements priced one by one."""

from collections.abc import Iterable

from plumbing.findings import Figure
from plumbing.hydraulics.rows import ChangeRow, FittingRow, Row, TubeRow
from plumbing.physics.bores import change_band
from plumbing.physics.fittings import fitting_loss
from plumbing.physics.friction import tube_loss


def drop_along(rows: Iterable[Row], flow: float, density: float, viscosity: float) -> Figure:
    """Pressure lost along elements passed one after another.

    Parameters
    ----------
    rows : iterable of Row
        The elements, in flow order; parts with a stated drop are left out.
    flow : float
        Volume flow, above 0 [m3/s].
    density, viscosity : float
        Density [kg/m3] and dynamic viscosity [Pa s].

    Returns
    -------
    Figure
        Pressure [Pa]: its band spans the low and high loss coefficients of fittings and changes
        of bore, its value is the middle.
    """
    fluid = density, viscosity
    low = high = 0.0
    for row in rows:
        if isinstance(row, TubeRow):
            straight = float(tube_loss(flow, row.length, row.bore, row.roughness, *fluid)[0])
            entry = float(fitting_loss(flow, 0.0, row.entry, row.bore, *fluid)[0])
            low, high = low + straight + entry, high + straight + entry
        elif isinstance(row, FittingRow):
            low += float(fitting_loss(flow, row.k1, row.k_inf_low, row.bore, *fluid)[0])
            high += float(fitting_loss(flow, row.k1, row.k_inf_high, row.bore, *fluid)[0])
        elif isinstance(row, ChangeRow):
            least, most = change_band(flow, row.before, row.after, *fluid)
            low, high = low + float(least), high + float(most)
    return Figure(0.5 * (low + high), "pressure", low, high)
