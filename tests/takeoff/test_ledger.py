"""A ledger that must close over random kitchens, without and with a stock of offcuts: boards, tops, strips,
lengths, hardware, packs, what is bought whole and what is made to measure, in number and in measure."""

from dataclasses import replace

import pytest

from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.stock.offcuts import after
from tests.random_kitchens.properties import SEEDS, drawn
from tests.random_kitchens.rooms import cut_corners, l_shapes, long_rooms, open_walls, rectangles, tapers
from tests.specimens import DEMOS, open_kitchen
from tests.takeoff.by_hand import small_kitchen
from tests.takeoff.ledger import open_lines

SORTS = [(s, "metric") for s in (rectangles, l_shapes, long_rooms, open_walls, cut_corners, tapers)]
SORTS.append((rectangles, "inch"))


def closes(kitchen):
    """The kitchen and the same once more, cut from what the first one left."""
    first = take_off(kitchen)
    assert open_lines(kitchen, first) == []
    stock = after((), first.cut.used, first.cut.left)
    second = take_off(kitchen, offcuts=stock)
    assert open_lines(kitchen, second, stock) == []


def test_a_small_kitchen_closes():
    closes(small_kitchen())


@pytest.mark.slow
@pytest.mark.parametrize(("sort", "catalogue"), SORTS, ids=lambda x: getattr(x, "__name__", x))
@pytest.mark.parametrize("seed", SEEDS)
def test_a_random_kitchen_closes(seed, sort, catalogue):
    closes(drawn(sort, seed, catalogue))


@pytest.mark.slow
@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_a_demo_closes(path):
    closes(open_kitchen(path))


def test_a_ledger_that_is_changed_does_not_close():
    """Each kind of line by itself: one sheet, top, band, handle, hinge, appliance or order fewer is told."""
    kitchen = small_kitchen()
    taken = take_off(kitchen)
    for item in ("pb18", "pf38.600.2400", "band.pb18", "handle.bar", "hinge", "tap", "edging.38", "plinth.147"):
        fewer = replace(taken, materials=tuple(m for m in taken.materials if m.quantity.item != item))
        assert item == "tap" or open_lines(kitchen, fewer), item
