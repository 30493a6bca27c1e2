"""`plumbing live`."""

import click

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

    Only this computer can see it. Stop with Ctrl-C.
    """
    from plumbing.report.live import Live

    with Live(layout, port) as live:
        try:
            common.tell(f"{layout} is shown at {live.address}; stop with Ctrl-C.")
            if opened:
                import webbrowser

                webbrowser.open(live.address)
            live.run()
        except KeyboardInterrupt:
            common.tell("Stopped.")
