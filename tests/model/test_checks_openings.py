"""What opens, worked by hand: units 560 deep with fronts of 18 stand 2 off the wall, so their fronts are 580 out.

Handles stand out by 28. An oven's door is 585 high from 281, a dishwasher's 717, drawers come out by 500.
"""

import math

import numpy as np
import pytest
from shapely import LineString, box

from countersunk.model.checks.swings import within
from countersunk.model.kitchen import build
from tests.model.test_checks import kitchen, measured, run, stocked, unit, value, verdict, verdicts, walls
from tests.specimens import document, square

DOORS, OVEN = unit("base-doors", 600), unit("base-oven")
BIG = square(5000)


def opposite_island(family, out, along=1000.0):
    """Something that opens at 1000 to 1600 on wall A, and an island of one unit right across from it."""
    island = {"name": "I", "wall": "A", "along": along, "out": float(out), "stock": "pf38.670", "units": (DOORS,)}
    return kitchen(run(family, start=1000), islands=(island,), room=BIG)


@pytest.mark.parametrize(("out", "outcome"), [(1325, "met"), (1324, "not met")])
def test_a_dishwasher_door_comes_out_further(out, outcome):
    # 580 + 717 + 28 = 1325.
    assert verdict("appliance-opens", opposite_island(unit("dishwasher", 600), out)) == outcome


@pytest.mark.parametrize(("family", "measure"), [
    ("tall-fridge", "swings.appliance_door"), ("tall-fridge", "landing.beside_fridge"),
    ("dishwasher", "swings.appliance_door"), ("dishwasher", "swings.before_open_appliance"),
    ("dishwasher", "walkways.beside_dishwasher"), ("dishwasher", "centres.dishwasher_to_sink"),
    ("cooker", "landing.beside_hob_longer"), ("cooker", "swings.appliance_door"),
])  # fmt: skip
def test_an_appliance_of_a_finer_code_is_measured_as_one_of_its_kind(family, measure):
    """A firm's own ``fridge.wide`` opens, and has its landing, as any ``fridge`` does."""
    one, own = (
        kitchen(
            run(DOORS, unit("base-sink", 600), unit(family, 600), start=0), run(DOORS, wall="B", start=660),
            cutouts=({"template": "sink.one-bowl", "over": "A2"},), catalogue=catalogue,
        ) for catalogue in (stocked(), stocked({family: finer(family)}))
    )  # fmt: skip
    assert measured(measure, one)
    assert measured(measure, own) == measured(measure, one)


def finer(family):
    kind = stocked().families[family].appliance
    return {"appliance": f"{kind}.own", "form": kind}


def test_the_top_of_an_island_is_above_an_open_oven_door():
    # The top's edge, 20 before the fronts, begins at 870: over the door, which reaches up to 866.
    built = opposite_island(OVEN, 1193)
    assert value("swings.appliance_door", built) == pytest.approx(0)
    # A refrigerator's door is as high as it is, so that the top counts: 590 + 600 = 1190 out, the top at 1173.
    assert value("swings.appliance_door", opposite_island(unit("tall-fridge"), 1193)) < 0


def test_an_island_beside_an_open_oven_is_not_before_it():
    built = opposite_island(OVEN, 1300, along=1700)
    assert measured("swings.before_open_appliance", built) == {
        "before the open door of A1 to wall C": pytest.approx(5000 - 1165)
    }


def test_nothing_before_an_open_oven_was_surveyed():
    built = kitchen(run(OVEN), room={"walls": walls(A=90.0, B=90.0)})
    assert measured("swings.before_open_appliance", built) == {"before the open door of A1": None}
    assert verdict("open-appliance-room", built) == "not measured"


def in_corner(start, hand="left"):
    """Doors that end at the corner on wall A, drawers on wall B that begin ``start`` from it."""
    row = run({**DOORS, "hand": hand}, start=1800)
    return kitchen(row, run(unit("base-drawers", 600), wall="B", start=start))


def test_with_the_handle_on_the_other_side_the_drawers_come_out_further():
    # Hinged at the corner, the handle is from 1834 to 1846: beyond the 500 that the drawers come out.
    found = measured("swings.door_or_drawer", in_corner(600, hand="right"))
    assert found["drawers of B1 to A1"] == pytest.approx(20.0)


@pytest.mark.parametrize(("start", "outcome"), [(613, "met"), (612, "worth a look")])
def test_play_beside_what_opens(start, outcome):
    built = in_corner(start)
    worst = min(verdicts("doors-and-drawers-play", built), key=lambda v: v == "met")
    assert worst == outcome


@pytest.mark.parametrize(("gap", "left"), [(100, 101.5), (41, 42.5)])
def test_a_leaf_beside_a_wall(gap, left):
    # Hinged on its left, the leaf begins 1.5 inside the unit and stands open at a right angle.
    built = kitchen(run(DOORS, start=gap))
    assert measured("swings.door_or_drawer", built) == {"door of A1 to wall D": pytest.approx(left, abs=0.01)}


def test_a_leaf_beside_a_wall_that_leans_in():
    # Wall D meets A at 88° and leans towards the leaf by tan(2°) for each mm out; the leaf's tip is 580 + 597 out.
    room = {"walls": walls(D=88.0, A=90.0, B=90.0)}
    found = value("swings.door_or_drawer", kitchen(run(DOORS, start=100), room=room))
    tip = 101.5 - (580 + 597) * math.tan(math.radians(2))
    assert found == pytest.approx(tip * math.cos(math.radians(2)), abs=0.5)


