"""The result of a flight as JSON and its history as CSV."""

from __future__ import annotations

import csv
from io import StringIO
from typing import Any

from plumbing.report.json_schema import flight_schema
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.words import harmless, opening, shown
from plumbing.simulation.books import Books
from plumbing.simulation.flight_result import Flown, History


def fly_data(flown: Flown) -> dict[str, Any]:
    """Give a flight's result as plain data in SI."""
    flight: dict[str, Any] = keyed(
        flown,
        flight_schema(),
        order=[{"tank": name, "empty_after_s": time} for name, time in flown.order],
        pockets=[
            {
                "tank": one.tank,
                "volume_m3": one.volume,
                "at_m": list(one.at),
                "ridge_m": one.ridge,
                "baffled": one.baffled,
            }
            for one in flown.pockets
        ],
        airstream_Pa={
            opening(outlet): {
                "least": float(flown.history.outside[:, number].min()),
                "most": float(flown.history.outside[:, number].max()),
            }
            for number, outlet in enumerate(flown.history.outlets)
        },
        books={"flight": _books(flown.books), "until_an_engine_stops": _books(flown.dry_books)},
    )
    return flight


def _books(books: Books) -> dict[str, Any]:
    return {
        "until_s": books.until,
        "on_board_m3": dict(books.on_board),
        "burnt_m3": dict(books.burnt),
        "left_m3": dict(books.left),
        "lost": [
            {"outlet": opening(outlet), "phase": phase, "volume_m3": volume}
            for (outlet, phase), volume in books.lost.items()
        ],
    }


def fly_json(flown: Flown) -> str:
    """Write a flight's result."""
    return json_text(fly_data(flown))


def history_csv(flown: Flown, history: History) -> str:
    """Write a history, a row a moment, units in the head."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_head(history))
    profile = flown.profile if history is flown.history else flown.dry_profile
    for row in range(len(history.time)):
        writer.writerow(
            [harmless(profile.phase[history.stretch[row]])]
            + [f"{value:.9g}" for value in _values(history, row)]
        )
    return out.getvalue()


def _head(history: History) -> list[str]:
    names = [shown(name) for name in history.tanks]
    pumps = [shown(name) for name in history.pumps]
    return [
        "phase",
        "time [s]",
        *(f"fuel in {name} [m3]" for name in names),
        *(f"flow of {name} [m3/s]" for name in pumps),
        *(f"liquid share at {name} [-]" for name in pumps),
        *(f"suction at {name} [Pa]" for name in pumps),
        *(f"pressure in {name} [Pa]" for name in names),
        *(("mass [kg]", "cg x [m]", "cg y [m]", "cg z [m]") if history.cg is not None else ()),
        "rolling moment [N m]",
    ]


def _values(history: History, row: int) -> list[float]:
    balance: list[float] = []
    if history.cg is not None and history.mass is not None:
        balance = [float(history.mass[row]), *(float(value) for value in history.cg[row])]
    return [
        float(history.time[row]),
        *map(float, history.volume[row]),
        *map(float, history.flow[row]),
        *map(float, history.share[row]),
        *map(float, history.suction[row]),
        *map(float, history.pressure[row]),
        *balance,
        float(history.moment[row]),
    ]
