"""Files a layout names: beside it or below its folder, nowhere else."""

import os
from pathlib import PurePosixPath, PureWindowsPath

from plumbing.layout.gathering import Faults, quoted
from plumbing.place import Place


def path_of(
    name: str, folder: str, endings: str | tuple[str, ...], place: Place, faults: Faults
) -> str | None:
    """Path of a file named in a layout; None where it may not be read, with the fault noted.

    Parameters
    ----------
    name : str
        As written.
    folder : str
        Folder of the layout file.
    endings : str or tuple of str
        Ending the name must have, such as `.stl`, or several.
    place : Place
        Where the name stands.
    faults : Faults
        Receives the fault.
    """
    first = endings if isinstance(endings, str) else endings[0]
    expected = f"a `{first}` file in the layout's folder or below, such as `tank{first}`"
    windows = PureWindowsPath(name)
    if (
        windows.drive
        or windows.root
        or PurePosixPath(name).is_absolute()
        or ".." in windows.parts
        or not name.lower().endswith(endings)
    ):
        faults.add(place, quoted(name), expected)
        return None
    home = os.path.realpath(folder or ".")
    path = os.path.realpath(os.path.join(home, name))
    if os.path.commonpath([home, path]) != home:
        faults.add(place, f"{quoted(name)}, which leads out of the layout's folder", expected)
        return None
    if not os.path.isfile(path):
        faults.add(place, f"{quoted(name)}, which is not there", expected)
        return None
    return path
