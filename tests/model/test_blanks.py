"""Conservation: a blank is its piece, its slugs, its offcuts and the kerf, in area and in volume; nothing else."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.geometry.solids import volume
from countersunk.model.kitchen import build
from countersunk.model.tops.blanks import sawn
from tests.lanes import tries
from tests.specimens import SOME_DEMOS, cornered, document, open_kitchen
from tests.strategies import kitchens


def conserved(length, kerf, trim):
    cut = sawn(length, kerf=kerf, trim=trim)
    whole = [*cut.parts, *(p for p in getattr(cut.kerf, "geoms", [cut.kerf]) if isinstance(p, Polygon))]
    assert sum(p.area for p in whole) == pytest.approx(cut.blank.area, abs=0.01)
    assert unary_union(whole).symmetric_difference(cut.blank).area < 0.01
    return cut, whole


# A row of 1620 x 600 with a sink's line of 480 x 480 (corners of 20), a blade of 4, 10 trimmed off both ends:
# kerf: two ends 600 x 4, and inside the line 480² - 472² less what its round corners take;
# offcuts: two of 6 x 600; one slug.
def test_a_blank_by_hand():
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    cut, _ = conserved(kitchen.lengths[0], 4.0, 10.0)
    assert cut.blank.area == pytest.approx(1640.0 * 600.0)
    assert sorted(p.area for p in cut.offcuts) == pytest.approx([3600.0, 3600.0])
    (slug,) = cut.slugs
    assert slug.area == pytest.approx(472.0**2 - (4 - math.pi) * 16.0**2, rel=1e-4)
    line = 480.0**2 - (4 - math.pi) * 20.0**2
    assert cut.kerf.area == pytest.approx(2 * 600.0 * 4.0 + line - slug.area, rel=1e-3)


@given(
    angle=st.floats(60.0, 150.0),
    female=st.sampled_from(["A", "B"]),
    kerf=st.floats(0.5, 6.0),
    trim=st.floats(0, 30),
)
def test_nothing_is_lost_at_any_corner(angle, female, kerf, trim):
    for length in build(cornered(angle, female)).lengths:
        conserved(length, kerf, trim)


@settings(max_examples=tries(60))
@given(kitchens())
def test_nothing_is_lost_of_any_kitchen_in_area_or_volume(data):
    try:
        kitchen = build(Document.model_validate(data))
    except InputError:
        return
    for length in kitchen.lengths:
        in_area_and_volume(length)


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_nothing_is_lost_of_the_demo_kitchens(path):
    for length in open_kitchen(path).lengths:
        in_area_and_volume(length)


def in_area_and_volume(length):
    """The pieces of the blank as solids with the stock's own section: their volumes are the blank's."""
    cut, whole = conserved(length, 4.0, 10.0)
    bare = replace(length.part, pockets=(), edges=())
    solids = [volume(replace(bare, outline=p)) for p in whole if p.area > 1.0 and p.is_valid]
    assert sum(solids) == pytest.approx(volume(replace(bare, outline=cut.blank)), rel=1e-5)
