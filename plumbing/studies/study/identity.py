"""What makes two rows comparable: the study with every file it reads, and the program."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from functools import cache
from importlib import metadata
from pathlib import Path

from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.studies.study.plan import Plan

_NUMBERS_FROM = ("numpy", "scipy")  # other versions of these may change a last digit
_READ = (".stl", ".csv")  # endings of files that a layout names


def digest_of(plan: Plan) -> str:
    """SHA-256 over the study, its layouts, the files they name, and the program."""
    digest = hashlib.sha256(f"{program()} {plan.study.digest}".encode())
    for path in files_named(plan):
        digest.update(_content(path))
    return digest.hexdigest()


def files_named(plan: Plan) -> list[str]:
    """Paths of the files that the layouts, or values laid over them, name."""
    varied = [value for one in plan.study.listed for value in one.values]
    return [
        os.path.join(os.path.dirname(file), name)
        for file, layout in zip(plan.study.files, plan.study.layouts, strict=True)
        for name in sorted({name for node in (layout, *varied) for name in _named(node)})
    ]


@cache
def program() -> str:
    """SHA-256 over the program's own text and the versions of what it computes with."""
    root = Path(__file__).parents[2]
    digest = hashlib.sha256()
    for one in (metadata.version("plumbing"), *map(metadata.version, _NUMBERS_FROM)):
        digest.update(one.encode() + b"\0")
    for kind in ("*.py", "*.csv", "*.yaml"):
        for path in sorted(root.rglob(kind)):
            digest.update(path.relative_to(root).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()


def _named(node: Node) -> Iterator[str]:
    """Texts that may be names of files."""
    if isinstance(node, Scalar):
        if node.text.lower().endswith(_READ):
            yield node.text
    elif isinstance(node, Mapping):
        for inner in node.entries.values():
            yield from _named(inner)
    elif isinstance(node, Sequence):
        for inner in node.items:
            yield from _named(inner)


def _content(path: str) -> bytes:
    """SHA-256 of a file; empty where there is none, which the reader will say."""
    try:
        with open(path, "rb") as stream:
            return hashlib.file_digest(stream, "sha256").digest()
    except OSError:
        return b""
