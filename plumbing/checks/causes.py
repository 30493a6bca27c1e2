"""What to mend, and what follows from it: findings gathered under their causes.

A consequence is what goes when its cause alone is mended on a copy. Where nothing was tried, the
table of `follows.toml` says which checks are known to follow from which.
"""

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files

from plumbing.findings import Cause, Finding
from plumbing.frozen import frozen
from plumbing.model.layout import PART_SECTIONS, Layout, split_port
from plumbing.network import Survey

Key = tuple[str, str]
_NEAR, _FAR = "at-the-part", "in-the-system"


@frozen
class Mended:
    """What became of the findings when one check's findings were mended on a copy.

    Attributes
    ----------
    gone : frozenset of (str, str)
        Check and part of those no longer found.
    eased : frozenset of (str, str)
        Check and part of those found less bad.
    """

    gone: frozenset[Key]
    eased: frozenset[Key]


def key(finding: Finding) -> Key:
    """What tells a finding from others before and after a change: its check and its part."""
    return finding.check, finding.part


@cache
def known() -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """Checks that each check's findings may follow from, by how near they must be."""
    text = files(__package__).joinpath("follows.toml").read_text("utf-8")
    return {
        near: {effect: tuple(causes) for effect, causes in table.items()}
        for near, table in tomllib.loads(text).items()
    }


@cache
def may_follow(effect: str) -> frozenset[str]:
    """Checks that a check's findings may follow from, along the chain of the table."""
    direct = {cause for table in known().values() for cause in table.get(effect, ())}
    return frozenset(direct).union(*(may_follow(cause) for cause in direct))


def gathered(
    layout: Layout,
    found: Survey,
    findings: Sequence[Finding],
    mended: Mapping[str, Mended] | None = None,
) -> tuple[Cause, ...]:
    """Gather findings under their causes.

    Parameters
    ----------
    layout, found
        The layout and its survey.
    findings : sequence of Finding
        What all checks found, worst first.
    mended : mapping of str to Mended, optional
        What was tried, by the check whose findings were mended.

    Returns
    -------
    tuple of Cause
        Numbered, worst first: by severity, then by how far and how surely it is over its limit.
    """
    tried = mended or {}
    near = _Nearness(layout, found)
    parents = {id(one): _parents(one, findings, near, tried) for one in findings}
    roots: dict[str, list[Finding]] = {}
    follows: dict[str, list[Finding]] = {}
    for one in findings:
        root = _root(one, parents)
        (roots if root is one else follows).setdefault(root.check, []).append(one)
    made = [
        Cause(0, tuple(same), tuple(follows.get(check, ())), check in tried)
        for check, same in roots.items()
    ]
    made.sort(key=lambda cause: (cause.severity.rank, -_excess(cause)))
    return tuple(
        Cause(number, one.findings, one.follows, one.sure)
        for number, one in enumerate(made, start=1)
    )


def _excess(cause: Cause) -> float:
    """Excess of the worst of its findings of its own severity."""
    every = (*cause.findings, *cause.follows)
    return max(one.excess for one in every if one.severity is cause.severity)


def _parents(
    effect: Finding,
    findings: Sequence[Finding],
    near: "_Nearness",
    tried: Mapping[str, Mended],
) -> list[Finding]:
    """Findings that one follows from: as tried, else as the table knows."""
    guessed = [
        one for one in findings if one.check in may_follow(effect.check) and near(one, effect)
    ]
    alike = {key(one) for one in findings if one.check == effect.check}
    seen = [
        one
        for one in findings
        if one.check in tried
        and one.check != effect.check
        and effect.check not in may_follow(one.check)
        and (alike if one not in guessed else {key(effect)}) <= tried[one.check].gone
    ]
    if seen:
        return seen
    alone = len({one.check for one in guessed if one.check in tried}) == 1
    return [
        one
        for one in guessed
        if not (alone and one.check in tried and key(effect) not in tried[one.check].eased)
    ]


def _root(one: Finding, parents: Mapping[int, list[Finding]]) -> Finding:
    """The first cause along the chain: of several the worst, as the findings are sorted."""
    seen = [one]
    while True:
        above = [x for x in parents[id(seen[-1])] if all(x is not y for y in seen)]
        if not above:
            return seen[-1]
        seen.append(above[0])


class _Nearness:
    """Whether two findings can have to do with each other."""

    def __init__(self, layout: Layout, found: Survey) -> None:
        self._layout = layout
        self._island = {
            name: number
            for number, island in enumerate(found.islands)
            for name in (*island.parts, *island.lines)
        }
        sections = (*PART_SECTIONS, "lines")
        self._named = {name for section in sections for name in getattr(layout, section)}

    def __call__(self, cause: Finding, effect: Finding) -> bool:
        if effect.check in known()[_NEAR] and cause.check in known()[_NEAR][effect.check]:
            return bool(self._at(cause) & self._at(effect))
        one, other = self._islands(cause), self._islands(effect)
        return not one or not other or bool(one & other)

    def _at(self, finding: Finding) -> set[str]:
        """Its parts, and for a line the parts at its ends."""
        names = {finding.part, *finding.parts} - {""}
        ends = set()
        for name in names & self._layout.lines.keys():
            line = self._layout.lines[name]
            ends |= {split_port(line.from_)[0], split_port(line.to)[0]}
        return names | ends

    def _islands(self, finding: Finding) -> set[int]:
        """Systems it is about; none for what concerns the whole aircraft."""
        if finding.part not in self._named:
            return set()
        return {self._island[one] for one in self._at(finding) if one in self._island}
