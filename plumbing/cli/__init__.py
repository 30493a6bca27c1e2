"""The command line: parse, call the front door, print, exit code.

Exit codes: 0 clean, 1 findings at or above the chosen severity or a result that could not be
computed, 2 bad input or usage.
"""

import importlib
import sys
from typing import Any

import click

COMMANDS = {
    "check": "Check a layout: findings at peak flow and as a network.",
    "measure": "List what to measure next, that first which decides most.",
    "draw": "Draw the schematic with the findings marked.",
    "fly": "Fly a layout: which tank empties first, air, endurance, balance.",
    "fill": "Fill and drain: order, trapped air, tank pressures, highest safe flow.",
    "park": "Leave it standing with fuel: siphons, levels, leaks to the engine, heat.",
    "faults": "Fly it with one thing wrong at a time: what stops, and when.",
    "spread": "Run it over the tolerances: chance of each finding, and what drives it.",
    "tilt": "Map the fuel the pickups cannot reach over pitch and roll.",
    "remedy": "Try remedies on copies: what each clears, spoils and costs.",
    "compare": "Compare two layout files: values, findings, tests to be done again.",
    "size": "Choose the tube of every suction and vent line at once.",
    "study": "Compute every variant a study file lists, as one table.",
    "schedule": "List lines, cuts, fittings, tanks and passages, as text or CSV.",
    "template": "Draw drill templates of the formers at full size: PDF, SVG or DXF.",
    "report": "Write the whole report: a page for the browser or a dossier to sign.",
    "live": "Show the report in the browser and renew it whenever the file is saved.",
    "asbuilt": "Compare what was measured on the bench with what was predicted.",
    "logbook": "Keep the logbook: burn, timer, drift and upkeep as flown.",
    "explain": "Explain a check, tube, material, key or list; alone list all checks.",
    "new": "Write a commented layout file to start from.",
    "upgrade": "Rewrite a file of format 1: statements with evidence for yes and no.",
    "schema": "Print the JSON Schema of the layout file, for editors.",
    "completion": "Print the shell's completion script.",
}


class Commands(click.Group):
    """Loads a command's module only when that command is called: help must answer at once."""

    def main(self, *args: Any, **extra: Any) -> Any:
        """Run a command; whatever goes wrong ends in words and an exit code."""
        from plumbing.cli.endings import in_words

        with in_words():
            sys.exit(super().main(*args, **{**extra, "standalone_mode": False}) or 0)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; a reader that goes away in the middle is no finding."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            from plumbing.cli.endings import nobody_reads

            nobody_reads()

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order a user meets them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load the command's module."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = importlib.import_module(f"plumbing.cli.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands from the table above, without loading them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Offer the nearest command for one that does not exist."""
        from difflib import get_close_matches

        name = args[0]
        if name not in COMMANDS and not name.startswith("-"):
            close = get_close_matches(name, COMMANDS, n=1)
            hint = f" Did you mean `{close[0]}`?" if close else ""
            ctx.fail(f"There is no command `{name}`.{hint}")
        return super().resolve_command(ctx, args)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="plumbing", message="plumbing %(version)s")
def main() -> None:
    """Check the fuel plumbing of a turbine model aircraft before drilling the first passage.

    Start with `plumbing new`, which asks and writes mine.yaml, then `plumbing check mine.yaml`.
    """
