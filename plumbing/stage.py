"""How far an aircraft has come, and what is due from when."""

from typing import Literal, get_args

from plumbing.frozen import frozen
from plumbing.place import NOWHERE, Place

Stage = Literal["drawing", "built", "bench-tested", "flown"]
STAGES: tuple[Stage, ...] = get_args(Stage)


def reached(stage: Stage, due: Stage) -> bool:
    """Whether an aircraft at a stage has come as far as another one."""
    return STAGES.index(stage) >= STAGES.index(due)


@frozen
class Due:
    """A statement that does not hold: a finding from its stage on, no more clear before.

    Attributes
    ----------
    check : str
        Name of the check.
    stage : str
        Stage from which it is a finding.
    statement : str
        Key path of the statement in the layout file.
    state : str
        `open` or `planned`.
    part : str
        Name of the part, as in the layout file.
    what : str
        One sentence: what the finding would say.
    place : Place
        Where the part stands in the file.
    """

    check: str
    stage: Stage
    statement: str
    state: str
    part: str
    what: str
    place: Place = NOWHERE
