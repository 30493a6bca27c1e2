"""The page that says which paper serves which step names what is there."""

from __future__ import annotations

import re
from pathlib import Path

from report_subjects import subject

from plumbing.cli import COMMANDS
from plumbing.model.measured import MEASURES
from plumbing.report.cards.bench import bench_cards
from plumbing.report.dossier.contents import contents

PAGE = (Path(__file__).parents[2] / "docs" / "papers.md").read_text("utf-8")


def test_every_reading_stands_in_its_row():
    """The page has the fifteen cards by number and title, and every reading once."""
    cards = bench_cards(())
    for card in cards:
        assert f"| {card.number} {card.title} |" in PAGE
    for what in MEASURES:
        assert PAGE.count(f"`{what}`") == 1, what


def test_every_step_and_command_is_there():
    """Seventeen steps; every command named exists."""
    steps = re.findall(r"^\| (\d+)\. ", PAGE, re.MULTILINE)
    assert [int(step) for step in steps] == list(range(1, 18))
    assert set(re.findall(r"`plumbing (\w+)", PAGE)) <= set(COMMANDS)


def test_every_form_of_the_dossier_is_named():
    """What is to be filled in has a row among the papers."""
    for form in contents(subject("twin"))["forms"]:
        assert f"{form['title']} |" in PAGE
