"""How a call ends: in words and an exit code, whatever went wrong, never with a traceback."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
import traceback
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

import click

from plumbing.cli.common import STOPPED, tell
from plumbing.errors import LayoutError, PlumbingError, Stopped

BAD_INPUT = 2
OUR_OWN_FAULT = 70  # as sysexits.h has it for an error in the program
NOBODY_READS = 141  # as every shell has it for a broken pipe
TRACE = "PLUMBING_TRACE"  # environment variable: set, the trace of an error of ours is shown
_MOST_FAULTS = 40
_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF)


@contextlib.contextmanager
def in_words() -> Iterator[None]:
    """End the program in words where the block raises."""
    if sys.stdout is None:
        tell("plumbing: the standard output is closed; send it to a file or to /dev/null")
        sys.exit(BAD_INPUT)
    try:
        with warnings.catch_warnings():
            if not sys.warnoptions:
                warnings.simplefilter("ignore")  # of libraries, with their places: for developers
            yield
    except (KeyboardInterrupt, click.Abort):
        tell("plumbing: stopped")
        sys.exit(STOPPED)
    except Exception as error:
        if os.environ.get(TRACE) and not isinstance(error, click.ClickException | PlumbingError):
            raise
        sys.exit(_told(error))


def nobody_reads() -> NoReturn:
    """End where the reader of the output went away, as `head` does: neither verdict nor fault."""
    _drop_output()
    sys.exit(NOBODY_READS)


def _told(error: Exception) -> int:
    """Exit code of an error, once it is told."""
    match error:
        case click.ClickException():
            _show_usage(error)
        case LayoutError():
            _show_faults(error)
        case Stopped():
            tell(f"plumbing: {error}; nothing is done that could be shown")
            return STOPPED
        case PlumbingError():
            tell(f"plumbing: {error}")
        case OSError(errno=number, filename=None) if number in _NO_ROOM:
            _drop_output()
            tell(f"plumbing: the output cannot be written: {error.strerror}")
        case _:
            _show_own_fault(error)
            return OUR_OWN_FAULT
    return BAD_INPUT


def _show_usage(wrong: click.ClickException) -> None:
    if isinstance(wrong, click.UsageError) and wrong.ctx is not None:
        tell(wrong.ctx.get_usage())
        tell(f"Try '{wrong.ctx.command_path} {wrong.ctx.help_option_names[0]}' for help.\n")
    tell(f"Error: {wrong.format_message()}")


def _show_faults(error: LayoutError) -> None:
    count = len(error.faults)
    word = "fault" if count == 1 else "faults"
    tell(f"plumbing: {count} {word} in the file; nothing was computed.")
    for fault in error.faults[:_MOST_FAULTS]:
        tell(f"{fault.place}\n    found     {fault.found}\n    expected  {fault.expected}")
    if count > _MOST_FAULTS:
        tell(f"... and {count - _MOST_FAULTS} more.")


def _show_own_fault(error: Exception) -> None:
    last = traceback.extract_tb(error.__traceback__)[-1]
    words = " ".join(f"{type(error).__name__}: {error}".split())
    tell(
        f"plumbing: an error of the program itself, not of your file: {words}\n"
        f"    at        {Path(last.filename).name}:{last.lineno}\n"
        f"    please    report it with the layout; {TRACE}=1 shows the whole trace"
    )


def _drop_output() -> None:
    """Send what is still unwritten nowhere: at the end it would fail once more."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