def test_two_leaves_are_hinged_at_their_own_sides():
    # A unit of 800 has two doors of 398.5 each; the right one, open, stands beside wall B.
    built = kitchen(run(unit("base-doors", 800), start=2150))
    assert measured("swings.door_or_drawer", built) == {"door of A1 to wall B": pytest.approx(51.5, abs=0.01)}


def test_what_is_far_off_is_not_told():
    built = kitchen(run(DOORS, start=1200))
    assert measured("swings.door_or_drawer", built) == {"door of A1, nothing within 600": 600.0}


def test_neighbours_in_the_same_plane_are_not_in_the_way():
    built = kitchen(run(DOORS, unit("base-drawers", 400), DOORS, OVEN, start=700), room=BIG)
    assert set(measured("swings.door_or_drawer", built).values()) == {600.0}
    assert set(measured("swings.appliance_door", built).values()) == {600.0}


def with_door(at, swing="left"):
    door = {"kind": "door", "wall": "D", "at": float(at), "width": 900.0, "swing": swing}
    room = square(3000, openings=(door,))
    return kitchen(run(unit("tall-larder", 600), start=100), room=room)


@pytest.mark.parametrize(
    ("at", "swing", "left"),
    [
        # Wall D runs towards wall A; the larder, 100 off D, reaches 578 out from A, to 2422 along D, and its handle
        # 28 further.
        (1500, "left", math.hypot(922, 100) - 900),  # its leaf comes round at 900 from the hinge
        (1430, "right", 2422 - 28 - 2330),  # open, the leaf stands at its hinge
        (1494, "right", 0.0),
    ],
)
def test_the_door_of_the_room_and_a_tall_unit(at, swing, left):
    built = with_door(at, swing)
    assert value("swings.room_door", built) == pytest.approx(left, abs=0.6)
    assert verdict("room-door-swing", built) == "met"


@pytest.mark.parametrize(("at", "swing"), [(1690, "left"), (1495, "right")])
def test_a_door_of_the_room_that_strikes_a_tall_unit(at, swing):
    assert value("swings.room_door", with_door(at, swing)) < 0
    assert verdict("room-door-swing", with_door(at, swing)) == "falls short"


@pytest.mark.parametrize("swing", ["out", "none"])
def test_a_door_that_does_not_open_into_the_room_sweeps_nothing_in_it(swing):
    assert measured("swings.room_door", with_door(1690, swing)) == {}


def test_a_passage_has_no_leaf():
    passage = {"kind": "passage", "wall": "D", "at": 1000.0, "width": 900.0}
    built = kitchen(run(DOORS), room={**BIG, "openings": (passage,)})
    assert measured("swings.room_door", built) == {}


class TestWhatLiesAhead:
    BAND = box(0.0, 40.0, 100.0, 1000.0)

    def test_what_only_touches_does_not_lie_ahead(self):
        # A side flush with the band's edge, by rounding a hair within it or not, and a wall along the edge.
        side, hair = box(20.0, 0.0, 80.0, 40.0), box(20.0, 0.0, 80.0, 40.0 + 1e-9)
        walls = LineString([(0.0, 0.0), (0.0, 40.0)]), LineString([(50.0, -5.0), (50.0, 40.0)])
        assert within(np.array([side, hair, *walls], dtype=object), self.BAND)[1].tolist() == [False] * 4

    def test_what_reaches_in_does(self):
        unit, wall = box(20.0, 0.0, 80.0, 41.0), LineString([(50.0, 0.0), (50.0, 45.0)])
        cut, more = within(np.array([unit, wall], dtype=object), self.BAND)
        assert more.tolist() == [True, True]
        assert (cut[0].area, cut[1].length) == pytest.approx((60.0, 5.0))


def test_what_is_near_only_behind_the_fronts_is_not_measured_ahead_of_them():
    # The corner unit's side is 500 beside the open drawers, but only its wing, 340 further, stands ahead of them.
    corner = {**unit("base-l-corner", 900), "hand": "right"}
    row = {"wall": "A", "units": (unit("base-drawers", 500), unit("base-open", 500), corner)}
    beside = {"wall": "B", "units": (unit("base-open", 600),)}
    built = build(document(room=BIG, runs=(row, beside)))
    assert measured("swings.door_or_drawer", built)["drawers of A1, nothing within 600"] == 600.0


@pytest.mark.parametrize("angle", [77.0, 90.0, 101.3, 127.6])
def test_a_drawer_that_slides_along_a_wall_strikes_it_not_wherever_the_room_lies(angle):
    # The row begins in the square corner A-B: the drawers come out just along wall A, 0 from it, striking nothing.
    square = {"name": "A", "length": 2000.0, "corner": 90.0}
    room = {"walls": ({"name": "Z", "length": 1000.0, "corner": angle}, square, {"name": "B", "length": 1800.0})}
    built = build(document(room=room, runs=(run(unit("base-drawers", 300), wall="B", start=0),)))
    assert measured("swings.door_or_drawer", built) == {"drawers of B1 to wall A": pytest.approx(0.0, abs=1e-6)}
