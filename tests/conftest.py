"""What holds for every test."""

import os

import pytest
from hypothesis import settings

FIRST = ("viewer", "random_kitchens")
"""Folders whose files take longest: begun first, so that no worker is left with one of them alone at the end."""

# Time is measured in tests/benchmarks and never judged here. Every run draws the same examples, so that a failure
# is somebody's change; who asks for another number of them gets others.
settings.register_profile("ours", deadline=None, derandomize="COUNTERSUNK_EXAMPLES" not in os.environ)
settings.load_profile("ours")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The slow folders before the others; within a folder as they were found."""
    items.sort(key=lambda item: next((i for i, name in enumerate(FIRST) if name in item.path.parts), len(FIRST)))
