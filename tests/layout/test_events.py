"""Two readers of YAML: where the quick one answers, it says what the thorough one says."""

import random

import pytest
from layout_samples import DEMOS, SMALL

from plumbing.errors import LayoutError
from plumbing.layout import events, tree
from plumbing.layout.gathering import Faults

SIGNS = "ab1 :-{}[],\n'\"#&*!|>%@`\\\t?~."
WRITINGS = ("a: b: c", "{a: , b}", "[? a : b]", '{"a":b}', "- ", "\n  ", "\r\n", "---\n", "...\n",
            "|+", ">2", "%YAML 1.1\n---\n", "*a", "&a ", "!!str ", "\\x41", "[a b: c]", "::", " #",
            "\n\n", "é", "a:b", ":,", "?:")  # fmt: skip


def said(text):
    """The tree of a text and its faults, or the faults at which the reading stopped."""
    faults = Faults()
    try:
        return tree.grow(text, "f.yaml", faults), tuple(faults.found)
    except LayoutError as error:
        return None, error.faults


def damaged(dice):
    """A few lines of a layout with something written into them."""
    rows = dice.choice(TEXTS).splitlines(keepends=True)
    first = dice.randrange(len(rows))
    text = "".join(rows[first : first + dice.randrange(1, 8)])
    for _ in range(dice.randrange(3)):
        at = dice.randrange(len(text) + 1)
        text = text[:at] + dice.choice((*WRITINGS, *SIGNS)) + text[at + dice.randrange(3) :]
    return text


TEXTS = (SMALL, *(path.read_text(encoding="utf-8") for path in DEMOS))


@pytest.mark.parametrize("seed", range(3))
def test_both_readers_say_the_same(seed, monkeypatch):
    """Second method: ruamel.yaml alone gives the same values, places and faults."""
    dice = random.Random(seed)
    texts = [*TEXTS, *(damaged(dice) for _ in range(400))]
    quick = [said(text) for text in texts]
    answered = sum(events._read_quickly(text) is not None for text in texts)
    monkeypatch.setattr(events, "_read_quickly", lambda _: None)
    for text, one in zip(texts, quick, strict=True):
        assert one == said(text), text
    assert answered > len(texts) / 10
