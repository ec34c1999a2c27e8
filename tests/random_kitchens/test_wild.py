"""Kitchens that nobody would think of: each is built whole or refused in words."""

from dataclasses import replace
from itertools import combinations

from hypothesis import HealthCheck, given, settings

from countersunk.model.geometry import solids
from countersunk.model.tolerance import OVERLAP_VOLUME
from tests.lanes import EXAMPLES, tries
from tests.random_kitchens.properties import built, everything_holds
from tests.strategies import kitchens

COPY = 1_000
"""A number that no part of a kitchen has."""

MANY = settings(max_examples=int(EXAMPLES or tries(250)), suppress_health_check=list(HealthCheck))


@MANY
@given(kitchens())
def test_all_that_holds_of_a_kitchen_where_it_is_not_refused(data):
    kitchen = built(data)
    if kitchen is not None:
        everything_holds(kitchen)


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
    copied = replace(part.key, which=replace(part.which, numbers=(*part.which.numbers, COPY)))
    return replace(part, key=copied, pose=part.pose.moved(3.0, 3.0, 3.0))
