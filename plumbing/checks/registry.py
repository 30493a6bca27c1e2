"""The one immutable tuple of checks: files in the subject folders and rows of statements."""

import importlib
import inspect
import pkgutil
import re
import sys
from functools import cache
from types import ModuleType

import plumbing.checks as home
from plumbing.checks.kit import Check
from plumbing.checks.statements import statements
from plumbing.errors import UsageError

SUBJECTS = (
    "suction",
    "vents",
    "tanks",
    "order",
    "filters",
    "tubing",
    "routing",
    "filling",
    "ground",
    "papers",
    "safety",
)

_SECTION = re.compile(r"^(Why|Cure|Bad|Good|Over)(::|:)[ ]?(.*)$")


@cache
def checks() -> tuple[Check, ...]:
    """All checks, by subject and name.

    Raises
    ------
    TypeError
        A check's file is not complete; the message names it.
    UsageError
        Python runs without docstrings, in which the checks say what they are.
    """
    if sys.flags.optimize > 1:
        raise UsageError("the texts of the checks are docstrings; run Python without -OO")
    written = [
        _check(importlib.import_module(f"{home.__name__}.{subject}.{module.name}"), subject)
        for subject in SUBJECTS
        for module in _modules(subject)
    ]
    found = [*written, *statements()]
    names = [check.name for check in found]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise TypeError(f"two checks of one name: {', '.join(sorted(twice))}")
    return tuple(sorted(found, key=lambda check: (SUBJECTS.index(check.subject), check.name)))


def _modules(subject: str) -> list[pkgutil.ModuleInfo]:
    package = importlib.import_module(f"{home.__name__}.{subject}")
    return list(pkgutil.iter_modules(package.__path__))


def _check(module: ModuleType, subject: str) -> Check:
    sections = _sections(module)
    name = module.__name__.rpartition(".")[2].replace("_", "-")
    try:
        return Check(
            name=name,
            subject=subject,
            title=sections["Title"],
            why=sections["Why"],
            cure=sections["Cure"],
            bad=sections["Bad"],
            good=sections["Good"],
            starter=sections.get("Over", "single-main"),
            severity=module.SEVERITY,
            source=module.SOURCE,
            limit=getattr(module, "LIMIT", None),
            rests_on=getattr(module, "RESTS_ON", ""),
            find=module.find,
        )
    except (KeyError, AttributeError) as missing:
        raise TypeError(f"check {name} is not complete: {missing}") from None


def _sections(module: ModuleType) -> dict[str, str]:
    """Cut a check's docstring into title, Why, Cure, Over, Bad and Good."""
    texts: dict[str, list[str]] = {"Title": []}
    current = "Title"
    for line in inspect.cleandoc(module.__doc__ or "").splitlines():
        head = _SECTION.match(line)
        if head:
            current = head[1]
            texts[current] = [head[3]]
        else:
            texts[current].append(line)
    return {name: _joined(name, lines) for name, lines in texts.items()}


def _joined(name: str, lines: list[str]) -> str:
    if name in ("Bad", "Good"):
        return inspect.cleandoc("\n".join(["", *lines])).strip("\n") + "\n"
    return " ".join(line.strip() for line in lines if line.strip())
