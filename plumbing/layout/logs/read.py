"""From a CSV file to a recording, or to all its faults."""

from __future__ import annotations

import os

import numpy as np

from plumbing.errors import LayoutError
from plumbing.findings import Assumption
from plumbing.layout import nearby
from plumbing.layout.gathering import Faults
from plumbing.layout.logs.cells import Numbers, numbers_of
from plumbing.layout.logs.gaps import Rules, check_time, held
from plumbing.layout.logs.header import Header, header_of
from plumbing.layout.logs.lines import lines_of
from plumbing.layout.logs.ranges import check_range, throttle_factor
from plumbing.layout.logs.recording import Recording
from plumbing.model.flight import Log
from plumbing.physics.arrays import Array

ENDING = ".csv"
_LOADS = ("felt_forward", "felt_starboard", "felt_up")


def read_log(log: Log, folder: str) -> Recording:
    """Read a log that a layout names.

    Parameters
    ----------
    log : Log
        The log.
    folder : str
        Folder of the layout file, below which the log must be.

    Raises
    ------
    LayoutError
        It has faults: all of them, each with its place.
    """
    faults = Faults()
    path = nearby.path_of(log.file, folder, ENDING, log.place_of("file"), faults)
    if path is None:
        raise LayoutError(tuple(faults.found))
    return _read(path, os.path.join(folder, log.file), log)


def read_file(path: str | os.PathLike[str], log: Log | None = None) -> Recording:
    """Read a log given by its path.

    Parameters
    ----------
    path : path
        The file; at most 200 MB.
    log : Log, optional
        Names of its columns and how it is to be read; by default the usual ones.

    Raises
    ------
    LayoutError
        It has faults: all of them, each with its place.
    """
    file = os.fspath(path)
    return _read(file, file, log or Log(file=file))


def _read(path: str, file: str, log: Log) -> Recording:
    lines = lines_of(path, file)
    faults = Faults()
    header = header_of(lines, log.columns, file, faults)
    if header is None or "time" not in header.columns:
        raise LayoutError(tuple(faults.found))
    numbers = numbers_of(lines, header, file, faults)
    found, bridged = _checked(numbers, header, Rules(file, lines, header, log.longest_gap, faults))
    if faults.found:
        raise LayoutError(tuple(faults.found))
    time = found.pop("time")
    loads = [found.pop(name, None) for name in _LOADS]
    return Recording(
        file=file,
        time=time,
        felt=_felt(loads, len(time)),
        bridged=bridged,
        assumed=tuple(_assumed(numbers, bridged, found, loads)),
        **found,
    )


def _checked(numbers: Numbers, header: Header, rules: Rules) -> tuple[dict[str, Array], int]:
    """Columns in SI with gaps bridged; what is wrong goes to the faults."""
    values = _in_si(numbers, header, rules)
    dated = np.isfinite(values["time"])
    values = {name: column[dated] for name, column in values.items()}
    lines, time = numbers.lines[dated], values["time"]
    check_time(time, lines, header.columns["time"], rules)
    bridged = int((~dated).sum())
    for name in [name for name in values if name != "time"]:
        column = header.columns[name]
        if np.isfinite(values[name]).any():
            values[name], filled = held(values[name], time, lines, column, rules)
            bridged += filled
            continue
        if not column.guessed or name in {"flow", "throttle"}:
            rules.faults.add(
                rules.at(header.line, column), f"no number in column `{column.title}`", "numbers"
            )
        del values[name]
    return values, bridged


def _in_si(numbers: Numbers, header: Header, rules: Rules) -> dict[str, Array]:
    """Columns in SI, and g for load factors; anything infinite counts as an empty cell."""
    values = {}
    for name, plain in numbers.values.items():
        column = header.columns[name]
        factor = throttle_factor(plain) if column.factor is None else column.factor
        with np.errstate(over="ignore"):
            scaled = plain * factor
        scaled[~np.isfinite(scaled)] = np.nan
        check_range(name, scaled, factor, numbers.lines, column, rules)
        values[name] = np.clip(scaled, 0.0, 1.0) if name == "throttle" else scaled
    return values


def _felt(loads: list[Array | None], count: int) -> Array | None:
    if all(load is None for load in loads):
        return None
    usual = (0.0, 0.0, 1.0)
    columns = [
        np.full(count, other) if load is None else load
        for load, other in zip(loads, usual, strict=True)
    ]
    return np.stack(columns, axis=-1)


def _assumed(
    numbers: Numbers, bridged: int, found: dict[str, Array], loads: list[Array | None]
) -> list[Assumption]:
    """What the file does not say."""
    source = "not recorded"
    assumed = []
    if bridged:
        words = f"last value before it, {bridged} times"
        assumed.append(Assumption("log: cells without a number", words, source))
    if numbers.cut_off:
        assumed.append(Assumption("log: last line, cut off in the middle", "left out", source))
    has_loads = any(load is not None for load in loads)
    if not has_loads and "pitch" not in found and "roll" not in found:
        assumed.append(Assumption("log: attitude and load factors", "level, 1 g", source))
    elif has_loads:
        for name, load, usual in zip(_LOADS, loads, ("0 g", "0 g", "1 g"), strict=True):
            if load is None:
                assumed.append(Assumption(f"log: {name.replace('_', '-')}", usual, source))
    else:
        assumed.append(Assumption("log: load factors", "unaccelerated, 1 g", source))
    return assumed
