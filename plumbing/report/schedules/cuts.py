"""The cut list: which line from which roll, and how much tube to buy."""

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.network import Survey
from plumbing.physics.materials import material
from plumbing.report.schedules.lines import MM, length_to_cut
from plumbing.report.schedules.stock import Bar, first_fit
from plumbing.report.schedules.table import Cell, Column, Table

ROLL = 5.0  # usual roll of plastic or rubber tube [m]; common practice
STRAIGHT = 1.0  # usual straight length of metal tube [m]; common practice
KERF = 1e-3  # lost at a saw cut of metal tube [m]; plastic is cut by a blade
_METALS_ABOVE = 2500.0  # no plastic or rubber is so dense [kg/m3]

_CUTS = (
    Column("tube"),
    Column("stock length no."),
    Column("piece"),
    Column("line"),
    Column("cut", "mm"),
    Column("left after it", "mm"),
)
_STOCK = (
    Column("tube"),
    Column("OD", "mm", 1),
    Column("ID", "mm", 1),
    Column("material"),
    Column("pieces"),
    Column("cut together", "m", 3),
    Column("stock length", "m", 2),
    Column("to buy"),
    Column("left over", "m", 3),
    Column("longest left", "m", 3),
    Column("left over", "%", 0),
)
_STOCK_PARTS = (
    ("tube", "OD", "ID", "material", "pieces", "cut together"),
    ("tube", "stock length", "to buy", "left over", "longest left"),
)


@frozen
class Cut:
    """All lines of one tube, laid into stock lengths."""

    tube: Tube
    lines: tuple[Line, ...]
    lengths: tuple[float, ...]
    stock: float
    kerf: float
    bars: tuple[Bar, ...]


def laid_out(layout: Layout, survey: Survey, stock: float | None = None) -> tuple[Cut, ...]:
    """Lines by tube, each tube's lines laid into stock lengths [m]; usual ones if none given."""
    by_tube: dict[str, list[Line]] = {}
    for line in layout.lines.values():
        by_tube.setdefault(line.tube, []).append(line)
    found = []
    for lines in by_tube.values():
        tube = layout.tube_of(lines[0])
        metal = _is_metal(tube)
        length = stock or (STRAIGHT if metal else ROLL)
        kerf = KERF if metal else 0.0
        lengths = tuple(length_to_cut(survey, line) for line in lines)
        bars = first_fit(lengths, length, kerf)
        found.append(Cut(tube, tuple(lines), lengths, length, kerf, bars))
    return tuple(found)


def _is_metal(tube: Tube) -> bool:
    known = material(tube.material)
    return known is not None and known.density > _METALS_ABOVE


def cuts(layout: Layout, survey: Survey, stock: float | None = None) -> Table:
    """Cut list, a row a piece, in the order of cutting."""
    rows: list[tuple[Cell, ...]] = []
    for cut in laid_out(layout, survey, stock):
        for number, bar in enumerate(cut.bars, start=1):
            left = bar.length
            for order, place in enumerate(bar.pieces, start=1):
                left -= cut.lengths[place] + (cut.kerf if order > 1 else 0.0)
                rows.append(
                    (
                        cut.tube.name,
                        float(number),
                        float(order),
                        cut.lines[place].name,
                        cut.lengths[place] * MM,
                        max(left, 0.0) * MM,
                    )
                )
    notes = ("Longest piece first. Cut square with a cutter, not with scissors.",)
    return Table("cuts", "Cut list", _CUTS, tuple(rows), notes)


def stock_to_buy(layout: Layout, survey: Survey, stock: float | None = None) -> Table:
    """Tube to buy and what is left over."""
    rows: list[tuple[Cell, ...]] = []
    for cut in laid_out(layout, survey, stock):
        bought = sum(bar.length for bar in cut.bars)
        left = [bar.left for bar in cut.bars]
        rows.append(
            (
                cut.tube.name,
                cut.tube.outside_diameter * MM,
                cut.tube.inside_diameter * MM,
                cut.tube.material,
                float(len(cut.lines)),
                sum(cut.lengths),
                cut.stock,
                float(len(cut.bars)),
                sum(left),
                max(left),
                100.0 * sum(left) / bought,
            )
        )
    notes = (
        f"Stock lengths, if none is given: rolls of {ROLL:g} m, metal tube in straight lengths of "
        f"{STRAIGHT:g} m (common practice); {KERF * MM:g} mm is lost at each cut of metal tube. "
        "A line longer than the stock is bought as one piece.",
    )
    return Table("stock", "Tube to buy", _STOCK, tuple(rows), notes, _STOCK_PARTS)
