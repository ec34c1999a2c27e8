"""What is let in where people let it in: hobs over drawers, a drainer over a narrow unit, round bowls."""

import math

import pytest

from countersunk.model.checks import check
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Component, Position, Role
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from tests.specimens import demo, document

DOORS, DRAWERS = {"unit": "base-doors", "width": 600.0}, {"unit": "base-drawers", "width": 600.0}
SINK = {"unit": "base-sink", "width": 600.0}


def over(middle, **cutout):
    """Three units of 600 from x = 500, something let in over the second."""
    row = {"wall": "A", "start": 500.0, "units": (DOORS, middle, DOORS)}
    return build(document(runs=(row,), cutouts=({"over": "A2", **cutout},)))


def found(kitchen, rule):
    return [f for f in check(kitchen) if f.rule == rule]


@pytest.mark.parametrize("hob", ["hob.electric-60", "hob.gas-60"])
def test_a_hob_hangs_over_drawers_worked_by_hand(hob):
    """It hangs 50 below the face of a top of 38, so 12 into the unit, where flat rails of 100 would be in its way.

    They stand on edge: 18 deep, the front one 35 - 3 = 32 high over a drawer that keeps 35, the back one 100. The
    drawer's box is 35 - 12 = 23 under the hob. Rails on edge take brackets, as elsewhere (common practice, no
    source).
    """
    kitchen = over(DRAWERS, template=hob)
    unit = kitchen.units[1]
    rails = {part.which.at: part for part in kitchen.parts_of[unit.key] if part.role is Role.RAIL}
    assert [rails[at,].depth for at in (Position.FRONT, Position.BACK)] == [32, 100]
    assert not any(rail.lies_flat for rail in rails.values())
    [gap] = found(kitchen, "hob-over-drawer")
    assert gap.value == pytest.approx(23)
    assert not [f for f in check(kitchen) if f.serious]
    brackets = {line.quantity.item: line.quantity.net for line in estimate(kitchen).materials}["bracket"]
    assert brackets == 2 * (math.ceil((600 - 36 - 2 * 50) / 350) + 1)


def test_rails_lie_flat_where_nothing_hangs_between_them():
    for kitchen in (over(DRAWERS, template="tap.hole"), over(DRAWERS, kind="hob", line=(500.0, 400.0), depth=30.0)):
        assert all(p.lies_flat for p in kitchen.parts_of[kitchen.units[1].key] if p.role is Role.RAIL)


@pytest.mark.parametrize(("drainer", "left"), [("right", 1400 - 200), ("left", 1400 - 200)])
def test_a_sink_with_a_drainer_hangs_its_bowl_in_the_middle_of_a_narrow_unit(drainer, left):
    """A line of 840, its bowl 400 wide and 20 from the line's end; the unit from 1100 to 1700 is 564 inside.

    The bowl is from 1200 to 1600, so the line round it from 1180 to 1620, 62 clear of the sides at 1118 and 1682.
    """
    kitchen = over(SINK, template="sink.bowl-drainer", drainer=drainer)
    [bowl] = [p for p in kitchen.parts if p.which.component is Component.BOWL]
    x0, _, x1, _ = kitchen.runs[0].frame.plan_from_room(bowl.standing_plan).bounds
    assert (x0, x1) == pytest.approx((left, left + 400))
    [sides] = found(kitchen, "cutout-over-unit-sides")
    assert sides.value == pytest.approx(62)
    line = kitchen.runs[0].frame.plan_from_room(kitchen.cutouts[0].line_in_room).bounds
    assert line[0::2] == pytest.approx((1180, 2020) if drainer == "right" else (780, 1620))


def test_a_sink_that_fits_inside_its_unit_stays_in_its_middle():
    kitchen = over({"unit": "base-sink", "width": 1000.0}, template="sink.bowl-drainer")
    line = kitchen.runs[0].frame.plan_from_room(kitchen.cutouts[0].line_in_room).bounds
    assert (line[0] + line[2]) / 2 == pytest.approx(1100 + 500)


def test_a_drainer_that_is_typed_is_mirrored():
    left = over(SINK, template="sink.bowl-drainer", drainer="left").document
    assert mirrored(left).cutouts[0].drainer == "right"
    assert mirrored(mirrored(left)) == left


def test_a_round_bowl_hangs_in_its_round_hole():
    """A hole of 440: the bowl 20 inside it is a circle of 400, and no bowl of 400 x 400 with corners of 40."""
    kitchen = over(SINK, kind="sink", line=(440.0, 440.0), radius=220.0, from_front=80.0)
    [base] = [p for p in kitchen.parts if p.which.component is Component.BASE]
    assert base.area == pytest.approx(math.pi * 200**2, rel=0.01)
    [rim] = [p for p in kitchen.parts if p.which.component is Component.RIM]
    assert rim.outline.bounds == pytest.approx((-230, -230, 230, 230), abs=0.01)


TYPED = {"kind": "sink", "line": (430.0, 430.0), "rim": (460.0, 460.0), "radius": 215.0, "depth": 180.0}


