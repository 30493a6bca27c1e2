"""The quick part of the tests and the rest."""

import pytest


def pytest_itemcollected(item: pytest.Item) -> None:
    """Mark as slow the cases that the mark `quick` of their test does not name."""
    mark = item.get_closest_marker("quick")
    evening = item.get_closest_marker("evening")
    if mark and not evening and not any(word in item.name for word in mark.args):
        item.add_marker(pytest.mark.slow)
