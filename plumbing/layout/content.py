"""The bytes of a file that a user names: read once, and never more than is allowed."""

import os
import select
import stat

_PATIENCE = 10.0  # for somebody to write into a pipe [s]


def content_of(path: str, most: int) -> bytes:
    """Bytes of a file or pipe; one byte more than allowed where there are more.

    Parameters
    ----------
    path : str
        The file.
    most : int
        Bytes allowed.

    Raises
    ------
    OSError
        It cannot be opened or is a device, or nobody writes into it; `strerror` says so.
    ValueError
        It is no path.
    """
    number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    with open(number, "rb") as stream:
        kind = os.fstat(number).st_mode
        if stat.S_ISDIR(kind):
            raise IsADirectoryError(0, "a folder")
        if stat.S_ISCHR(kind) or stat.S_ISBLK(kind):
            raise OSError(0, "a device")
        if not stat.S_ISREG(kind):
            if not select.select([number], [], [], _PATIENCE)[0]:
                raise OSError(0, "a pipe into which nobody writes")
            os.set_blocking(number, True)
        return stream.read(most + 1)
