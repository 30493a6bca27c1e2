"""Lines between placed figures: on a grid, with few bends, never through a symbol or a text.

Each leg is the cheapest way by A* over cells and headings. Lines may cross squarely; they never
share a stretch unless there is no other way, and that is reported.
"""

from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import pairwise

from plumbing.drawing.boxes import Box, around
from plumbing.drawing.figures import STEP, Figure, Spot
from plumbing.drawing.plan import Leg, Plan
from plumbing.frozen import frozen

BEND = 4.0
CROSS = 5.0
NEAR = 0.6  # beside a symbol or another line
SHARE = 30.0  # along another line: only where there is no other way
EAGER = 1.3  # over 1: the search looks towards the goal first and may miss the very cheapest
MARGIN = 12.0  # free rim round the figures [mm]

_MOVES = ((1, 0), (0, 1), (-1, 0), (0, -1))  # right, down, left, up: y counts downwards
_OUT = {"right": 0, "bottom": 1, "left": 2, "top": 3}
_QUICK = 40_000  # steps of a search before a wider spacing is tried
_THOROUGH = 300_000

Point = tuple[float, float]


@dataclass(slots=True)
class Grid:
    """Cells of the sheet and who uses them.

    Attributes
    ----------
    left, top : float
        Position of cell 0 [mm].
    wide, high : int
        Cells across and down.
    blocked, near, level, plumb : bytearray
        Per cell: blocked by a figure; beside one, with a weight; used by a line along x; along y.
    """

    left: float
    top: float
    wide: int
    high: int
    blocked: bytearray = field(default_factory=bytearray)
    near: bytearray = field(default_factory=bytearray)
    level: bytearray = field(default_factory=bytearray)
    plumb: bytearray = field(default_factory=bytearray)

    def cell(self, x: float, y: float) -> int:
        """Index of the cell at a point."""
        column, row = round((x - self.left) / STEP), round((y - self.top) / STEP)
        return row * self.wide + column

    def point(self, cell: int) -> Point:
        """Point of a cell [mm]."""
        return self.left + cell % self.wide * STEP, self.top + cell // self.wide * STEP


@frozen
class Route:
    """A leg as drawn.

    Attributes
    ----------
    leg : Leg
        The leg.
    points : tuple of (float, float)
        Corners [mm], ends included, from tail to head.
    forced : bool
        Whether it shares a stretch with another line or found no free way.
    """

    leg: Leg
    points: tuple[Point, ...]
    forced: bool = False


def route(plan: Plan, thorough: bool = False) -> list[Route] | None:
    """Find a way for every leg, straight ones first.

    Parameters
    ----------
    plan : Plan
        Placed figures.
    thorough : bool
        Whether to force a way along another line where there is no free one.

    Returns
    -------
    list of Route or None
        None where a leg has no free way and none was to be forced.
    """
    grid = make_grid(list(plan.figures.values()))
    for leg in plan.legs:
        for key, port in ((leg.tail, leg.tail_port), (leg.head, leg.head_port)):
            spot = plan.figures[key].spot(port)
            if spot.side != "any":
                _reserve(grid, spot)
    routes = []
    for leg in sorted(plan.legs, key=lambda leg: _rank(plan, leg)):
        one = _find(grid, plan, leg, _THOROUGH if thorough else _QUICK)
        if one.forced and not thorough:
            return None
        routes.append(one)
    return routes


def _rank(plan: Plan, leg: Leg) -> tuple[bool, bool, float]:
    a, b = plan.figures[leg.tail].spot(leg.tail_port), plan.figures[leg.head].spot(leg.head_port)
    straight = a.x == b.x or a.y == b.y
    return not straight, not leg.main, abs(a.x - b.x) + abs(a.y - b.y)


def make_grid(figures: list[Figure]) -> Grid:
    """Grid over all figures with a free rim."""
    whole = around([figure.box() for figure in figures]).grown(MARGIN)
    left, top = round(whole.left / STEP) * STEP, round(whole.top / STEP) * STEP
    wide, high = int((whole.right - left) / STEP) + 2, int((whole.bottom - top) / STEP) + 2
    cells = wide * high
    grid = Grid(left, top, wide, high, *(bytearray(cells) for _ in range(4)))
    for x in range(wide):
        grid.blocked[x] = grid.blocked[cells - 1 - x] = 1
    for y in range(high):
        grid.blocked[y * wide] = grid.blocked[y * wide + wide - 1] = 1
    for figure in figures:
        for box in figure.blocks():
            _block(grid, box, 0.5, grid.blocked)
            _block(grid, box, 2.1, grid.near)
    return grid


