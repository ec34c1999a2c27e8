"""Identity: what a part is called by its key lasts and means one piece, whatever is put in beside its unit."""

from itertools import product

import numpy as np
import pytest

from countersunk.model.edit.arrange import inserted, rows
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import ISLAND_BACK, PartKey, Position, Role, Which
from countersunk.model.kitchen import build, open_kitchen
from tests.specimens import DEMOS, SOME_DEMOS

EVERYWHERE = ("corner", "gasworks")
"""Demos in which a unit is put in at every place of every row; at one place of each row in the others."""

ALONG_ROWS = (Role.PLINTH, Role.CORNICE, Role.PELMET)
"""What is made for a whole row, and belongs to its first unit: it is longer once a unit is put in."""


def pieces(kitchen, name):
    """What each name of a part of a unit, or of what is let in, means: its owner, what it is, and where there."""
    frames = {u.key: u.frame for u in kitchen.units} | {c.key: c.frame for c in kitchen.cutouts}
    own = (p for p in kitchen.parts if p.owner in frames and p.role not in ALONG_ROWS and p.which != ISLAND_BACK)
    return {name(p): (p.owner, p.role, p.material, corners(p, frames[p.owner])) for p in own}


def corners(part, frame):
    """(8, 3) corners of the box round a part in the frame of what it belongs to, mm."""
    x0, y0, x1, y1 = part.outline.bounds
    box = product((x0, x1), (y0, y1), (0.0, part.thickness))
    return np.array([frame.from_room(part.pose.to_room(corner)) for corner in box])


REACH = 60.0
"""A panel at the end of a row reaches back to the wall, by what units stand off it, and elsewhere does not, mm."""


def meaning_another(before, after):
    """How many of the names that both have are those of another piece."""
    return sum(is_another(before[name], after[name]) for name in before.keys() & after.keys())


def is_another(one, other):
    """Whether owner, role, material or a corner differ; of a panel its back edge alone may lie elsewhere."""
    near = np.full(one[3].shape, 1e-6)
    if one[1] is Role.PANEL:
        at_back = np.isclose(one[3][:, 1], one[3][:, 1].min())
        near[at_back, 1] = REACH
    return one[:3] != other[:3] or bool((np.abs(one[3] - other[3]) > near).any())


def put_in(kitchen, everywhere):
    """The kitchen once with a filler at each place where there is room for it."""
    for field, row in rows(kitchen.document).items():
        filler = "filler" if getattr(row, "level", "floor") == "floor" else "wall-filler"
        for at in range(len(row.units) + 1) if everywhere else (len(row.units) // 2,):
            try:
                yield build(inserted(kitchen.document, field, at, {"unit": filler, "width": 20.0}))
            except InputError:  # no room for it there
                continue


@pytest.mark.slow
@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_of_all_parts_that_stay_none_changes_its_identity_and_none_means_another_piece(path):
    kitchen = open_kitchen(path)
    before = pieces(kitchen, lambda p: p.id)
    others = list(put_in(kitchen, path.stem in EVERYWHERE))
    assert others
    for other in others:
        after = pieces(other, lambda p: p.id)
        assert before.keys() <= after.keys()
        assert meaning_another(before, after) == 0
        assert {top.key for top in kitchen.lengths} <= {top.key for top in other.lengths}


@pytest.mark.parametrize("path", [p for p in DEMOS if p.stem in EVERYWHERE], ids=lambda p: p.stem)
def test_names_made_of_places_do_mean_other_pieces_then(path):
    """The measure above can fail: what people read is another piece wherever a unit is put in before it."""
    kitchen = open_kitchen(path)
    marked = pieces(kitchen, lambda p: p.mark)
    assert any(
        meaning_another(marked, pieces(other, lambda p: p.mark)) for other in put_in(kitchen, everywhere=False)
    )


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_keys_texts_and_marks_tell_every_part_of_a_kitchen_apart(path):
    kitchen = open_kitchen(path)
    count = len(kitchen.parts)
    assert len(kitchen.parts_by_key) == len(kitchen.parts_by_id) == len(kitchen.parts_by_mark) == count
    assert all(kitchen.marks[part.id] == part.mark for part in kitchen.parts)


@pytest.mark.parametrize(
    ("role", "which", "text"),
    [
        (Role.SIDE, Which(at=(Position.LEFT,)), "u-7.side.left"),
        (Role.HANDLE, Which(Role.DOOR, 2, Position.RIGHT), "u-7.handle.door.2.right"),
        (Role.RACK, Which(bay=3, numbers=(1, 2)), "u-7.rack.3.1.2"),
        (Role.FRIDGE_FRONT, Which(), "u-7.front.fridge"),
        (Role.WORKTOP, Which(), "u-7"),
    ],
)
def test_a_key_as_one_text(role, which, text):
    assert PartKey("u-7", role, which).text == text
    assert PartKey("u-7", role, which).owned_by("A3").text == text.replace("u-7", "A3")
