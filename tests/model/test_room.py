"""Room: bowed walls, obstacles, services and sloping ceilings, in their places or refused."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as rectangle

from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.solids import clashes_between
from countersunk.model.kitchen import build
from countersunk.model.survey import survey_room
from countersunk.model.survey.room import obstacles_met
from tests.lanes import tries
from tests.specimens import SQUARE_ROOM, document


def room(**changes):
    return Room.model_validate({"walls": SQUARE_ROOM, **changes})


def bowed(*offsets, every=1000.0, length=3000.0):
    bow = {"every": every, "offsets": tuple(map(float, offsets))}
    return Room.model_validate({"walls": ({"name": "A", "length": length, "bow": bow},)})


def obstacle(**changes):
    return {"kind": "column", "wall": "A", "at": 1000.0, "width": 300.0, "depth": 250.0, **changes}


def test_a_bow_is_straight_from_station_to_station_and_meets_the_chord_at_both_ends():
    wall = survey_room(bowed(0, 6, -4)).walls[0]
    assert list(wall.bow.coords) == [(0, 0), (1000, -6), (2000, 4), (3000, 0)]
    assert [wall.face_at(x) for x in (500, 1500, 2500)] == pytest.approx([-3.0, -1.0, 2.0])


def test_a_wall_without_a_bow_is_straight():
    assert list(survey_room(room()).wall("A").bow.coords) == [(0, 0), (3000, 0)]


def test_a_bow_read_every_100_mm_has_the_area_of_its_circle_segment():
    # Outside: the area between a circle of radius r and a chord of length c, r²/2 (θ - sin θ) with
    # sin(θ/2) = c / 2r (plane geometry). r = 50 000, c = 3000: 45 009 mm²; straight pieces lose about 0.1 %.
    r, c = 50_000.0, 3_000.0
    rise = [math.sqrt(r**2 - (i * 100 - c / 2) ** 2) - math.sqrt(r**2 - c**2 / 4) for i in range(31)]
    rise[0] = rise[-1] = 0.0
    wall = survey_room(bowed(*rise, every=100.0)).walls[0]
    theta = 2 * math.asin(c / 2 / r)
    area = sum(
        (a[1] + b[1]) / 2 * (b[0] - a[0]) for a, b in zip(wall.bow.coords, wall.bow.coords[1:], strict=False)
    )
    assert -area == pytest.approx(r**2 / 2 * (theta - math.sin(theta)), rel=2e-3)


def test_a_bow_survives_the_compass_rule_that_shortens_its_wall():
    walls = tuple({**w, "length": 3010.0} if w["name"] == "A" else w for w in SQUARE_ROOM)
    bow = {"every": 1505.0, "offsets": (0.0, 8.0, 0.0)}
    wall = survey_room(Room.model_validate({"walls": ({**walls[0], "bow": bow}, *walls[1:])})).wall("A")
    assert wall.length < 3010.0
    assert wall.bow.coords[-1] == (wall.length, 0.0)
    assert wall.face_at(1505.0) == pytest.approx(-8.0)


def test_obstacles_stand_in_the_room():
    survey = survey_room(room(obstacles=(obstacle(wall="B", out=100.0, top=2000.0),)))
    (column,) = survey.obstacles
    assert column.plan.bounds == pytest.approx((2650.0, -1300.0, 2900.0, -1000.0))
    assert (column.bottom, column.top) == (0.0, 2000.0)


def test_services_come_out_of_their_wall():
    service = {"kind": "water", "wall": "B", "at": 400.0, "height": 550.0}
    assert survey_room(room(services=(service,))).services[0].point == pytest.approx((3000.0, -400.0, 550.0))


def test_what_a_top_must_be_notched_round():
    survey = survey_room(room(obstacles=(obstacle(), obstacle(at=2000.0, top=850.0))))
    top = survey.wall("A").frame.plan_to_room(survey.obstacles[0].plan.envelope.buffer(2000.0))
    assert [o.name for o in obstacles_met(survey.obstacles, top, 870.0, 908.0)] == ["column 1"]


def test_a_slope_rises_evenly():
    # Worked: 1200 at the wall and 2400 at 1600 before it is 3 in 4; 400 before the wall it is 1500 high.
    survey = survey_room(room(slopes=({"wall": "A", "eaves": 1200.0, "run": 1600.0},)))
    (slope,) = survey.slopes
    assert [slope.height_at(y) for y in (0, 400, 1600, 2000)] == [1200, 1500, 2400, 2400]
    column = survey_room(room(obstacles=(obstacle(out=400.0),))).obstacles[0]
    assert survey.ceiling_over(column.plan) == pytest.approx(1500.0)


@pytest.mark.parametrize(
    ("surveyed", "words"),
    [
        (lambda: bowed(0, 1, 2, 3, 0), r"bow.offsets: found 5 stations, the last at 4000; allowed: at most 4"),
        (lambda: bowed(2, 1, 0), r"bow.offsets\[0\]: found 2 at the wall's left end; allowed: 0"),
        (lambda: bowed(0, 1, 2, 3), r"bow.offsets\[3\]: found 3 at the wall's right end; allowed: 0"),
        (
            lambda: room(obstacles=(obstacle(wall="Z"),)),
            r"obstacles\[0\].wall: found 'Z'; allowed: a wall: A, B, C, D",
        ),
        (
            lambda: room(obstacles=(obstacle(at=2800.0),)),
            r"obstacles\[0\].width: found 300; allowed: at most 200 mm",
        ),
        (
            lambda: room(obstacles=(obstacle(at=3800.0),)),
            r"obstacles\[0\].at: found 3800; allowed: 0 to 3000 on wall A",
        ),
        (
            lambda: room(obstacles=(obstacle(top=2500.0),)),
            r"obstacles\[0\].top: found 2500; allowed: up to .* 2400",
        ),
        (lambda: room(obstacles=(obstacle(bottom=900.0, top=900.0),)), r"bottom: found 900; allowed: below .* 900"),
        (
            lambda: room(obstacles=(obstacle(out=2950.0),)),
            "reaches 3200 out from the wall; allowed: a place inside",
        ),
        (
            lambda: room(services=({"kind": "gas", "wall": "A", "at": 3001.0, "height": 0.0},)),
            r"services\[0\].at: found 3001; allowed: 0 to 3000 on wall A",
        ),
        (
            lambda: room(services=({"kind": "socket", "wall": "A", "at": 1.0, "height": 2401.0},)),
            r"services\[0\].height: found 2401; allowed: up to the room's 2400",
        ),
        (
            lambda: room(slopes=({"wall": "A", "eaves": 2400.0, "run": 1000.0},)),
            r"slopes\[0\].eaves: found 2400; allowed: less than the room's 2400",
        ),
        (lambda: room(slopes=({"wall": "E", "eaves": 1000.0, "run": 1000.0},)), r"slopes\[0\].wall: found 'E'"),
    ],
)
def test_what_has_no_place_in_the_room_is_refused(surveyed, words):
    with pytest.raises(InputError, match=words) as caught:
        survey_room(surveyed())
    assert len(caught.value.problems) == 1
    assert caught.value.problems[0].allowed


@pytest.mark.parametrize("offset", [100.5, -101.0])
def test_a_bow_is_bounded(offset):
    with pytest.raises(ValueError, match="offsets"):
        bowed(0.0, offset, 0.0)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"obstacles": (obstacle(),)},
            "A2 in the column on wall A from 1000 to 1300; allowed: clear of it, 250 out",
        ),
        (
            {"obstacles": (obstacle(kind="radiator", at=900.0, depth=60.0, bottom=150.0, top=750.0),)},
            "in the radiator",
        ),
        ({"slopes": ({"wall": "A", "eaves": 850.0, "run": 2000.0},)}, "A1, .* high; allowed: 8.. high, where"),
        ({"slopes": ({"wall": "A", "eaves": 890.0, "run": 3000.0},)}, "T1, 908 high; allowed: 890 high"),
    ],
    ids=["column", "radiator", "unit under a slope", "top under a slope"],
)
def test_units_that_meet_what_stands_in_the_room_are_refused(changes, words):
    with pytest.raises(InputError, match=words) as caught:
        build(document(room={"walls": SQUARE_ROOM, **changes}))
    assert len(caught.value.problems) == 1


@pytest.mark.parametrize(
    "changes",
    [
        {"obstacles": (obstacle(at=2100.0),)},
        {"obstacles": (obstacle(at=500.0, width=1600.0, bottom=900.0),)},
        {"obstacles": (obstacle(at=500.0, width=1600.0, depth=20.0, top=145.0),)},
        {"slopes": ({"wall": "A", "eaves": 910.0, "run": 2000.0},)},
        {"slopes": ({"wall": "C", "eaves": 100.0, "run": 2000.0},)},
    ],
    ids=["beside", "above the units", "pipes under the units", "over the top", "across the room"],
)
def test_units_may_stand_beside_and_below_it(changes):
    assert build(document(room={"walls": SQUARE_ROOM, **changes})).units


def reject_unless(words, error):
    """Only the refusal that is meant counts as one."""
    if words not in str(error):
        raise error


@given(
    at=st.floats(0, 2600), width=st.floats(20, 400), depth=st.floats(5, 700),
    bottom=st.floats(0, 1000), height=st.floats(50, 1300),
)  # fmt: skip
@settings(max_examples=tries(80), deadline=None)
def test_what_is_built_shares_no_place_with_an_obstacle(at, width, depth, bottom, height):
    """Against the kernel: the boards of units are solids, the obstacle is one too. Plinths may be cut on site."""
    wanted = obstacle(at=at, width=width, depth=depth, bottom=bottom, top=bottom + height)
    try:
        kitchen = build(document(room={"walls": SQUARE_ROOM, "obstacles": (wanted,)}))
    except InputError as error:
        reject_unless("column", error)  # in a unit's way, or not to be slid round by the top
        return
    outline, pose = rectangle(at, 0.0, at + width, depth), kitchen.survey.wall("A").frame.moved(z=bottom)
    body = Part(PartKey("column", Role.PANEL), Layer.CARCASS, "", outline, height, pose)
    mine = [part for unit in kitchen.units for part in kitchen.parts_of[unit.key] if part.role in ("side", "door")]
    assert mine
    assert not list(clashes_between(mine, [body]))


def test_what_ends_in_a_corner_stays_there_after_the_adjustment():
    # Wall C was read 8 too long, so that A becomes longer than read and C shorter: what reaches to C's end as that
    # was read is in the corner, and nothing is refused for a millimetre.
    walls = tuple({**w, "length": 3008.0} if w["name"] == "C" else w for w in SQUARE_ROOM)
    boxing = obstacle(kind="pipe-boxing", wall="C", at=2858.0, width=150.0, depth=150.0)
    door = {"kind": "door", "wall": "C", "at": 0.0, "width": 800.0}
    window = {"kind": "window", "wall": "C", "at": 2008.0, "width": 1000.0, "sill": 1000.0}
    socket = {"kind": "socket", "wall": "C", "at": 3008.0, "height": 300.0}
    read = Room.model_validate(
        {"walls": walls, "obstacles": (boxing,), "openings": (door, window), "services": (socket,)}
    )
    survey = survey_room(read)
    end = survey.wall("C").length
    assert 3000.0 < end < 3007.9
    assert survey.obstacles[0].right == pytest.approx(end)
    assert [o.at for o in survey.openings] == [0.0, pytest.approx(end - 1000.0)]
    assert survey.services[0].x == pytest.approx(end)
    with pytest.raises(InputError, match=r"obstacles\[0\].width: found 152; allowed: at most 150 mm here"):
        survey_room(read.model_copy(update={"obstacles": (read.obstacles[0].model_copy(update={"width": 152.0}),)}))
