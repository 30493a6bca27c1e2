"""What the pages tell a reader to type runs, and prints what they show."""

import re

import pytest

PAGES = ["README.md", "docs/tutorial.md", "docs/study.md", "DEVELOPERS.md"]


@pytest.mark.quick("README.md")
@pytest.mark.parametrize("page", PAGES)
def test_page_runs(fresh, page):
    """Every block of commands runs, and its output is the one shown."""
    done = fresh("-m", "tests.shown", "--check", page)
    hint = "renew with: python -m tests.shown, and read what changed"
    assert done.returncode == 0, f"{done.stdout}\n{done.stderr}\n{hint}"


@pytest.mark.parametrize("page", PAGES)
def test_blocks_are_of_a_known_kind(root, page):
    """Every block is commands, output, a layout or code of this program."""
    text = (root / page).read_text(encoding="utf-8")
    fences = re.findall(r"^```(.*)$", text, re.MULTILINE)
    assert len(fences) % 2 == 0
    assert set(fences[::2]) <= {"sh", "text", "yaml", "python"}
    assert set(fences[1::2]) <= {""}


def test_gate_finds_its_two_blocks(root):
    """The first two blocks of the README set up and check a layout, and set up and test."""
    text = (root / "README.md").read_text(encoding="utf-8")
    first, second = re.findall(r"^```sh\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)[:2]
    assert "pip install" in first
    assert "plumbing check" in first
    assert "pip install" in second
    assert second.rstrip().endswith("pytest")
