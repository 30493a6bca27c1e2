"""How parts are named in a sentence."""

from collections.abc import Iterable

_MOST_NAMED = 4


def called(kind: str, name: str) -> str:
    """Kind and name of a part without saying a word twice.

    `pump P1`, but `the pump` for a pump named `pump`, and `port pump` for one named so.
    """
    words = set(kind.split())
    own = set(name.casefold().split())
    if own <= words:
        return f"the {kind}"
    return name if own & words else f"{kind} {name}"


def subject(kind: str, name: str) -> str:
    """The same at the beginning of a sentence."""
    words = called(kind, name)
    return words[:1].upper() + words[1:]


def listed(names: Iterable[str]) -> str:
    """Names in a row, such as `a, b and 3 more`."""
    names = tuple(names)
    if len(names) > _MOST_NAMED:
        return f"{', '.join(names[: _MOST_NAMED - 1])} and {len(names) - _MOST_NAMED + 1} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1] if names else "")))


def on_lines(names: Iterable[str]) -> str:
    """`on line a` or `on lines a and b`."""
    names = tuple(names)
    return f"on line{'' if len(names) == 1 else 's'} {listed(names)}"
