"""What a change means for pieces that are cut: told by their shapes."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from shapely import Polygon

from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.counting.terms import default_terms
from countersunk.takeoff.jobs.consequences import SawnPiece, consequence, sawn_pieces
from countersunk.takeoff.stock.prices import demo_prices
from tests.specimens import open_kitchen


def changed(name, **fields):
    kitchen = open_kitchen(name)
    return kitchen, build(edited(kitchen.document, fields), kitchen.catalogue)


def of(before, after):
    return consequence(before, after, demo_prices(), default_terms())


def marks(pieces):
    return sorted(piece.part.mark for piece in pieces)


def test_the_same_kitchen_keeps_every_piece():
    kitchen = open_kitchen("corner")
    found = of(kitchen, kitchen)
    assert len(found.kept) == len(list(sawn_pieces(kitchen)))
    assert (found.cut_down, found.new, found.left_over, found.cost) == ((), (), (), Decimal("0.00"))


@pytest.mark.slow
def test_a_wall_read_4_mm_longer_is_two_tops_and_not_two_cents():
    """T1 is 4 mm longer and the shoulder of T2 moves. By hand at the demo prices: two lengths, 185.25 less 5 %."""
    before, after = changed("corner", **{"room.walls[0].length": 3604.0})
    found = of(before, after)
    assert marks(found.new) == ["T1", "T2"]
    assert found.cost == Decimal("175.99")
    more = take_off(after).totals.gross - take_off(before).totals.gross
    assert abs(more) < Decimal("1.00")


def test_a_wall_read_shorter_lets_the_longer_top_be_cut_down():
    before, after = changed("corner", **{"room.walls[0].length": 3596.0})
    found = of(before, after)
    assert "T1" in {new.part.mark for _, new in found.cut_down} | {p.part.mark for p in found.new}
    assert all(old.part.length + 0.01 >= new.part.length for old, new in found.cut_down)


def test_other_fronts_leave_every_front_over_and_nothing_else():
    before, after = changed("corner", **{"fronts.decor": "clay"})
    found = of(before, after)
    assert marks(found.new) == marks(found.left_over)
    assert {piece.decor for piece in found.new} == {"clay"}
    assert all(old.decor != "clay" for old in found.left_over)
    assert found.cost


def test_moving_a_unit_makes_no_piece_anew():
    """Names move with places; shapes do not: two units of one row change places."""
    kitchen = open_kitchen("straight")
    units = kitchen.document.runs[0].units
    number = next(
        i for i, (a, b) in enumerate(pairwise(units)) if "base" in a.unit and "base" in b.unit and a.unit != b.unit
    )
    swapped = [*units[:number], units[number + 1], units[number], *units[number + 2 :]]
    run = kitchen.document.runs[0].model_copy(update={"units": tuple(swapped)})
    document = kitchen.document.model_copy(update={"runs": (run, *kitchen.document.runs[1:]), "cutouts": ()})
    plain = build(kitchen.document.model_copy(update={"cutouts": ()}), kitchen.catalogue)
    found = of(plain, build(document, kitchen.catalogue))
    assert not [piece for piece in found.new if piece.part.id not in {n.part.id for n in plain.lengths}]


@pytest.mark.parametrize(("shape", "holds"), [
    (((0, 0), (500, 0), (500, 300), (0, 300)), True),
    (((0, 0), (600, 0), (600, 400), (0, 400)), True),
    (((0, 0), (600.1, 0), (600.1, 300), (0, 300)), False),
    (((0, 0), (600, 0), (600, 400), (300, 400), (300, 200), (0, 200)), True),
])  # fmt: skip
def test_what_fits_into_a_rectangle_can_be_cut_from_it(shape, holds):
    from dataclasses import replace

    from countersunk.takeoff.jobs.consequences import _holds

    board = next(p for p in sawn_pieces(open_kitchen("straight")) if not p.part.section).part
    plain = replace(board, pockets=(), banded=())
    old = SawnPiece(replace(plain, outline=Polygon([(0, 0), (600, 0), (600, 400), (0, 400)])), "")
    assert _holds(old, SawnPiece(replace(plain, outline=Polygon(shape)), "")) is holds
    bored = Polygon([(0, 0), (600, 0), (600, 400), (0, 400)], [[(250, 150), (350, 150), (350, 250), (250, 250)]])
    assert not _holds(
        SawnPiece(replace(plain, outline=bored), ""), SawnPiece(replace(plain, outline=old.part.outline), "")
    )
