"""What the tops cover: corner units out of square, clipped ends, and random rooms against the fronts themselves."""

import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, union_all

from countersunk.model.checks import check
from countersunk.model.cures.choices import choices
from countersunk.model.cures.move import Scope
from countersunk.model.cures.search import Cure, cure
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import build
from tests.lanes import tries
from tests.model.test_checks import kitchen as specimen
from tests.model.test_checks import overhang
from tests.model.test_corner_units import BASE, CORNER, PANEL, kitchen
from tests.specimens import SQUARE_ROOM, document

FILLER = {"unit": "filler", "width": 30.0}


def findings(built, rule):
    return {f.place: f for f in check(built) if f.rule == rule}


class TestSquareUnitInACornerOutOfSquare:
    # Its wing, 900 long and 2 off both walls, is square to wall A: from B its back is 2 + 900·sin(2.5°) = 41.26 off
    # at the end, and its front, 578 before its back, 41.26 + 578·cos(2.5°) = 618.71. The top is 600 deep.
    def test_the_wing_stands_past_the_top_of_the_other_wall(self):
        found = findings(kitchen(92.5), "worktop-covers-fronts")
        past = 2 + 900 * math.sin(math.radians(2.5)) + 578 * math.cos(math.radians(2.5)) - 600
        assert past == pytest.approx(18.71, abs=0.01)
        assert found["front of T2"].value == pytest.approx(-past, abs=0.06)
        assert found["front of T2"].serious
        assert set(found["front of T2"].ids) == {"T2", "A2"}

    def test_in_a_square_corner_both_tops_stand_20_past_it(self):
        assert [f.value for f in findings(kitchen(), "worktop-covers-fronts").values()] == pytest.approx([20, 20])

    @pytest.mark.slow
    def test_the_wedge_beside_the_wing_is_cured_by_a_filler(self):
        built = kitchen(92.5)
        wedge = findings(built, "wedge-beside-wing")["between A2 and B1"]
        # From the unit's face, 580 out, to the back of the wing, 41.26 out, along a line that leans by 2.5°.
        assert wedge.value == pytest.approx((580 - 41.26) * math.tan(math.radians(2.5)), abs=0.06)
        found = cure(built.document, wedge)
        assert isinstance(found, Cure)
        assert found.words.startswith("put a filler, 24 wide, to the left of B1")

    def test_a_filler_begins_at_the_wing_in_the_plane_of_the_fronts(self):
        bare, filled = (kitchen(92.5, b=b) for b in ((BASE, PANEL), (FILLER, BASE, PANEL)))
        # At 562, the back of the filler's board, the wing is (562 - 41.26)·tan(2.5°) nearer than at its back.
        nearer = (562 - (2 + 900 * math.sin(math.radians(2.5)))) * math.tan(math.radians(2.5))
        assert bare.runs[1].units[0].x - filled.runs[1].units[0].x == pytest.approx(nearer, abs=1e-6)

    def test_a_filler_too_narrow_to_clear_the_wing_behind_is_refused(self):
        narrow = {"unit": "filler", "width": 20.0}
        with pytest.raises(InputError, match=r"a filler 20 wide beside the wing .* allowed: at least 22\.7"):
            kitchen(92.5, b=(narrow, BASE, PANEL))

    def test_in_an_acute_corner_they_touch_in_front(self):
        assert findings(kitchen(88.0), "wedge-beside-wing")["between A2 and B1"].value == 0.0


class TestClippedEnds:
    def end(self, **corner):
        return specimen(worktop={**overhang(), "corners": ({"over": "A3", "end": "right", **corner},)})

    def test_a_round_corner_leaves_the_unit_bare(self):
        # The unit's corner is 10 and 20 inside the top's; the arc's middle is 120 inside both: hypot(110, 100).
        found = findings(self.end(radius=120.0), "worktop-covers-ends")
        assert found["right end of T1"].value == pytest.approx(120 - math.hypot(110, 100), abs=0.06)
        assert found["right end of T1"].serious
        assert found["left end of T1"].value == pytest.approx(10.0)

    @pytest.mark.slow
    def test_a_smaller_clip_cures_it(self):
        # At least 10 past the side and 20 past the front are left: x + y = 30.
        built = self.end(clip=150.0)
        found = cure(built.document, findings(built, "worktop-covers-ends")["right end of T1"])
        assert isinstance(found, Cure)
        assert found.words.startswith("make the clip of the front corner at the right of A3 30 mm instead of 150")

    def test_an_open_end_clipped_as_the_top_is_cures_it(self):
        units = ({"unit": "base-doors", "width": 600.0}, {"unit": "base-doors", "width": 300.0})
        top = {**overhang(), "corners": ({"over": "A2", "end": "right", "clip": 150.0},)}
        built = build(document(runs=({"wall": "A", "start": 500.0, "units": units},), worktop=top))
        moves = [m for m in choices(built, Scope(frozenset("A"), frozenset(["A2"]))) if m.kinds == ("open end",)]
        words = [m.words for m in moves]
        assert words == [
            "put an open end of base units in place of A2",
            "put a clipped open end of base units in place of A2",
        ]
        ends = (build(edited(built.document, dict(m.changes))) for m in moves)
        covers = [findings(k, "worktop-covers-ends")["right end of T1"].value for k in ends]
        assert covers == pytest.approx([-120 / math.sqrt(2), 10.0], abs=0.06)

    def test_a_clipped_open_end_has_the_corner_that_the_top_has(self):
        # Clipped by 150 it has x + y = 150 from its own corner, the top x + y = 150 - 30 from there.
        units = (
            {"unit": "base-doors", "width": 600.0},
            {"unit": "base-clipped-end", "width": 300.0, "hand": "right"},
        )
        top = {**overhang(), "corners": ({"over": "A2", "end": "right", "clip": 150.0},)}
        built = build(document(runs=({"wall": "A", "start": 500.0, "units": units},), worktop=top))
        assert findings(built, "worktop-covers-ends")["right end of T1"].value == pytest.approx(10.0)


