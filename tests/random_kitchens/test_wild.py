"""Kitchens that nobody would think of: each is built whole or refused in words.

What is drawn here likes limits: a boxing just as deep as a top, a wall just as far as counts as near. On which
side of those a kitchen falls once it is mirrored or moved is rounding: that is asked of kitchens by lot, in the
other files.
"""

from dataclasses import replace
from itertools import combinations

from hypothesis import HealthCheck, given, settings

from model import solids
from model.tolerance import OVERLAP_VOLUME
from takeoff.takeoff import take_off
from tests.random_kitchens.properties import (
    SEEDS,
    boards_rebuild_the_outer_box,
    built,
    edges_of_tops_close,
    solids_are_closed,
    takeoff_is_whole,
)
from tests.strategies import kitchens

MANY = settings(max_examples=len(SEEDS), suppress_health_check=list(HealthCheck))


@MANY
@given(kitchens())
def test_all_that_holds_of_a_kitchen_where_it_is_not_refused(data):
    kitchen = built(data)
    if kitchen is not None:
        solids_are_closed(kitchen)
        assert solids.clashes(kitchen.parts) == []
        edges_of_tops_close(kitchen)
        boards_rebuild_the_outer_box(kitchen)
        takeoff_is_whole(kitchen, take_off(kitchen))


@settings(MANY, max_examples=30)
@given(kitchens())
def test_clashes_that_boxes_rule_out_are_none(data):
    kitchen = built(data)
    if kitchen is None:
        return
    some = [*kitchen.parts[:20], *(_beside(part) for part in kitchen.parts[:20])]
    slow = [(a.id, b.id) for a, b in combinations(some, 2) if solids.overlap(a, b) > OVERLAP_VOLUME]
    assert slow, "a part and its copy 3 mm beside it must clash, else this test says nothing"
    assert [(a.id, b.id) for a, b, _ in solids.clashes(some)] == slow


def _beside(part):
    return replace(part, id=f"{part.id}.copy", pose=part.pose.moved(3.0, 3.0, 3.0))
