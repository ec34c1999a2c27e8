"""Random kitchens: whatever can be built is taken off whole, and everything on a line comes from the kitchen."""

import json
import os

import pytest
from hypothesis import HealthCheck, assume, given, settings

from model import solids
from model.document import Document
from model.errors import InputError
from model.kitchen import build
from takeoff.registry import measured
from takeoff.report import as_json, csv_bytes
from takeoff.takeoff import take_off
from tests.strategies import kitchens
from tests.takeoff.by_hand import ids_of

EXAMPLES = int(os.environ.get("COUNTERSUNK_EXAMPLES", "100"))
SLOW = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))


def built(data):
    try:
        return build(Document.model_validate(data))
    except InputError:
        assume(False)


@SLOW
@given(kitchens())
def test_every_kitchen_is_taken_off_and_traced(data):
    kitchen = built(data)
    taken, known = take_off(kitchen), ids_of(kitchen)
    assert [q.formula for q in taken.quantities if q.rule == "none"] == []  # every part is counted by some rule
    for q in taken.quantities:
        assert q.ids, q.item
        assert set(q.ids) <= known, q.item
        assert sum(c.amount for c in q.contributions) == pytest.approx(q.net, rel=1e-9)
        assert (q.packs is None) == bool(q.problem)
        assert q.packs is None or q.ordered >= q.needed - 1e-9
    assert json.dumps(as_json(taken))
    assert csv_bytes(taken)


@SLOW
@given(kitchens())
def test_boards_and_tops_weigh_what_their_solids_say(data):
    kitchen = built(data)
    shares = measured(kitchen)
    for share in shares["board-area"]:
        part = kitchen.parts_by_id[share.id]
        assert share.amount * part.thickness == pytest.approx(solids.volume(part), rel=1e-9)
    for share in shares["worktop-mass"]:
        mass = solids.volume(kitchen.parts_by_id[share.id]) * kitchen.catalogue.stocks[share.key].density * 1e-9
        assert share.amount == pytest.approx(mass, rel=5e-4)
