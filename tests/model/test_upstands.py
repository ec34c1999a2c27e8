"""Upstands: pieces along the walls, by hand."""

import math

import pytest
from shapely import LineString

from countersunk.model.document.schema import Upstand
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.solids import volume
from countersunk.model.kitchen import build
from countersunk.model.tops.upstands import joined
from countersunk.takeoff.measuring.registry import measured
from tests.specimens import SQUARE_ROOM, cornered, document

pytestmark = pytest.mark.quick

HOLE = {"wall": "A", "at": 1000.0, "up": 50.0, "width": 60.0, "height": 60.0}


def pieces(kitchen):
    return {p.mark: p for p in kitchen.parts if p.role == "upstand"}


def worktop(**upstand):
    return {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100", **upstand}}


def laid(angle=90.0, **upstand):
    document_ = cornered(angle)
    return build(document_.model_copy(update={"worktop": document(worktop=worktop(**upstand)).worktop}))


def test_an_upstand_runs_along_the_back_of_a_plain_top():
    (piece,) = pieces(build(document(worktop=worktop()))).values()
    assert (piece.length, piece.depth, piece.thickness) == pytest.approx((1620.0, 100.0, 18.0))
    assert volume(piece) == pytest.approx(1620.0 * 100.0 * 18.0)
    assert piece.pose.origin[2] == pytest.approx(150.0 + 720.0 + 38.0)


# Wall A is 3000 long and its top begins at 1170, so 1830 of upstand; wall B's top ends at 1830, and its upstand
# begins in front of the first one: 18 from the corner at 90 degrees, 18 / sin 120 at 120, 18 (1 + cos 60) / sin 60
# at 60.
@pytest.mark.parametrize(
    ("angle", "start"),
    [
        (90.0, 18.0),
        (120.0, 18.0 / math.sin(math.radians(120.0))),
        (60.0, 18.0 * 1.5 / math.sin(math.radians(60.0))),
    ],
)
def test_in_a_corner_the_right_one_begins_in_front_of_the_left_one(angle, start):
    kitchen = laid(angle)
    left, right = pieces(kitchen).values()
    x, _, _ = kitchen.survey.wall("B").frame.from_room(right.pose.origin)
    assert x == pytest.approx(start, abs=1e-6)
    back = kitchen.survey.wall("A").length - kitchen.length("T1").left.x
    assert left.length == pytest.approx(back - (18.0 / math.tan(math.radians(60.0)) if angle == 60.0 else 0.0))


@pytest.mark.parametrize("angle", [90.0, 120.0, 60.0])
def test_in_a_corner_it_is_the_wall_whose_top_runs_through_that_keeps_its_upstand_whole(angle):
    # As above with B as the female: what A's upstand gives up is what B's gave up there, and B's is whole.
    data = cornered(angle, female="B").worktop.model_copy(update={"upstand": Upstand(stock="upstand.100")})
    kitchen = build(cornered(angle, female="B").model_copy(update={"worktop": data}))
    left, right = pieces(kitchen).values()
    rad = math.radians(angle)
    start = kitchen.length("T1").left.x
    assert left.length == pytest.approx(3000.0 - start - 18.0 * (1.0 + max(0.0, math.cos(rad))) / math.sin(rad))
    x, _, _ = kitchen.survey.wall("B").frame.from_room(right.pose.origin)
    assert x == pytest.approx(max(0.0, 18.0 / math.tan(rad)), abs=1e-6)


def bowed(wall, *offsets):
    return {**wall, "bow": {"every": 750.0, "offsets": (0.0, *offsets, 0.0)}}


def test_where_the_wall_bulges_the_upstand_stands_straight_before_it():
    # The top from 490 to 2110 is cut by up to 8; what stands on it keeps its length.
    walls = (bowed(SQUARE_ROOM[0], -8.0, -8.0, -8.0), *SQUARE_ROOM[1:])
    (piece,) = pieces(build(document(worktop=worktop(), room={"walls": walls}))).values()
    x, y, _ = piece.pose.origin
    assert (piece.length, x, y) == pytest.approx((1620.0, 490.0, -8.0))


def test_in_a_corner_the_other_one_begins_before_what_stands_before_a_bulge():
    # A bulges by 8 at 1500, under its top that begins at 1170: B's upstand begins at 8 and 18.
    made = laid(90.0).document
    walls = tuple(w.model_dump(exclude_unset=True) for w in made.room.walls)
    room = {"walls": (bowed(walls[0], 0.0, -8.0, 0.0), *walls[1:])}
    kitchen = build(document(**{**made.model_dump(exclude_unset=True), "room": room}))
    left, right = pieces(kitchen).values()
    seen = [kitchen.survey.wall(w).frame.from_room(p.pose.origin)[:2] for w, p in (("A", left), ("B", right))]
    assert seen == [pytest.approx((1170.0, 8.0)), pytest.approx((26.0, 0.0))]
    assert solids.clashes([left, right]) == []


def test_a_top_that_stands_past_the_end_of_an_open_wall_has_its_upstand_as_far_as_the_wall_goes():
    # The unit begins at 20, the top 26 before it at -6, and ends at 446: the upstand may begin 5 before the wall.
    walls = ({"name": "A", "length": 3000.0, "corner": 90.0}, {"name": "B", "length": 3000.0})
    row = {"wall": "A", "start": 20.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    top = {**worktop(), "overhang": {"ends": 26.0}}
    (piece,) = pieces(build(document(worktop=top, room={"walls": walls}, runs=(row,)))).values()
    assert piece.length == pytest.approx(446.0 + 5.0)


def test_between_two_walls_one_top_carries_three_upstands_and_the_back_one_is_whole():
    # A niche 2400 wide, units from wall to wall. The back's upstand runs through, those at the ends stop at it.
    walls = tuple(
        {"name": n, "length": length, "corner": 90.0}
        for n, length in (("Z", 2000.0), ("A", 2400.0), ("B", 2000.0), ("C", 2400.0))
    )
    units = ({"unit": "base-doors", "width": 800.0},) * 3
    kitchen = build(document(room={"walls": walls}, runs=({"wall": "A", "units": units},), worktop=worktop()))
    # 600 deep less the 18 of the back's, which is as long as the top: a little short, to be tilted in.
    top = kitchen.lengths[0].part.length
    assert 2390.0 < top < 2400.0
    assert [p.length for p in pieces(kitchen).values()] == pytest.approx([582.0, top, 582.0])
    assert solids.clashes([p for p in kitchen.parts if p.role == "upstand"]) == []


def test_an_upstand_is_parted_at_its_stock_and_at_a_low_window():
    units = ({"unit": "base-doors", "width": 1000.0},) * 4
    room = {
        "walls": ({"name": "A", "length": 5000.0, "corner": 90.0}, {"name": "B", "length": 3000.0}),
        "openings": ({"kind": "window", "wall": "A", "at": 1500.0, "width": 600.0, "sill": 920.0, "head": 2000.0},),
    }
    kitchen = build(document(room=room, runs=({"wall": "A", "start": 500.0, "units": units},), worktop=worktop()))
    # 490 to 1500, and 2100 to 4510: the second is shorter than the 3000 sold.
    assert [p.length for p in pieces(kitchen).values()] == pytest.approx([1010.0, 2410.0])


def test_a_hole_for_a_duct_goes_through():
    (piece,) = pieces(build(document(worktop=worktop(holes=({**HOLE, "radius": 30.0},))))).values()
    assert volume(piece) == pytest.approx((1620.0 * 100.0 - math.pi * 900.0) * 18.0, rel=1e-4)


@pytest.mark.parametrize(
    ("upstand", "words"),
    [
        ({"stock": "upstand.10"}, r"worktop.upstand.stock: found 'upstand.10'; .* Try: 'upstand.100'"),
        (
            {"holes": ({"wall": "A", "at": 1000.0, "up": 80.0, "width": 60.0, "height": 60.0},)},
            r"wholly inside one",
        ),
        (
            {"holes": ({"wall": "A", "at": 900.0, "up": 50.0, "width": 60.0, "height": 60.0, "radius": 31.0},)},
            "at most 30",
        ),
    ],
)
def test_what_cannot_be_is_refused(upstand, words):
    with pytest.raises(InputError, match=words):
        build(document(worktop=worktop(**upstand)))


def test_a_splashback_under_a_wall_unit_too_low_for_it_is_refused():
    upper = {"wall": "A", "level": "upper", "start": 500.0, "units": ({"unit": "wall-doors", "width": 600.0},)}
    runs = (*document().model_dump(exclude_unset=True)["runs"], upper)
    with pytest.raises(InputError, match=r"worktop.upstand: found S1 in the place of AU1"):
        build(document(runs=runs, worktop=worktop(stock="upstand.600")))


def test_what_is_too_short_for_an_upstand_takes_nothing_from_the_next_wall():
    # A boxing 4 before the end of wall A leaves no piece in the corner: the one on wall B begins at the wall.
    boxing = {"kind": "pipe-boxing", "wall": "A", "at": 2974.0, "width": 22.0, "depth": 20.0, "bottom": 870.0}
    runs = ({"wall": "A", "start": 2400.0, "units": ({"unit": "base-doors", "width": 600.0},)},)
    room = {"walls": SQUARE_ROOM, "obstacles": (boxing,)}
    on_a, on_b = pieces(build(document(room=room, runs=runs, worktop=worktop()))).values()
    assert on_a.length == pytest.approx(2974.0 - 3.0 - 2390.0)
    assert on_b.length == pytest.approx(600.0)


@pytest.mark.parametrize("angle", [90.0, 77.0, 91.3, 95.0, 123.4])
def test_a_wall_that_bulges_by_just_as_much_as_counts_as_near_has_its_upstand_however_the_room_lies(angle):
    bow = {"every": 1000.0, "offsets": (0.0, -5.0, -5.0, 0.0)}
    walls = ({"name": "A", "length": 2000.0, "corner": angle}, {"name": "B", "length": 3000.0, "bow": bow})
    run = {"wall": "B", "start": 1100.0, "units": ({"unit": "base-doors", "width": 800.0},)}
    (piece,) = pieces(build(document(room={"walls": walls}, runs=(run,), worktop=worktop()))).values()
    assert piece.length == pytest.approx(820.0)


def test_stretches_that_meet_but_for_rounding_are_one():
    # Where a bow has a kink the backs on either side end in the same place, reckoned twice.
    spans = (1000.0005001, 2000.0), (0.0, 1000.0004999), (2001.0, 2400.0)
    lines = [LineString([(a, 0.0), (b, 0.0)]) for a, b in spans]
    assert list(joined(lines)) == [(0.0, 2000.0), (2001.0, 2400.0)]


@pytest.mark.parametrize("angle", [60.7, 77.0, 91.3, 123.4, 131.9, 140.1])
def test_a_stretch_just_as_long_as_an_upstand_is_one_piece(angle):
    # Units of 2980 with 10 of overhang at both ends, in a room that is turned in the plan.
    walls = ({"name": "A", "length": 2000.0, "corner": angle}, {"name": "B", "length": 5000.0})
    doors, filler = {"unit": "base-doors", "width": 1000.0}, {"unit": "filler", "width": 80.0}
    run = {"wall": "B", "start": 1001.3, "units": (doors, doors, {**doors, "width": 900.0}, filler)}
    (piece,) = pieces(build(document(room={"walls": walls}, runs=(run,), worktop=worktop()))).values()
    assert piece.length == pytest.approx(3000.0)


def test_sockets_behind_an_upstand_are_cut_out_of_it():
    # An upstand of 600 begins at 908; a box of 68 at 1150 lies within it, one at 1600 above it.
    services = tuple({"kind": "socket", "wall": "A", "at": 1000.0, "height": z} for z in (1150.0, 1600.0))
    room = {"walls": SQUARE_ROOM, "services": services}
    top = worktop(stock="upstand.600", sockets=True)
    kitchen = build(document(worktop=top, room=room))
    (piece,) = pieces(kitchen).values()
    (hole,) = piece.outline.interiors
    assert hole.centroid.coords[0] == pytest.approx((1000.0 - 490.0, 1150.0 - 908.0))
    assert piece.area == pytest.approx(1620 * 600 - math.pi * 34**2, abs=8)
    assert [share.amount for share in measured(kitchen)["upstand-sockets"]] == [1]
    across = {**room, "services": ({**services[0], "height": 1508.0},)}
    with pytest.raises(InputError, match="across an edge of S1"):
        build(document(worktop=top, room=across))
