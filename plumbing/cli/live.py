"""`plumbing live`."""

from collections.abc import Mapping

import click

from plumbing import api
from plumbing.cli import common


@click.command("live")
@common.layout_argument
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    help="Port on this computer; default a free one.",
)
@click.option("--open/--no-open", "opened", default=True, help="Open the browser.")
def command(layout: str, port: int, opened: bool) -> None:
    """Show the report of LAYOUT in the browser and renew it whenever the file is saved.

    A form on the page puts rows to the logbook. Only this computer can see it. Stop with Ctrl-C.
    """
    from plumbing.report.live import Live

    with Live(layout, port, _log) as live:
        try:
            common.tell(f"{layout} is shown at {live.address}; stop with Ctrl-C.")
            if opened:
                import webbrowser

                webbrowser.open(live.address)
            live.run()
        except KeyboardInterrupt:
            common.tell("Stopped.")


def _log(layout: str, row: Mapping[str, str]) -> str:
    """Put a row to the logbook, and say where it stands."""
    entry = api.log(layout, row)
    return f"Wrote line {entry.place.line} of the logbook."
