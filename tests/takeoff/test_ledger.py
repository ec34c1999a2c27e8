"""A ledger of boards that must close, over random kitchens: every board is cut once from a sheet that is ordered,
at its own size, and the sheets hold in number and in measure what the order says."""

from collections import Counter

import pytest

from countersunk.takeoff.counting.takeoff import take_off
from tests.random_kitchens.properties import SEEDS, drawn
from tests.random_kitchens.rooms import rectangles

pytestmark = pytest.mark.slow

STEP = 0.1
"""mm; panels are planned in tenths, rounded up."""


@pytest.mark.parametrize("seed", SEEDS)
def test_boards_close(seed):
    kitchen = drawn(rectangles, seed)
    taken = take_off(kitchen)
    boards = {
        p.id: p
        for p in kitchen.parts
        if p.material in kitchen.catalogue.boards and p.id not in kitchen.ready_parts and p.role != "plinth"
    }
    cut = Counter(place.id for plan in taken.boards for sheet in plan.sheets for place in sheet.places)
    unplaced = Counter(id_ for plan in taken.boards for id_ in plan.unplaced)
    assert set(cut.values()) <= {1}
    assert set(cut) | set(unplaced) == set(boards)
    for plan in taken.boards:
        line = next(q for q in taken.quantities if (q.item, q.decor) == (plan.board.code, plan.decor_code))
        assert line.packs == len([s for s in plan.sheets if not s.offcut])
        for sheet in plan.sheets:
            assert sum(p.length * p.width for p in sheet.places) <= sheet.size[0] * sheet.size[1]
            for place in sheet.places:
                part = boards[place.id]
                assert part.material == plan.board.code
                made, size = sorted((place.length, place.width)), sorted((part.length, part.depth))
                assert all(-1e-6 <= a - b <= STEP + 1e-6 for a, b in zip(made, size, strict=True))
        measured = sum(boards[c.id].outline.area for c in line.contributions) / 1e6
        assert line.net == pytest.approx(measured, rel=1e-6)
