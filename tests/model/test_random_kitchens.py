"""Random kitchens: each is built whole or refused in words."""

import os
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, event, given, settings

from model import solids
from model.document import Document
from model.errors import InputError
from model.kitchen import build
from model.tolerance import OVERLAP_VOLUME
from tests.strategies import kitchens

EXAMPLES = int(os.environ.get("COUNTERSUNK_EXAMPLES", "200"))
SLOW = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))


def built(data):
    """The kitchen, or None where it is refused; anything but InputError fails the test."""
    try:
        kitchen = build(Document.model_validate(data))
    except InputError as error:
        complete = all(p.field and p.found and p.allowed for p in error.problems)
        event("refused: " + error.problems[0].field.split(".")[-1][:20])
        if not complete:
            raise AssertionError(f"half an error: {error}") from None
        return None
    event("built")
    return kitchen


@SLOW
@given(kitchens())
def test_every_solid_is_closed_and_no_two_parts_share_a_place(data):
    kitchen = built(data)
    if kitchen is None:
        return
    assert len(kitchen.parts_by_id) == len(kitchen.parts)
    for part in kitchen.parts:
        mesh = trimesh.Trimesh(*solids.mesh(part), process=False)
        assert mesh.is_volume, part.id
        assert mesh.volume == pytest.approx(solids.volume(part), rel=1e-6)
        if part.section is None:
            assert mesh.volume == pytest.approx(part.area * part.thickness, rel=1e-9)
    assert solids.clashes(kitchen.parts) == []


@SLOW
@given(kitchens())
def test_edges_of_every_worktop_close_and_add_up(data):
    kitchen = built(data)
    for length in kitchen.lengths if kitchen else ():
        outline = length.part.outline
        outer = [e for e in length.part.edges if "/" not in e.id]
        assert sum(e.length for e in outer) == pytest.approx(outline.exterior.length, abs=1e-3)
        for a, b in zip(outer, [*outer[1:], outer[0]], strict=True):
            assert np.allclose(a.path.coords[-1], b.path.coords[0], atol=1e-3)


@settings(SLOW, max_examples=30)
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
