"""The line ends of a layout and the joints on them, for the checks that ask something of each."""

from collections.abc import Iterable, Iterator

from plumbing.checks.kit import Lacking
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Joint


@frozen
class End:
    """One end of a line with the joint it is pushed on or into."""

    line: Line
    joint: Joint
    tube: Tube


def _ends(layout: Layout, lines: Iterable[Line] | None = None) -> Iterator[End | Lacking]:
    """Every line end with its joint; what states no joint comes back as lacking."""
    for line in layout.lines.values() if lines is None else lines:
        joints = {side: layout.joint_at(line, side) for side in ("from", "to")}
        if not any(joints.values()):
            yield Lacking(f"lines.{line.name}.joint", line.name)
            continue
        for side, joint in joints.items():
            if joint is None:
                yield Lacking(f"lines.{line.name}.{side}-joint", line.name)
            else:
                yield End(line, joint, layout.tube_of(line))


def unstated(layout: Layout, lines: Iterable[Line] | None = None) -> Iterator[Lacking]:
    """Line ends that state no joint."""
    return (end for end in _ends(layout, lines) if isinstance(end, Lacking))


def stated(layout: Layout, lines: Iterable[Line] | None = None) -> Iterator[End]:
    """Line ends that state a joint."""
    return (end for end in _ends(layout, lines) if isinstance(end, End))


def kinds_used(
    layout: Layout, lines: Iterable[Line] | None = None
) -> tuple[tuple[Joint, tuple[str, ...]], ...]:
    """Each kind of joint in use, with the names of the lines that end on it."""
    found: dict[str, tuple[Joint, dict[str, None]]] = {}
    for end in stated(layout, lines):
        _, names = found.setdefault(end.joint.name, (end.joint, {}))
        names[end.line.name] = None
    return tuple((joint, tuple(names)) for joint, names in found.values())


@frozen
class Pairing:
    """A tube and a kind of joint that meet, with the lines where they do."""

    tube: Tube
    joint: Joint
    lines: tuple[str, ...]


def pairings(layout: Layout, lines: Iterable[Line] | None = None) -> tuple[Pairing, ...]:
    """Each tube with each kind of joint it meets."""
    found: dict[tuple[str, str], tuple[End, dict[str, None]]] = {}
    for end in stated(layout, lines):
        _, names = found.setdefault((end.tube.name, end.joint.name), (end, {}))
        names[end.line.name] = None
    return tuple(Pairing(end.tube, end.joint, tuple(names)) for end, names in found.values())
