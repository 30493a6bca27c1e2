"""`plumbing completion`."""

import click
from click.shell_completion import get_completion_class


@click.command("completion")
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
def command(ctx: click.Context, shell: str) -> None:
    """Print the completion script for SHELL; add it to the shell's start-up file."""
    made = get_completion_class(shell)
    root = ctx.find_root()
    if made is None:
        ctx.fail(f"no completion for {shell}")
    click.echo(made(root.command, {}, "plumbing", "_PLUMBING_COMPLETE").source())
