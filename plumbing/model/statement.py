"""What somebody must make true and answer for: open, planned, done or measured."""

from typing import Literal

from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.stage import Stage

State = Literal["open", "planned", "done", "measured"]


@frozen(kw_only=True)
class Statement(Written):
    """A statement with its evidence.

    Attributes
    ----------
    due : str
        Stage at which it must hold; the table of what is due when are the defaults of the model.
    state : str
        open, planned, done or measured.
    value : str
        Measured value with its unit, as written; empty unless measured.
    on, by : str
        Date as 2026-05-01, and who; empty unless done or measured.
    instrument : str
        With what it was measured.
    note : str
        Anything worth saying.
    photo : str
        Name of an image file.
    """

    due: Stage
    state: State = "open"
    value: str = ""
    on: str = ""
    by: str = ""
    instrument: str = ""
    note: str = ""
    photo: str = ""

    @property
    def holds(self) -> bool:
        """Whether somebody says that it is so."""
        return self.state in ("done", "measured")

    @property
    def words(self) -> str:
        """As the layout file says it, such as `done 2026-05-01 by builder`."""
        if self.state == "measured":
            said = f"measured {self.value} on {self.on} by {self.by}"
            return f"{said} with {self.instrument}"
        return f"{self.state} {self.on} by {self.by}" if self.on else self.state


BUILT = Statement(due="built")
TESTED = Statement(due="bench-tested")
FLOWN = Statement(due="flown")