def test_what_is_typed_with_an_article_is_ordered_and_quoted_like_the_rest():
    """Without one it is the customer's own: let in, and not ordered."""
    counted = {q.item: q.net for q in estimate(over(SINK, **TYPED, article="sink.round")).quantities}
    assert counted["sink.round"] == 1
    own = over(SINK, **TYPED)
    assert not [q for q in estimate(own).quantities if q.item.startswith(("sink", "own"))]
    assert (own.cutouts[0].own, over(SINK, **TYPED, article="sink.round").cutouts[0].own) == (True, False)


def test_an_article_beside_a_template_is_refused():
    with pytest.raises(InputError) as refused:
        over(SINK, template="sink.one-bowl", article="sink.round")
    (problem,) = refused.value.problems
    assert (problem.field, problem.found) == ("cutouts[0].article", "a template beside it")


def test_a_round_bowl_hangs_in_a_corner_over_a_diagonal_unit():
    """Its middle lies 67 right of the unit's, 450 off the carcass's end and 2 off the wall; 650 - 100 - 215
    deep.
    """
    kitchen = demo("lockhouse")
    (sink,) = [c for c in kitchen.cutouts if c.template.code == "sink.round"]
    rails = [p for p in kitchen.parts_of[sink.unit.key] if p.role is Role.RAIL and Position.BACK in p.which.at]
    assert {round(p.depth) for p in rails} == {100}
    assert {round(p.thickness) for p in rails} == {18}
    middle = sink.line_in_room.centroid
    assert (6300.0 - middle.x, -middle.y) == (pytest.approx(435.0, abs=0.1), pytest.approx(335.0, abs=0.1))
    assert found(kitchen, "sink-bowl-to-sides")[0].verdict == "met"


def front_sink():
    """A base unit, a ceramic front sink of 600 and a base unit, from x = 500; and a waste 300 beyond its middle."""
    row = {"wall": "A", "start": 500.0, "units": (DOORS, {"unit": "sink-front", "width": 600.0}, DOORS)}
    waste = {"kind": "waste", "wall": "A", "at": 1700.0, "height": 300.0}
    return build(document(runs=(row,), room={"walls": document().room.walls, "services": (waste,)}))


def test_a_front_sink_lies_on_the_cut_away_sides_of_its_unit():
    """255 high with its rim at the worktop's face, 908; doors end a reveal of 1.5 below it."""
    kitchen = front_sink()
    unit = kitchen.units[1]
    parts = kitchen.parts_of[unit.key]
    sides = [p for p in parts if p.role is Role.SIDE]
    assert [p.pose.origin[2] + p.length for p in sides] == [pytest.approx(908.0 - 255.0)] * 2
    (door,) = [p for p in parts if p.role is Role.DOOR]
    assert door.pose.origin[2] + door.length == pytest.approx(653.0 - 1.5)
    (bowl,) = [p for p in parts if p.which.component is Component.BOWL]
    assert bowl.pose.origin[2] + bowl.thickness == pytest.approx(908.0)
    assert bowl.depth == pytest.approx(560.0 + 18.0 + 20.0)  # 20 before the fronts


def test_a_front_sink_parts_the_top_and_is_counted_with_tap_and_trap():
    kitchen = front_sink()
    assert [length.part.length for length in kitchen.lengths] == [pytest.approx(610.0)] * 2  # 10 past each free end
    counted = {q.item: q.net for q in estimate(kitchen).quantities}
    assert (counted["sink.front"], counted["tap"], counted["trap"]) == (1, 1, 1)


def test_a_front_sink_is_a_sink_to_the_checks():
    """Tops of 610 on both sides; its middle is 1400 along and 2 + 578 / 2 out."""
    kitchen = front_sink()
    (landing,) = found(kitchen, "sink-landing-longer")
    assert landing.value == pytest.approx(610.0)
    (run,) = found(kitchen, "waste-run")
    assert run.value == pytest.approx(300.0 + 2.0 + 578.0 / 2)
    (fall,) = found(kitchen, "waste-fall")
    assert fall.value == pytest.approx((653.0 - 150.0 - 300.0) / (0.3 + 0.002 + 0.289), abs=0.06)


@pytest.mark.parametrize("width", [200.0, 600.0])
def test_a_front_sink_keeps_off_a_hob_by_the_top_between(width):
    """The hob's rim is 590 wide over a unit of 600: 5 more than the unit between."""
    between = {"unit": "base-doors", "width": width}
    row = ({"unit": "sink-front", "width": 600.0}, between, {"unit": "base-hob", "width": 600.0})
    runs = ({"wall": "A", "start": 500.0, "units": row},)
    kitchen = build(document(runs=runs, cutouts=({"template": "hob.electric-60", "over": "A3"},)))
    (place,) = found(kitchen, "sink-to-hob")
    assert place.value == pytest.approx(width + 5.0)
    assert place.serious == (width < 295.0)
