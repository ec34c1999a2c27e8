"""The examples in docstrings are run, and are true."""

import doctest
import importlib

import pytest

from countersunk import shared

ROOT = shared.FOLDER.parent
SHOWN_BY_EXAMPLE = [
    ".".join(("countersunk", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")
    for package in ("countersunk", "shared", "model", "takeoff", "viewer")
    for path in sorted((ROOT / package).rglob("*.py"))
    if "node_modules" not in path.parts and ">>> " in path.read_text()
]


@pytest.mark.parametrize("name", SHOWN_BY_EXAMPLE)
def test_examples_in_docstrings_are_true(name):
    tried = doctest.testmod(importlib.import_module(name))
    assert tried.attempted
    assert not tried.failed
