"""Rows that hang off their wall: before a chimney breast, or from the ceiling over an island or a peninsula."""

import pytest
from shapely import union_all

from countersunk.model.checks.registry import MEASURES
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.facts.plans import unit_plan
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from tests.model.test_checks import kitchen, run, unit
from tests.specimens import document, square

ROW = run(unit("wall-doors", 600), unit("wall-doors", 400), level="upper", start=900)
BASE = run(unit("base-doors", 600))


def hung(**more):
    return kitchen(BASE, {**ROW, "out": 1200.0, **more}, room=square(3000.0))


# A unit is 320 deep with a front of 18 before it, and a panel of 18 closes its back. Wall A runs to the right along
# the room's x, the room lies below it: y out from the wall is negative.
@pytest.mark.parametrize(
    ("facing", "first"),
    [
        ("room", (900, -1556, 1500, -1218)),  # backs 1200 + 18 out, fronts 338 before them; first at the left
        ("wall", (1300, -1538, 1900, -1200)),  # the first is at the left as one faces it, from the wall
        ("left", (562, -1800, 900, -1200)),  # backs 900 along, the first nearest to the wall
        ("right", (900, -2200, 1238, -1600)),  # the last nearest to the wall
    ],
)
def test_a_row_from_the_ceiling_stands_as_an_island_or_a_peninsula_does(facing, first):
    built = hung(facing=facing)
    placed = [u for u in built.units if u.family.level == "upper"]
    assert [u.name for u in placed] == ["AU1", "AU2"]
    assert unit_plan(placed[0]).bounds == pytest.approx(first)


def test_each_unit_hangs_by_four_rods_and_has_a_back():
    """The ceiling is 2400 high, units end at 2128: rods of 272."""
    built = hung()
    rods = [p for p in built.parts if p.role is Role.HANGER]
    assert [round(rod.thickness) for rod in rods] == [272] * 8
    (back,) = [p for p in built.parts if p.role is Role.PANEL]
    assert (back.length, back.depth, back.pose.origin[2]) == (1000.0, 720.0, 1408.0)
    net = {q.item: q.net for q in estimate(built).quantities}
    assert net["hanger.ceiling"] == 8.0
    assert "rail.hang" not in net
    assert "hanger" not in net


def test_it_is_the_same_in_a_mirror():
    for facing in ("room", "wall", "left", "right"):
        built = hung(facing=facing)
        there = build(mirrored(built.document))
        swapped = {"left": "right", "right": "left"}.get(facing, facing)
        assert there.document.runs[1].facing == swapped
        (x0, y0, x1, y1), mirror = on_wall_a(built), on_wall_a(there)
        assert mirror == pytest.approx((3000 - x1, y0, 3000 - x0, y1))


def on_wall_a(built):
    """What hangs takes in the frame of wall A."""
    plans = union_all([unit_plan(u) for u in built.units if u.family.level == "upper"])
    return built.survey.wall("A").frame.plan_from_room(plans).bounds


def test_a_shelf_hangs_on_the_breast_and_not_from_the_ceiling():
    """The breast ends 400 before the wall, so that the shelf's brackets are in it."""
    breast = {"kind": "chimney-breast", "wall": "A", "at": 900.0, "width": 1200.0, "depth": 400.0,
              "opening": {"from_left": 100.0, "width": 1000.0, "height": 1600.0}}  # fmt: skip
    shelf = {**run(unit("floating-shelf", 1200, bottom=1700.0), level="upper", start=900), "out": 400.0}
    built = kitchen(run(unit("base-doors", 600), start=200), shelf, room=square(3000.0, obstacles=(breast,)))
    (placed,) = [u for u in built.units if u.family.level == "upper"]
    assert unit_plan(placed).bounds == pytest.approx((900, -650, 2100, -400))
    assert [p.role for p in built.parts_of[placed.key]].count(Role.HANGER) == 0
    (place,) = MEASURES["hung.bracket_spare"].take(built)
    assert place.value is not None


@pytest.mark.parametrize(
    ("row", "field"),
    [
        ({**BASE, "start": 1500.0, "out": 100.0}, "runs[1].out"),
        ({**BASE, "start": 1500.0, "facing": "left"}, "runs[1].facing"),
        ({**run(unit("floating-shelf", 900), level="upper"), "out": 900.0}, "runs[1].units[0].unit"),
    ],
)
def test_what_cannot_hang_there_is_refused(row, field):
    with pytest.raises(InputError) as caught:
        build(document(runs=(BASE, row)))
    assert caught.value.problems[0].field == field


def test_the_landing_of_a_cooker_in_a_breast_lies_past_its_cheeks():
    """The cooker stands from 1110 to 2020 in an opening from 1100 to 2030; tops end at 890, 220 away, and begin at
    2240 likewise; there the cheeks are 200 wide. Their fronts are 600 and 500 long with 10 at the cheek's end.
    """
    breast = {"kind": "chimney-breast", "wall": "A", "at": 900.0, "width": 1330.0, "depth": 350.0,
              "opening": {"from_left": 200.0, "width": 930.0, "height": 1700.0}}  # fmt: skip
    rows = (
        run(unit("base-doors", 600), start=280), run(unit("range-cooker", 910), start=1110),
        run(unit("base-doors", 500), start=2250),
    )  # fmt: skip
    built = kitchen(*rows, room=square(3000.0, obstacles=(breast,)))
    (longer,) = (p.value for p in MEASURES["landing.beside_hob_longer"].take(built))
    (shorter,) = (p.value for p in MEASURES["landing.beside_hob_shorter"].take(built))
    assert (longer, shorter) == pytest.approx((620.0, 520.0))
