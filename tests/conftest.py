"""What holds for every test."""

import os
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from tests.lanes import EXAMPLES, SLOW, tries

FIRST = ("viewer", "random_kitchens", "opens")
"""Folders whose files take longest: begun first, so that no worker is left with one of them alone at the end."""

# Nothing that a test does reaches the jobs of whoever runs it.
os.environ["COUNTERSUNK_STORE"] = str(Path(tempfile.mkdtemp(prefix="countersunk-")) / "jobs.sqlite")

# Time is measured in tests/benchmarks and never judged here. Every run draws the same examples, so that a failure
# is somebody's change; who asks for another number of them gets others.
settings.register_profile("ours", deadline=None, derandomize=EXAMPLES is None, max_examples=tries(100))
settings.load_profile("ours")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """For ``-m quick``, do not even import a file that has no such mark: some take longer than the whole lane."""
    if config.option.markexpr != "quick" or collection_path.suffix != ".py":
        return None
    return "mark.quick" not in collection_path.read_text() or None


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is slow by default, and put the slow folders first; else the order stays."""
    if not SLOW:
        asked = [item for item in items if item.get_closest_marker("slow") is None]
        config.hook.pytest_deselected(items=[item for item in items if item not in set(asked)])
        items[:] = asked
    items.sort(key=lambda item: next((i for i, name in enumerate(FIRST) if name in item.path.parts), len(FIRST)))