class TestWhatIsSeenAtAnEndReachesTheWall:
    # A top of 650 over 560 + 18 of front, overhung by 20, leaves 52 behind the units; one of 616 leaves 18.
    def built(self, stock="sq40.650", returns="none", last=PANEL, **wall):
        walls = ({**SQUARE_ROOM[0], **wall}, *SQUARE_ROOM[1:])
        row = {"wall": "A", "start": 500.0, "returns": returns, "units": (PANEL, BASE, last)}
        return build(document(room={"walls": walls}, runs=(row,), worktop=overhang(stock=stock)))

    def span(self, built, mark):
        """From where to where a part lies out from wall A, mm."""
        frame, plan = built.survey.wall("A").frame, built.parts_by_mark[mark].standing_plan
        return frame.plan_from_room(plan).bounds[1::2]

    @pytest.mark.parametrize(("stock", "front"), [("sq40.650", 630.0), ("pf38.616", 596.0), ("pf38.600", 580.0)])
    def test_end_panels_go_from_the_wall_to_the_fronts(self, stock, front):
        built = self.built(stock)
        assert self.span(built, "A1.panel") == pytest.approx((0.0, front), abs=1e-9)
        assert self.span(built, "A3.panel") == pytest.approx((0.0, front), abs=1e-9)

    def test_a_plinth_turns_back_to_the_wall(self):
        # Its face is 50 behind the front of the carcass and 18 thick: 52 + 560 - 50 + 18, less the front's board.
        built = self.built(returns="right", last=BASE)
        assert self.span(built, "A2.plinth.right") == pytest.approx((0.0, 52 + 560 - 50), abs=1e-9)

    def test_a_panel_stops_at_a_wall_that_bulges_into_the_room(self):
        # Out by 5 from 1000 to 2000 along it, where the row ends at 936; by 5·(936 / 1000) at the right panel.
        bow = {"every": 1000.0, "offsets": (0.0, -5.0, -5.0, 0.0)}
        low, high = self.span(self.built(bow=bow), "A3.panel")
        assert low == pytest.approx(5 * 936 / 1000, abs=0.01)
        assert high == pytest.approx(630.0)

    def test_a_panel_stops_at_a_boxing_behind_it(self):
        boxing = {"kind": "pipe-boxing", "wall": "A", "at": 450.0, "width": 200.0, "depth": 40.0}
        row = {"wall": "A", "start": 500.0, "units": (PANEL, BASE, PANEL)}
        room = {"walls": SQUARE_ROOM, "obstacles": (boxing,)}
        built = build(document(room=room, runs=(row,), worktop=overhang(stock="sq40.650")))
        assert self.span(built, "A1.panel") == pytest.approx((40.0, 630.0))
        assert self.span(built, "A3.panel") == pytest.approx((0.0, 630.0), abs=1e-9)


CORNERS = {"l": CORNER, "diagonal": {**CORNER, "unit": "base-diagonal"}, "none": None}


@st.composite
def rooms(draw):
    """Two walls that meet at 60 to 150°, a corner unit or none in the corner, tops of several depths over them."""
    angle, corner = draw(st.floats(60.0, 150.0)), CORNERS[draw(st.sampled_from(sorted(CORNERS)))]
    if corner and draw(st.booleans()):
        angle = draw(st.floats(84.0, 96.0))
    rest = (draw(st.sampled_from([FILLER, {"unit": "filler", "width": 60.0}, BASE])), BASE, PANEL)
    stock = draw(st.sampled_from(["pf38.600", "pf38.616", "sq40.650", "solid30.650"]))
    gap = draw(st.floats(0.0, 150.0)) + 650.0 * max(1.0, 1.0 / math.tan(math.radians(angle / 2)))
    runs = [{"wall": "A", "units": (BASE, *((corner,) if corner else (BASE, BASE)))}, {"wall": "B", "units": rest}]
    if corner is None:
        runs = [{**runs[0], "start": max(0.0, 4000.0 - gap - 1200.0)}, {**runs[1], "start": gap}]
    walls = ({"name": "A", "length": 4000.0, "corner": angle}, {"name": "B", "length": 4000.0})
    over = {"front": draw(st.sampled_from([0.0, 10.0, 20.0])), "ends": draw(st.sampled_from([0.0, 10.0]))}
    return document(
        room={"walls": walls}, runs=tuple(runs),
        worktop={"stock": stock, "decor": "pale-oak", "overhang": over},
    )  # fmt: skip


@given(rooms())
@settings(max_examples=tries(60), deadline=None, suppress_health_check=list(HealthCheck))
def test_no_front_stands_past_its_top_without_a_finding(wish):
    """The witness is what is made: the plans of the boards that are seen, less those of the tops."""
    try:
        built = build(wish)
    except InputError:
        assume(False)
    tops = [p for p in built.parts if p.role in (Role.WORKTOP, Role.INFILL)]
    over = union_all([p.pose.plan_to_room(Polygon(p.outline.exterior)) for p in tops])
    covered = over.buffer(1.1, join_style="mitre")  # the web of a joint strip, 2 wide, lies between two tops
    under = {unit.key for unit in built.units if unit.family.carries_top}
    seen = [p for p in built.parts if p.owner in under and p.layer is Layer.FRONTS]
    bare = [p.mark for p in seen if p.standing_plan.difference(covered).area > 1.0]
    missed = [f for f in check(built) if f.rule.startswith("worktop-covers") and f.serious]
    assert bool(missed) or not bare, bare
