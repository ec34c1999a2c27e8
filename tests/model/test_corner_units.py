"""Corner units: where runs begin beside them, the tops over them, and what is refused."""

import math

import pytest

from countersunk.model.checks.registry import MEASURES
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.kitchen import build
from tests.specimens import SQUARE_ROOM, document

pytestmark = pytest.mark.quick

CORNER = {"unit": "base-l-corner", "width": 900.0, "hand": "right"}
BASE = {"unit": "base-doors", "width": 400.0}
PANEL = {"unit": "end-panel"}
OFF = 2.0  # a top of 600 over 560 with fronts of 18 and an overhang of 20 leaves 2 behind the units


def room(angle):
    return {"walls": ({"name": "A", "length": 3000.0, "corner": angle}, {"name": "B", "length": 3000.0})}


def kitchen(angle=90.0, a=(BASE, CORNER), b=(BASE, PANEL), at_a=None, at_b=None, **changes):
    """Runs on A and B, each where it goes by itself unless ``at_a`` or ``at_b`` says otherwise."""
    runs = ({"wall": "A", "units": a}, {"wall": "B", "units": b})
    runs = tuple({**r, **({} if at is None else {"start": at})} for r, at in zip(runs, (at_a, at_b), strict=True))
    given = {"runs": runs, "room": {"walls": SQUARE_ROOM} if angle == 90.0 else room(angle)}
    return build(document(**{**given, **changes}))


class TestWhereItStands:
    def test_in_a_square_corner(self):
        a, b = kitchen().runs
        assert a.units[-1].right == pytest.approx(3000 - OFF)
        assert b.units[0].x == pytest.approx(OFF + 900)

    @pytest.mark.parametrize("angle", [86.0, 88.0, 92.0, 95.0])
    def test_out_of_square_it_stays_square_and_is_as_far_off_where_it_comes_nearest(self, angle):
        # Its side of 900 stands square to wall A: in their distance from B its ends differ by 900·cos(angle).
        built = kitchen(angle)
        unit, wall = built.runs[0].units[-1], built.survey.wall("B")
        corners = [unit.frame.to_room((unit.width, y, 0.0)) for y in (0.0, unit.wing)]
        off = [wall.frame.from_room(c)[1] for c in corners]
        assert min(off) == pytest.approx(OFF, abs=1e-6)
        assert max(off) - min(off) == pytest.approx(900 * abs(math.cos(math.radians(angle))), abs=1e-6)

    @pytest.mark.parametrize("angle", [86.0, 92.0])
    def test_the_run_beside_it_begins_where_its_wing_ends(self, angle):
        built = kitchen(angle)
        wall, unit = built.survey.wall("B"), built.runs[0].units[-1]
        ends = [unit.frame.to_room((x, unit.wing, 0.0)) for x in (unit.width, unit.width - unit.face)]
        assert built.runs[1].units[0].x == pytest.approx(max(wall.frame.from_room(e)[0] for e in ends))
        assert solids.clashes(built.parts) == []

    def test_its_wing_stands_before_no_door(self):
        opening = {"kind": "door", "wall": "B", "at": 850.0, "width": 700.0, "sill": 0.0}
        with pytest.raises(InputError) as refused:
            kitchen(room={"walls": SQUARE_ROOM, "openings": (opening,)}, at_b=2000.0)
        assert "A2 from 2 to 902 along wall B; allowed: clear of the door from" in str(refused.value)

    def test_before_a_low_window_it_is_built_and_reported(self):
        """Units behind a low sill were refused. The top's face is 910 or 908 high, the sill 500."""
        low = {"kind": "window", "wall": "B", "at": 100.0, "width": 700.0, "sill": 500.0}
        built = kitchen(room={"walls": SQUARE_ROOM, "openings": (low,)}, at_b=2000.0)
        (place,) = {round(p.value) for p in MEASURES["units.under_sill"].take(built)}
        assert place in (500 - 908, 500 - 910)

    def test_its_wing_may_stand_below_a_window(self):
        below = {"kind": "window", "wall": "B", "at": 100.0, "width": 700.0, "sill": 1000.0}
        assert kitchen(room={"walls": SQUARE_ROOM, "openings": (below,)}).runs

    def test_at_the_left_hand(self):
        left = {**CORNER, "hand": "left"}
        built = kitchen(a=(PANEL, BASE), b=(left, BASE, PANEL), at_a=3000 - OFF - 900 - 418.0)
        assert built.runs[1].units[0].x == pytest.approx(OFF)
        assert len(built.joins) == 1

    def test_a_wing_of_another_length(self):
        long = {**CORNER, "wing": 1000.0}
        assert kitchen(a=(BASE, long)).runs[1].units[0].x == pytest.approx(OFF + 1000)


