"""What a user sees and may do while a long computation runs."""

from __future__ import annotations

import contextlib
import math
import signal
import sys
import threading
import time
from collections.abc import Iterator
from types import FrameType
from typing import TYPE_CHECKING

from plumbing.cli.common import STOPPED, tell
from plumbing.stopping import Watch, watched

if TYPE_CHECKING:
    from rich.progress import Progress

_PATIENCE = 1.0  # what takes longer than this shows that it runs [s]
_MEASURED = 5.0  # how long a computation has run when its length is estimated [s]
_SIGNALS = (signal.SIGINT, signal.SIGTERM)


@contextlib.contextmanager
def waiting(what: str) -> Iterator[Watch]:
    """Show how far it is, say beforehand if it takes long, and let Ctrl-C end it with what it has.

    A bar is shown if it takes over a second and errors go to a terminal; the estimate is one line
    on the error stream. A second Ctrl-C ends at once, with nothing.
    """
    with _bar(what) as bar, watched(what, _Teller(bar)) as watch, _stopped_by_signals(watch):
        yield watch


@contextlib.contextmanager
def showing(what: str) -> Iterator[None]:
    """Show that something is going on, if it takes over a second and errors go to a terminal."""
    with _bar(what):
        yield


def end(watch: Watch) -> None:
    """End with the exit code of what was stopped, if anything was."""
    if watch.cut:
        tell(f"plumbing: stopped, so the result is partial; not done: {', '.join(watch.cut)}")
        sys.exit(STOPPED)


class _Teller:
    """Moves the bar, and says once for each computation how long it takes, if that is long."""

    def __init__(self, bar: Progress | None) -> None:
        self.bar = bar
        self.begun: dict[str, float] = {}
        self.done: dict[str, float] = {}

    def __call__(self, what: str, share: float) -> None:
        """Hear how much of a computation is done, 0 to 1."""
        now = time.monotonic()
        if self.bar is not None:
            self.bar.update(self.bar.task_ids[0], description=what, total=1.0, completed=share)
        if share < self.done.get(what, 1.0):  # another of the kind
            self.begun[what] = now
        self.done[what] = share
        spent = now - self.begun[what]
        if spent < _MEASURED or share <= 0.0:
            return
        self.begun[what] = math.inf  # said, or not worth it
        minutes = math.ceil(spent * (1.0 - share) / share / 60.0)
        if minutes > 1:
            tell(f"{what}: about {minutes} min more; Ctrl-C ends it with what is done by then")


@contextlib.contextmanager
def _stopped_by_signals(watch: Watch) -> Iterator[None]:
    """Let the first signal stop the computation and the second end the program."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def heard(_number: int, _frame: FrameType | None) -> None:
        if watch.stop:
            raise KeyboardInterrupt
        watch.stop = True
        tell("Stopping with what is done; once more ends at once.")

    before = {number: signal.signal(number, heard) for number in _SIGNALS}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@contextlib.contextmanager
def _bar(what: str) -> Iterator[Progress | None]:
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import Progress

    bar = Progress(console=Console(stderr=True), transient=True)
    bar.add_task(what, total=None)
    timer = threading.Timer(_PATIENCE, bar.start)
    timer.daemon = True
    timer.start()
    try:
        yield bar
    finally:
        timer.cancel()
        bar.stop()
