"""The plan that the solver finds against every plan there is."""

import pytest

from countersunk.model.planning.arms import Shape
from countersunk.model.planning.costs import Costs, row_cost
from countersunk.model.planning.plan import FILL, allowed, fillable
from countersunk.model.planning.score import Judge, points, terms
from countersunk.model.planning.search import best_plan
from countersunk.model.planning.shapes import Site, shapes
from countersunk.model.survey import survey_room
from tests.lanes import some
from tests.model.planning.every_plan import best_of_all, few_ends
from tests.model.planning.rooms import brief

WINDOW = {"kind": "window", "wall": "A", "at": 700.0, "width": 900.0, "sill": 1050.0, "head": 2100.0}
WATER = {"kind": "water", "wall": "A", "at": 1000.0, "height": 500.0}
OUTLET = {"kind": "cooker-outlet", "wall": "B", "at": 1500.0, "height": 600.0}


def shapes_of(wished, kind, a=2300.0, b=1900.0, openings=(WINDOW,)):
    room = brief(a, b, wished, openings=openings, services=(WATER, OUTLET))
    survey = survey_room(room.room)
    found = [few_ends(s) for s in shapes(Site(room, survey)) if s.kind == kind]
    return found, Judge(room, survey)


def same_as_the_best_of_all(found, judge):
    """Also where there is none; at least one shape has plans."""
    scores = [(best_of_all(s, judge), best_plan(s, judge)) for s in found]
    assert any(best for best, _ in scores)
    assert [plan and plan.points for _, plan in scores] == [best for best, _ in scores]
    assert all(plan is None or plan.proven for _, plan in scores)


@pytest.mark.parametrize("wished", [
    {"fridge": False, "dishwasher": "none"},
    {"fridge": False, "dishwasher": "450"},
    {"fridge": True, "dishwasher": "none"},
])  # fmt: skip
def test_straight_is_as_good_as_the_best_of_all(wished):
    same_as_the_best_of_all(*shapes_of(wished, "straight", a=2900.0))


def test_l_is_as_good_as_the_best_of_all():
    found, judge = shapes_of({"fridge": False, "dishwasher": "none"}, "L", a=2900.0, b=2600.0)
    same_as_the_best_of_all(found[:4], judge)


def test_two_rows_on_a_wall_are_as_good_as_the_best_of_all():
    door = {"kind": "door", "wall": "A", "at": 2000.0, "width": 800.0}
    found, judge = shapes_of({"dishwasher": "450"}, "divided", a=4900.0, b=2400.0, openings=(door,))
    same_as_the_best_of_all(found[:4], judge)


def test_u_is_as_good_as_the_best_of_all():
    found, judge = shapes_of({"fridge": False, "dishwasher": "450"}, "U", a=2700.0, b=2900.0)
    same_as_the_best_of_all(some(found[:8], 4), judge)


def test_a_galley_is_as_good_as_the_best_of_all():
    found, judge = shapes_of({"dishwasher": "450"}, "galley", a=2300.0, b=2250.0)
    same_as_the_best_of_all(some(found, 3), judge)


@pytest.mark.slow
def test_the_points_are_those_of_the_terms():
    room = brief(openings=({**WINDOW, "at": 1200.0},), services=(WATER, OUTLET), wishes={"larders": 1})
    survey = survey_room(room.room)
    judge = Judge(room, survey)
    found = [best_plan(s, judge) for s in shapes(Site(room, survey))]
    assert {f.plan.shape.kind for f in found if f} >= {"L", "galley"}
    for f in found:
        assert f is None or f.points == points(terms(f.plan, judge))
        assert f is None or allowed(f.plan, frozenset(fillable(200)))


def test_a_limit_leaves_the_best_or_nothing():
    found, judge = shapes_of({"fridge": False, "dishwasher": "none"}, "straight", a=2700.0)
    shape: Shape = next(s for s in found if best_plan(s, judge))
    best = best_plan(shape, judge)
    assert best_plan(shape, judge, best.points) is None
    assert best_plan(shape, judge, best.points + 1).points == best.points


def test_gaps_that_units_fill_by_hand():
    # cells of 50: 300, 400, 450, 500 and 600 alone; 350 and 550 by no units; 650 neither; 700 = 300 + 400
    assert fillable(14) == (0, 6, 8, 9, 10, 12, 14)


def priced(**dear):
    """Invented money: a unit costs 50 and 0.1 for each mm, but for what is given by width."""
    units = {("base-drawers", width): dear.get(f"w{width:.0f}", 50.0 + 0.1 * width) for width in FILL}
    return Costs(units, top=30.0, currency="EUR")


def test_money_by_hand():
    # 600 cost 110 and 18 of top, so a mm of plain row 128 / 600; two of 800 are 260 and 48, of 500 200 and 30
    costs = priced()
    assert row_cost(12, costs) == 600
    assert row_cost(32, costs) == round(308 / 128 * 600)
    assert row_cost(20, costs) == round(180 / 128 * 600)  # one of 1000, and not two of 500
    assert row_cost(20, None) == 1000


@pytest.mark.slow
def test_with_prices_the_plan_is_as_good_as_the_best_of_all():
    # where one of 900 costs as much as a car no row holds one, unless its guidelines weigh more
    room = brief(
        2900.0, 2600.0, {"fridge": False, "dishwasher": "450"}, openings=(WINDOW,), services=(WATER, OUTLET)
    )
    survey = survey_room(room.room)
    found = [few_ends(s) for s in shapes(Site(room, survey)) if s.kind in ("straight", "L")]
    for costs in (priced(), priced(w900=20_000.0), priced(w300=5.0)):
        same_as_the_best_of_all(some(found[:5], 2), Judge(room, survey, costs))
