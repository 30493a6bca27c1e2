"""Where the figures go: graphviz ranks, orders and places them, then lines are pulled straight."""

from itertools import pairwise

import graphviz

from plumbing.drawing.figures import STEP, Figure
from plumbing.drawing.plan import Leg, Plan

SCALE = 4.0  # points of the graph to the millimetre, so that cell sizes are whole numbers
GAP = 2.0  # least distance between figures [mm]


def place(plan: Plan, across: float, along: float) -> None:
    """Give every figure its corner on the routing grid.

    Parameters
    ----------
    plan : Plan
        Figures and legs; the figures are moved in place.
    across : float
        Distance kept between figures in a column [mm].
    along : float
        Distance kept between columns [mm].
    """
    _ask(plan, across, along)
    links = plan.cross_links()
    if links:
        for leg in links:
            _stack_across(plan, leg)
        _ask(plan, across, along)
    for figure in plan.figures.values():
        figure.x, figure.y = _snap(figure.x), _snap(figure.y)
    _part_overlaps(plan)
    for _ in range(2):
        _straighten(plan)
    _stand_upright(plan)


def _ask(plan: Plan, across: float, along: float) -> None:
    import pygraphviz  # the engine is loaded only when something is drawn

    graph = pygraphviz.AGraph(string=source(plan, across, along))
    graph.layout(prog="dot")
    for figure in plan.figures.values():
        x, y = (float(v) / SCALE for v in graph.get_node(figure.key).attr["pos"].split(","))
        figure.x, figure.y = x - figure.width / 2, -y - figure.height / 2
    graph.close()


def _stack_across(plan: Plan, leg: Leg) -> None:
    """Keep a shared vent above all it serves where their columns turned out to be one."""
    label, part = plan.figures[leg.tail], plan.figures[leg.head]
    if abs(label.x + label.width / 2 - part.x - part.width / 2) > 1.0:
        return
    plan.merge(leg.tail, leg.head)
    above = label.ports[leg.tail_port].side == "top"
    plan.stacks.append((leg.head, leg.tail) if above else (leg.tail, leg.head))


def source(plan: Plan, across: float, along: float) -> str:
    """The graph in the DOT language: fixed sizes, a port for every row of a figure."""
    graph = graphviz.Digraph(
        graph_attr={
            "rankdir": "LR",
            "splines": "false",
            "nodesep": str(across * SCALE / 72),
            "ranksep": str(along * SCALE / 72),
        },
        node_attr={"shape": "none", "margin": "0", "fontsize": "1"},
        edge_attr={"arrowhead": "none"},
    )
    for figure in reversed(plan.figures.values()):  # the engine puts the first lowest
        graph.node(figure.key, label=_table(figure))
    for column in plan.columns:
        if len(column) > 1:
            with graph.subgraph() as rank:
                rank.attr(rank="same")
                for key in column:
                    rank.node(key)
    for leg in plan.legs:
        _edge(graph, plan, leg)
    for upper, lower in plan.stacks:
        graph.edge(upper, lower, weight="4")
    return str(graph.source)


def _edge(graph: graphviz.Digraph, plan: Plan, leg: Leg) -> None:
    if leg.upright:
        return
    tail, head = plan.figures[leg.tail], plan.figures[leg.head]
    graph.edge(
        f"{leg.tail}:r{_row(tail, leg.tail_port)}",
        f"{leg.head}:r{_row(head, leg.head_port)}",
        weight="6" if leg.main else "1",
        **({} if leg.main else {"constraint": "false"}),
    )


def _rows(figure: Figure) -> list[float]:
    """Lines between the rows of a figure's table: every port lies in the middle of a row."""
    cuts = {0.0, figure.height}
    for spot in figure.ports.values():
        if 0.0 < spot.y < figure.height:
            cuts |= {max(spot.y - STEP / 2, 0.0), min(spot.y + STEP / 2, figure.height)}
    return sorted(cuts)


def _row(figure: Figure, port: str) -> int:
    cuts = _rows(figure)
    y = figure.ports[port].y
    return max(place for place in range(len(cuts) - 1) if cuts[place] <= y)


def _table(figure: Figure) -> str:
    cuts = _rows(figure)
    rows = "".join(
        f'<TR><TD FIXEDSIZE="TRUE" WIDTH="{round(figure.width * SCALE)}" '
        f'HEIGHT="{round((low - high) * SCALE)}" PORT="r{place}"></TD></TR>'
        for place, (high, low) in enumerate(pairwise(cuts))
    )
    return f'<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0">{rows}</TABLE>>'


def _snap(value: float) -> float:
    return round(value / STEP) * STEP


def _free(plan: Plan, keys: set[str], dx: float, dy: float) -> bool:
    """Whether a group of figures can be moved without coming too near to another."""
    for key in keys:
        room = plan.figures[key].box().moved(dx, dy).grown(GAP - 0.1)
        for other in plan.figures.values():
            if other.key not in keys and room.meets(other.box()):
                return False
    return True


def _move(plan: Plan, keys: set[str], dx: float, dy: float) -> bool:
    if not _free(plan, keys, dx, dy):
        return False
    for key in keys:
        plan.figures[key].x += dx
        plan.figures[key].y += dy
    return True


def _part_overlaps(plan: Plan) -> None:
    """Undo what rounding to the grid may have brought too near, downwards."""
    figures = sorted(plan.figures.values(), key=lambda f: (f.y, f.x))
    for place, figure in enumerate(figures):
        for other in figures[:place]:
            if figure.box().grown(GAP - 0.1).meets(other.box()):
                figure.y = max(figure.y, _snap(other.box().bottom + GAP))


def _straighten(plan: Plan) -> None:
    """Bring ports that a line joins to one height where there is room for it."""
    legs = [leg for leg in plan.legs if leg.main and not leg.upright]
    for leg in sorted(legs, key=lambda leg: plan.figures[leg.tail].x):
        tail, head = plan.figures[leg.tail], plan.figures[leg.head]
        dy = tail.spot(leg.tail_port).y - head.spot(leg.head_port).y
        if dy == 0.0:
            continue
        if plan.entries(leg.head) == 1 and _move(plan, plan.family(leg.head), 0.0, dy):
            continue
        if plan.exits(leg.tail) == 1 and tail.kind == "label":
            _move(plan, plan.family(leg.tail), 0.0, -dy)


def _stand_upright(plan: Plan) -> None:
    """Bring what stands above or hangs below into line with the port it serves."""
    upright = [leg for leg in plan.legs if leg.upright]
    for leg in sorted(upright, key=lambda leg: plan.levels[leg.tail]):
        inner, outer = plan.figures[leg.tail], plan.figures[leg.head]
        dx = inner.spot(leg.tail_port).x - outer.spot(leg.head_port).x
        if dx:
            _move(plan, {leg.head}, dx, 0.0)
