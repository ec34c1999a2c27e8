"""The verifier finds what it is there to find: each fault made by hand."""

from __future__ import annotations

import pytest

from countersunk.model.errors import CountersunkError
from countersunk.takeoff.cutting import Blade, Cut, CutPiece, CutPlan, CutStock, Used, faults
from countersunk.takeoff.cutting.verify import checked

BAR = CutStock("bar", 1000, 10, 1)
SHEET = CutStock("sheet", 1000, 10, width=600)
SAW = Blade(kerf=4, trim=10)


def on(stock, *cuts, bound=0):
    return CutPlan((Used(stock, cuts),), bound)


PANEL, TURNED = CutPiece("p", 400, 1, 200), CutPiece("t", 400, 1, 200, turns=True)
GOOD = [
    (on(BAR, Cut("a", 10, 400), Cut("a", 414, 400)), [CutPiece("a", 400, 2)], BAR),
    (on(SHEET, Cut("p", 10, 400, 10, 200)), [PANEL], SHEET),
    (on(SHEET, Cut("t", 10, 200, 10, 400, rotated=True)), [TURNED], SHEET),
]
BAD = [
    (on(BAR, Cut("a", 10, 400)), [CutPiece("a", 400, 2)], BAR, "a is cut 1 times instead of 2"),
    (
        on(BAR, Cut("a", 10, 400), Cut("a", 413, 400)),
        [CutPiece("a", 400, 2)],
        BAR,
        "a and a are not a saw cut apart",
    ),
    (on(BAR, Cut("a", 9, 400)), [CutPiece("a", 400)], BAR, "a is not inside bar"),
    (on(BAR, Cut("a", 591, 400)), [CutPiece("a", 400)], BAR, "a is not inside bar"),
    (on(BAR, Cut("a", 10, 399)), [CutPiece("a", 400)], BAR, "a has not its own size"),
    (on(SHEET, Cut("p", 10, 200, 10, 400, rotated=True)), [PANEL], SHEET, "p has not its own size"),
    (on(SHEET, Cut("p", 10, 400, 391, 200)), [PANEL], SHEET, "p is not inside sheet"),
    (on(BAR, Cut("a", 10, 400), bound=11), [CutPiece("a", 400)], BAR, "the lower bound is above the cost"),
    (
        CutPlan((Used(BAR, (Cut("a", 10, 400),)),) * 2, 0),
        [CutPiece("a", 400, 2)],
        BAR,
        "2 of bar where there are 1",
    ),
    (
        on(CutStock("bar", 1000, 9, 1), Cut("a", 10, 400)),
        [CutPiece("a", 400)],
        BAR,
        "bar is no stock that was given",
    ),
]


@pytest.mark.parametrize(("plan", "pieces", "stock"), GOOD)
def test_good_plans_have_no_fault(plan, pieces, stock):
    assert faults(plan, pieces, [stock], SAW) == []


@pytest.mark.parametrize(("plan", "pieces", "stock", "fault"), BAD)
def test_fault_is_found(plan, pieces, stock, fault):
    assert faults(plan, pieces, [stock], SAW) == [fault]


def test_a_plan_with_faults_is_never_handed_out():
    plan, pieces, stock, fault = BAD[0]
    with pytest.raises(CountersunkError, match=fault):
        checked(plan, pieces, [stock], SAW)
    good, wanted, sheet = GOOD[0]
    assert checked(good, wanted, [sheet], SAW) is good


def test_a_pinwheel_cannot_be_cut_from_edge_to_edge():
    # Four panels of 3 x 2 round a hole of 1 x 1: the smallest layout without such a cut (from memory).
    wheel = [Cut("h", 0, 3, 0, 2), Cut("v", 3, 2, 0, 3), Cut("h", 2, 3, 3, 2), Cut("v", 0, 2, 2, 3)]
    pieces, sheet = [CutPiece("h", 3, 2, 2), CutPiece("v", 2, 2, 3)], CutStock("sheet", 5, 1, width=5)
    assert faults(on(sheet, *wheel), pieces, [sheet], Blade()) == [
        "no cuts from edge to edge part the pieces on sheet"
    ]
    assert faults(on(sheet, *wheel[:3]), [pieces[0], CutPiece("v", 2, 1, 3)], [sheet], Blade()) == []
