"""Boards on sheets: every panel once, sawn as the rules say, and the order counted from the plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from countersunk.takeoff import cutting
from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.boards import BoardPlan, board_plans, sheet_parts
from countersunk.takeoff.report.report import as_json, csv_bytes
from countersunk.takeoff.stock.steps import COARSE
from tests.specimens import CORNER_DEMO, SOME_DEMOS, open_kitchen
from tests.takeoff.by_hand import small_kitchen

SAW = default_rules().sheets


@pytest.fixture(scope="module", params=SOME_DEMOS, ids=lambda p: p.stem)
def demo(request):
    kitchen = open_kitchen(request.param)
    return kitchen, board_plans(kitchen)


def as_cutting(plan: BoardPlan):
    """The plan back in the words of `takeoff.cutting`, for its verifier."""
    length, width = (round(side * COARSE) for side in plan.board.sheet)
    stock = cutting.CutStock(plan.board.code, length, 1, None, width)
    cuts = [
        tuple(
            cutting.Cut(p.id, *(round(v * COARSE) for v in (p.x, p.length, p.y, p.width)), p.turned)
            for p in s.places
        )
        for s in plan.sheets
    ]
    return cutting.CutPlan(tuple(cutting.Used(stock, c) for c in cuts), plan.bound, unplaced=plan.unplaced), stock


def test_every_panel_lies_once_on_a_sheet_that_can_be_sawn(demo):
    kitchen, plans = demo
    for plan in plans:
        parts = [p for p in sheet_parts(kitchen) if p.material == plan.board.code]
        pieces = [
            cutting.CutPiece(p.id, _tenths(p.length), 1, _tenths(p.depth), turns=not p.grain) for p in parts
        ]  # fmt: skip
        found, stock = as_cutting(plan)
        blade = cutting.Blade(round(SAW.kerf * COARSE), round(SAW.trim * COARSE))
        assert cutting.faults(found, pieces, [stock], blade) == []


def _tenths(mm):
    return -int(-(mm * COARSE - 1e-5) // 1)


def test_grain_runs_along_the_sheet(demo):
    kitchen, plans = demo
    with_grain = {p.id for p in kitchen.parts if p.grain}
    turned = {place.id for plan in plans for sheet in plan.sheets for place in sheet.places if place.turned}
    assert turned
    assert not turned & with_grain


def test_at_most_one_sheet_above_the_bound(demo):
    _, plans = demo
    assert all(plan.bound <= len(plan.sheets) <= plan.bound + 1 for plan in plans)


def test_offcuts_are_worth_keeping_and_lie_clear_of_the_panels(demo):
    _, plans = demo
    sheets = [sheet for plan in plans for sheet in plan.sheets]
    assert any(sheet.offcuts for sheet in sheets)
    for sheet in sheets:
        for o in sheet.offcuts:
            assert max(o.length, o.width) >= 600
            assert min(o.length, o.width) >= 200
            for p in sheet.places:
                apart = (
                    o.x + o.length <= p.x or p.x + p.length <= o.x or o.y + o.width <= p.y or p.y + p.width <= o.y
                )
                assert apart, (o, p)


def test_a_second_look_costs_nothing_and_finds_the_same():
    kitchen = small_kitchen()
    assert board_plans(kitchen) == board_plans(kitchen)
    assert board_plans(kitchen)[0] is board_plans(kitchen)[0]


def test_the_order_is_counted_from_the_plan():
    # Carcass boards of the small kitchen, by hand in test_by_hand: 3.984 m² of one sheet of 5.796 m².
    kitchen = small_kitchen()
    plans = board_plans(kitchen)
    line = next(q for q in take_off(kitchen, boards=plans).quantities if q.item == "pb18")
    plan = next(p for p in plans if p.board.code == "pb18")
    assert (line.packs, len(plan.sheets), plan.is_least) == (1, 1, True)
    assert line.formula.startswith("17 boards, 3.984 m², laid out → 1 × sheet of 2800 × 2070 (fewer is impossible)")
    assert line.surplus == pytest.approx(plan.kept / 1e6)
    assert line.note == ""
    by_area = next(q for q in estimate(kitchen).quantities if q.item == "pb18")
    assert "estimate by area" in by_area.note


def test_a_plan_of_another_kitchen_is_refused():
    with pytest.raises(ValueError, match="holds other parts than the kitchen has"):
        take_off(small_kitchen(), boards=board_plans(open_kitchen(CORNER_DEMO)))


def test_a_panel_larger_than_a_sheet_is_named_and_not_planned():
    kitchen = small_kitchen()
    code = kitchen.catalogue.unit_boards.carcass.code
    small = kitchen.catalogue.boards[code].model_copy(update={"sheet": (700.0, 600.0)})
    catalogue = replace(kitchen.catalogue, boards={**kitchen.catalogue.boards, code: small})
    plan = next(p for p in board_plans(replace(kitchen, catalogue=catalogue)) if p.board.code == code)
    unplaced = {kitchen.marks[id_] for id_ in plan.unplaced}
    assert "A1.side.left" in unplaced
    assert "A1.bottom" not in unplaced


def test_plan_and_offcuts_are_in_the_report():
    kitchen = small_kitchen()
    taken = take_off(kitchen, boards=board_plans(kitchen))
    boards = {plan["board"]: plan for plan in as_json(taken)["boards"]}
    assert boards["pb18"]["at_bound"]
    assert len(boards["pb18"]["sheets"][0]["places"]) == 17
    kept = sum(len(sheet["offcuts"]) for plan in boards.values() for sheet in plan["sheets"])
    kept += sum(len(bar["left"]) for plan in as_json(taken)["worktops"] for bar in plan["bars"])
    kept += sum(1 for plan in taken.cut.lengths for _ in plan.left)
    assert csv_bytes(taken).decode("utf-8-sig").count("\noffcut,") == kept > 0