def _block(grid: Grid, box: Box, by: float, layer: bytearray) -> None:
    first_x = int(-(-(box.left - by - grid.left) // STEP))
    last_x = int((box.right + by - grid.left) // STEP)
    first_y = int(-(-(box.top - by - grid.top) // STEP))
    last_y = int((box.bottom + by - grid.top) // STEP)
    for y in range(max(first_y, 0), min(last_y, grid.high - 1) + 1):
        row = y * grid.wide
        for x in range(max(first_x, 0), min(last_x, grid.wide - 1) + 1):
            layer[row + x] = 1


def _reserve(grid: Grid, spot: Spot) -> None:
    """Make it dear for other lines to run past just in front of a port, and shut it in."""
    dx, dy = _MOVES[_OUT[spot.side]]
    for steps, weight in ((1, 20), (2, 8)):
        at = grid.cell(spot.x + dx * steps * STEP, spot.y + dy * steps * STEP)
        grid.near[at] = max(grid.near[at], weight)


def _find(grid: Grid, plan: Plan, leg: Leg, limit: int) -> Route:
    tail, head = plan.figures[leg.tail], plan.figures[leg.head]
    start, goal = tail.spot(leg.tail_port), head.spot(leg.head_port)
    cells = _walk(grid, start, goal, limit)
    forced = not cells or _shares(grid, cells)
    cells = cells or _elbow(grid, start, goal)
    _use(grid, cells)
    return Route(leg, tuple(corners([grid.point(cell) for cell in cells])), forced)


def _shares(grid: Grid, cells: list[int]) -> bool:
    """Whether a way runs along another line, or turns on one."""
    for before, here, after in zip(cells, cells[1:], cells[2:], strict=False):
        come, leave = abs(here - before), abs(after - here)
        if come != leave and (grid.level[here] or grid.plumb[here]):
            return True
        if (grid.level if come == 1 else grid.plumb)[here]:
            return True
    return False


def _walk(grid: Grid, start: Spot, goal: Spot, limit: int) -> list[int]:
    """Cheapest way over (cell, heading), or nothing where there is none within the limit."""
    first, last = grid.cell(start.x, start.y), grid.cell(goal.x, goal.y)
    arrive = None if goal.side == "any" else (_OUT[goal.side] + 2) % 4
    headings = range(4) if start.side == "any" else (_OUT[start.side],)
    steps = tuple(dx + dy * grid.wide for dx, dy in _MOVES)
    wide, goal_x, goal_y = grid.wide, last % grid.wide, last // grid.wide
    best: dict[int, float] = {first * 4 + way: 0.0 for way in headings}
    came: dict[int, int] = {}
    queue = [(0.0, 0.0, first * 4 + way) for way in headings]
    while queue and len(came) < limit:
        _, cost, state = heappop(queue)
        at, way = state // 4, state % 4
        if at == last and (arrive is None or way == arrive):
            return _unwind(came, state)
        if cost > best[state]:
            continue
        for turn in (0, 1, 3):
            if turn and at == first:
                continue
            onward = (way + turn) % 4
            to = at + steps[onward]
            step = _price(grid, at, to, way, onward, last)
            if step is None:
                continue
            total = cost + step
            key = to * 4 + onward
            if total < best.get(key, 1e9):
                best[key] = total
                came[key] = state
                dx, dy = abs(to % wide - goal_x), abs(to // wide - goal_y)
                rest = EAGER * (dx + dy) + (BEND if dx and dy else 0.0)
                heappush(queue, (total + rest, total, key))
    return []


def _price(grid: Grid, at: int, to: int, way: int, onward: int, last: int) -> float | None:
    """Price of a step, or None where it is not allowed."""
    if to != last and grid.blocked[to]:
        return None
    price = 1.0 + NEAR * grid.near[to]
    along = grid.plumb if onward % 2 else grid.level
    across = grid.level if onward % 2 else grid.plumb
    if to != last:
        if along[to]:
            price += SHARE
        elif across[to]:
            price += CROSS
    if onward != way:
        price += BEND
        if grid.level[at] or grid.plumb[at]:
            price += SHARE  # a bend on another line would look like a joint
    return price


def _unwind(came: dict[int, int], state: int) -> list[int]:
    cells = [state // 4]
    while state in came:
        state = came[state]
        cells.append(state // 4)
    return cells[::-1]


def _elbow(grid: Grid, start: Spot, goal: Spot) -> list[int]:
    """Plain elbow where no way was found."""
    return [
        grid.cell(start.x, start.y),
        grid.cell(goal.x, start.y),
        grid.cell(goal.x, goal.y),
    ]


def _use(grid: Grid, cells: list[int]) -> None:
    for a, b in pairwise(cells):
        layer, beside = (grid.level, grid.wide) if abs(a - b) == 1 else (grid.plumb, 1)
        for cell in (a, b):
            layer[cell] = 1
            for near in (cell - beside, cell + beside):
                if 0 <= near < len(grid.near):
                    grid.near[near] = max(grid.near[near], 1)


def corners(points: list[Point]) -> list[Point]:
    """Ends and corners of a way of level and upright steps; points along it are left out."""
    kept = points[:1]
    for here, after in pairwise(points):
        before = kept[-1]
        straight = before[0] == here[0] == after[0] or before[1] == here[1] == after[1]
        if not straight and here != before:
            kept.append(here)
    return [*kept, points[-1]]
