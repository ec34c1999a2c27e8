"""Edits of a document, and the file it is saved as."""

import pytest

from countersunk.model.edit.edits import edited
from countersunk.model.edit.kitchen_file import as_yaml
from countersunk.model.errors import InputError
from countersunk.model.kitchen import read_kitchen
from tests.specimens import SOME_DEMOS, document, open_kitchen


def test_a_field_is_changed_and_nothing_else():
    before = document()
    after = edited(before, {"runs[0].units[1].width": 800.0, "worktop.decor": "rain-slate"})
    assert after.runs[0].units[1].width == 800.0
    assert after.worktop.decor == "rain-slate"
    assert edited(after, {"runs[0].units[1].width": 600.0, "worktop.decor": "pale-oak"}) == before


def test_a_default_is_reached_by_taking_the_field_out():
    assert edited(document(cooks=2), {"cooks": None}).cooks == 1


def test_a_field_not_yet_there_is_made():
    assert edited(document(), {"worktop.overhang.front": 12.0}).worktop.overhang.front == 12.0


def test_a_bad_value_is_told_as_in_a_file():
    with pytest.raises(InputError, match=r"runs\[0\]\.start: found -5.0; allowed: a number from 0 to 20000"):
        edited(document(), {"runs[0].start": -5.0})


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_a_saved_kitchen_is_read_back_as_it_was(path):
    before = open_kitchen(path).document
    assert read_kitchen(as_yaml(before), "saved.yaml").document == before