class TestTops:
    def test_two_tops_share_the_corner_over_it(self):
        built = kitchen()
        assert [j.kind for j in built.joins] == ["mitre"]
        # Wall A's top runs through to wall B; its left end is 10 past 1300 of units.
        assert built.lengths[0].part.length == pytest.approx(1300 + OFF + 10)

    def test_the_infill_before_a_diagonal_front(self):
        # Worked in a square corner with a top of 650: it leaves 650 - 598 = 52 behind the units. The carcass's
        # front runs from (560 + 52) to (900 + 52) off the walls, so u + v = 1564; its edge lies 38 before that.
        diagonal = {"unit": "base-diagonal", "width": 900.0, "hand": "right"}
        built = kitchen(a=(BASE, diagonal), worktop={"stock": "sq40.650", "decor": "pale-oak"})
        infill = next(p for p in built.parts if p.role == "infill")
        leg = 1564 + 38 * math.sqrt(2) - 2 * 650
        assert infill.area == pytest.approx(leg**2 / 2, rel=1e-6)
        assert solids.clashes(built.parts) == []

    @pytest.mark.parametrize("angle", [89.9, 90.00034, 90.1])
    def test_an_infill_keeps_clear_of_the_strip_between_the_tops(self, angle):
        # A corner a little wider than square left 3 mm3 of the strip's end in the infill.
        diagonal = {"unit": "base-diagonal", "width": 900.0, "hand": "left"}
        worktop = {"stock": "solid30.650", "decor": "pale-oak"}
        built = kitchen(angle, a=({**BASE, "width": 1000.0},), b=(diagonal, BASE), at_a=1000.0, worktop=worktop)
        assert [part.role for part in built.parts if part.role in ("infill", "joint-strip")] != []
        assert solids.clashes(built.parts) == []

    def test_an_infill_asks_for_square_edges(self):
        diagonal = {"unit": "base-diagonal", "width": 900.0, "hand": "right"}
        with pytest.raises(InputError, match="allowed: a worktop with square edges"):
            kitchen(a=(BASE, diagonal))


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"a": (CORNER, BASE)},
            "with its corner at the right; allowed: a corner unit first in its run with hand: left",
        ),
        ({"at_a": 1000.0}, "leaves 700.0 between the corner unit and its corner; allowed: 2.0 to 62.0"),
        ({"at_b": 640.0}, "found 640, in the wing of the corner unit on the wall beside; allowed: at least 902.0"),
        ({"a": (BASE, {**CORNER, "wing": 950.0})}, "found 950; allowed: for base-l-corner: 900, 1000"),
        ({"a": (BASE, {**BASE, "wing": 900.0})}, "found 900; allowed: for base-doors: none"),
    ],
)
def test_what_does_not_stand_in_a_corner_is_refused(changes, message):
    with pytest.raises(InputError) as caught:
        kitchen(**changes)
    assert message in str(caught.value)


def test_a_wing_without_a_run_beside_it_is_refused():
    with pytest.raises(InputError, match=r"nothing beside its wing.*Try: a run there with an end panel"):
        build(document(runs=({"wall": "A", "units": (BASE, CORNER)},)))


def test_a_corner_unit_in_an_island_is_refused():
    island = {"name": "I", "wall": "A", "along": 800.0, "out": 1500.0, "stock": "pf38.670", "units": (CORNER,)}
    with pytest.raises(InputError, match="allowed: a unit without a corner"):
        build(document(islands=(island,)))


def refused(**changes):
    with pytest.raises(InputError) as caught:
        kitchen(**changes)
    (problem,) = caught.value.problems
    return problem


def test_a_start_that_is_left_out_is_not_told_to_be_left_out():
    wide = (*(BASE,) * 6, CORNER)  # 6 · 400 + 900 = 3300 on a wall of 3000, 2 off its corner
    assert refused(a=wide).advice == "fewer or narrower units"
    assert refused(a=wide, at_a=5.0).advice.startswith("leave start out")


def test_a_run_between_two_wings_that_reach_over_it_is_told_how_wide_it_may_be():
    other = {"wall": "C", "units": ({**CORNER, "hand": "left"}, BASE)}
    runs = ({"wall": "A", "units": (BASE, CORNER)}, {"wall": "B", "units": (BASE,) * 6}, other)
    problem = refused(runs=runs)
    length = kitchen().survey.wall("B").length
    room_left = length - 2 * (900.0 + OFF)
    assert problem.field == "runs[1].units"
    assert problem.found.startswith("2400 wide together")
    assert problem.allowed == f"at most {room_left:.1f} clear of the wings"
