"""Commented layout files to start from, one for each usual topology."""

from importlib import resources

SCHEMA_FILE = "plumbing.schema.json"  # stands beside a new layout
EDITOR_LINE = f"# yaml-language-server: $schema={SCHEMA_FILE}\n"
STARTERS = {
    "single-main": "one main tank and a header tank",
    "chained-pair": "two saddle tanks in series, then a header tank",
    "teed-pair": "two saddle tanks teed together, then a header tank",
    "wings-into-main": "two wing tanks in series into a main, then a header tank",
    "twin-engine": "two engines, each with a half-system of its own",
}


def starter(name: str) -> str:
    """Text of a starter, with the line that hooks the schema beside it to editors.

    Parameters
    ----------
    name : str
        One of `STARTERS`.

    Raises
    ------
    KeyError
        There is no such starter.
    """
    if name not in STARTERS:
        raise KeyError(name)
    return _text(f"{name}.yaml")


def short_starter(name: str) -> str:
    """Text of the short form of a starter, which leaves out what has a band; as `starter`."""
    if name not in STARTERS:
        raise KeyError(name)
    return _text(f"short/{name}.yaml")


def _text(name: str) -> str:
    home = resources.files("plumbing.layout") / "starters"
    return EDITOR_LINE + (home / name).read_text(encoding="utf-8")
