"""Every ordinary kitchen of this folder can be said whole: built, checked, counted, priced, drawn, and moved.

What a file is there to show is asked in a test of its own beside this one.
"""

from pathlib import Path

import pytest

import countersunk
from countersunk.model.checks.finding import Severity, Verdict
from countersunk.viewer.drawing.papers import all_papers
from tests.moved import random_moves, told

KITCHENS = sorted(Path(__file__).parent.glob("*.yaml"))

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("path", KITCHENS, ids=lambda p: p.stem)
def test_an_ordinary_kitchen_is_said_whole(path):
    kitchen = countersunk.open_kitchen(path)
    missed = [f for f in countersunk.check(kitchen) if f.verdict is not Verdict.MET]
    assert [f.rule for f in missed if f.severity is Severity.MUST] == []
    taken = countersunk.take_off(kitchen)
    assert not taken.is_estimate
    assert [line.notes for line in taken.materials if line.missing] == []
    assert all_papers(kitchen)
    assert countersunk.scene(kitchen)


@pytest.mark.parametrize("path", KITCHENS, ids=lambda p: p.stem)
def test_an_ordinary_kitchen_is_the_same_elsewhere(path):
    document = countersunk.open_kitchen(path).document
    here = told(document)
    for move in random_moves(1):
        assert told(document, move).differs_from(here) == [], move
