"""Measures of landings, work centres and the floor, worked by hand.

The top is 600 deep over wall A (y = 0); a hob's rim keeps 5 from the sides of its unit of 600, a sink's 50.
"""

import math

import pytest
from shapely import LineString, union_all

from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.wording import in_words
from countersunk.model.facts.plans import top_plan, unit_plan
from tests.model.test_checks import (
    HOB,
    SINK,
    kitchen,
    let_in,
    measured,
    overhang,
    run,
    unit,
    value,
    verdict,
    verdicts,
    walls,
)
from tests.specimens import SOME_DEMOS, oblong, open_kitchen

DOORS, FRIDGE, DISHWASHER = unit("base-doors", 600), unit("tall-fridge"), unit("dishwasher", 600)


def big(a=5000.0, b=4000.0):
    return oblong(a, b)


def beside(template, *between, ends=0.0):
    """A sink or hob at the left of a row in a big room, with ``between`` on its right up to the free end."""
    family = "base-sink" if template == SINK else "base-hob"
    row = run(unit("base-doors", 1000), unit(family, 600), *between, start=500)
    return kitchen(row, cutouts=(let_in(template, "A2"),), worktop=overhang(ends=ends), room=big())


@pytest.mark.parametrize(
    ("width", "ends", "landing", "outcomes"),
    [
        (500, 60, 610, ["met", "falls short"]),
        (500, 59, 609, ["falls short", "falls short"]),
        (800, 65, 915, ["met", "met"]),
        (800, 64, 914, ["met", "falls short"]),
    ],
)
def test_longer_landing_and_preparation_beside_a_sink(width, ends, landing, outcomes):
    row = run(unit("base-sink", 600), unit("base-doors", width))
    built = kitchen(row, cutouts=(let_in(SINK, "A1"),), worktop=overhang(ends=ends))
    assert value("landing.beside_sink_longer", built) == pytest.approx(landing)
    assert [verdict(r, built) for r in ("sink-landing-longer", "sink-preparation")] == outcomes


def test_what_stops_a_landing():
    row = run(
        unit("base-sink", 600), unit("base-doors", 400), unit("base-hob", 600), unit("tall-larder", 600), start=0
    )
    built = kitchen(row, cutouts=(let_in(SINK, "A1"), let_in(HOB, "A3")))
    assert measured("landing.beside_sink_shorter", built) == {"left of sink, up to the wall": pytest.approx(50)}
    assert measured("landing.beside_sink_longer", built) == {"right of sink, up to hob": pytest.approx(455)}
    assert measured("landing.beside_hob_longer", built) == {"left of hob, up to sink": pytest.approx(455)}
    assert measured("landing.beside_hob_shorter", built) == {"right of hob, up to a tall unit": pytest.approx(5)}


def in_corner(angle, kind, female="A"):
    """A sink beside the corner of A and B, with 400 between its unit and the row's end."""
    shoulder = max(600.0, 600 / math.tan(math.radians(angle / 2))) + 20
    row = run(unit("base-sink", 600), unit("base-doors", 400), start=4000 - shoulder - 1000)
    join = {"corner": "A-B", "kind": kind, "female": female}
    return kitchen(
        row, run(DOORS, wall="B", start=shoulder), room={"walls": walls(A=angle, B=90.0)},
        worktop={**overhang(), "joins": (join,)}, cutouts=(let_in(SINK, "A1"),),
    )  # fmt: skip


@pytest.mark.parametrize("kind", ["mitre", "butt"])
@pytest.mark.parametrize("female", ["A", "B"])
def test_a_landing_goes_round_the_corner_where_two_fronts_meet(kind, female):
    # Fronts meet 600 from wall B, 20 beyond the row's end: 50 + 400 + 20; a male butt ends 2 before that. The
    # return on B goes from there to its end, 20 + 600 + 10, of which a male butt is short by 2.
    built = in_corner(90.0, kind, female)
    web = 2.0 if kind == "butt" else 0.0
    right = {"right of sink, round the corner to the end": pytest.approx(470.0 + 630.0 - web)}
    assert measured("landing.beside_sink_longer", built) == right


@pytest.mark.parametrize(("kind", "female", "web"), [("mitre", "A", 0.0), ("butt", "A", 2.0), ("butt", "B", 2.0)])
@pytest.mark.parametrize("angle", [88.0, 90.2, 93.0])
def test_a_landing_round_a_corner_out_of_square(angle, kind, female, web):
    # The fronts meet d / tan(A/2) from the corner along either wall (plane trigonometry); a male butt ends the web
    # of its strip before that. Its slanting end is no place less deep: a return of 0 once followed from it, and a
    # sink near a corner of 90.2° could not be checked at all.
    half = 600 / math.tan(math.radians(angle / 2))
    end = 4000 - max(600.0, half) - 20
    expected = 4000 - half - (end - 450) + (max(600.0, half) + 20 + 610) - half
    found = value("landing.beside_sink_longer", in_corner(angle, kind, female))
    assert found == pytest.approx(expected - web / math.sin(math.radians(angle)), abs=0.01)


# A boxing 48 deep takes 51 of a top of 650 with its gap: 599 are left, which are taken for 600, whatever rounding
# makes of that in a room that is turned. The rim ends 50 before the sink's unit does: 50 + 1600 + 10 to the end.
@pytest.mark.parametrize("angle", [70.0, 76.2, 88.6, 90.0, 101.0, 113.4, 125.8])
def test_a_notch_that_just_leaves_depth_enough_breaks_no_preparation(angle):
    walls = ({"name": "A", "length": 4000.0, "corner": angle}, {"name": "B", "length": 3000.0})
    boxing = {"kind": "pipe-boxing", "wall": "B", "at": 1900.0, "width": 100.0, "depth": 48.0}
    row = {
        "wall": "B",
        "start": 700.0,
        "units": (unit("base-sink", 600), *(unit("base-doors", w) for w in (1000, 600))),
    }
    built = kitchen(
        row,
        room={"walls": walls, "obstacles": (boxing,)},
        worktop={"stock": "sq40.650", "decor": "pale-oak"},
        cutouts=({"template": "sink.one-bowl", "over": "B1"},),
    )
    assert value("landing.preparation", built) == pytest.approx(1660.0)


@pytest.mark.parametrize(
    ("between", "gap", "outcomes"),
    [
        ((unit("base-doors", 300),), 355, ["met", "worth a look"]),
        ((unit("base-doors", 200), unit("filler", 45)), 300, ["met", "worth a look"]),
        ((unit("base-doors", 200), unit("filler", 44)), 299, ["not met", "worth a look"]),
        ((unit("base-doors", 600), unit("filler", 107)), 762, ["met", "met"]),
        ((unit("base-doors", 600), unit("filler", 106)), 761, ["met", "worth a look"]),
    ],
)
def test_sink_to_hob(between, gap, outcomes):
    row = run(unit("base-sink", 600), *between, unit("base-hob", 600))
    built = kitchen(row, cutouts=(let_in(SINK, "A1"), let_in(HOB, f"A{2 + len(between)}")))
    assert measured("landing.sink_to_hob", built) == {"between sink and hob": pytest.approx(gap)}
    assert [verdict(r, built) for r in ("sink-to-hob", "sink-to-hob-shared-landing")] == outcomes


def test_a_tall_panel_between_refrigerator_and_landing_is_no_gap():
    built = kitchen(run(FRIDGE, unit("tall-panel", 18), unit("base-doors", 400)))
    assert measured("landing.beside_fridge", built) == {"right of A1, up to the end": pytest.approx(410)}


def test_a_tall_panel_beside_a_refrigerator_parts_no_work_centres():
    row = run(unit("base-sink", 600), unit("tall-panel", 18), FRIDGE)
    built = kitchen(row, cutouts=(let_in(SINK, "A1"),))
    assert measured("centres.tall_between", built) == {"between sink and A3": 0}


@pytest.mark.parametrize(("out", "landing", "outcome"), [(1819, 600, "met"), (1820, 0, "falls short")])
def test_a_landing_across_from_a_refrigerator(out, landing, outcome):
    # The refrigerator's front is at 580; the island's top begins 20 before ``out``: 1819 - 20 - 580 = 1219 across.
    built = with_island(out, along=500, row=run(FRIDGE))
    assert value("landing.beside_fridge", built) == pytest.approx(landing)
    assert verdict("fridge-landing", built) == outcome


def test_a_top_opposite_a_dishwasher_is_not_beside_it():
    built = kitchen(run(DOORS), run(DISHWASHER, DOORS, wall="C", start=1700), room=big(a=3000.0, b=1790.0))
    assert measured("walkways.beside_dishwasher", built) == {}


def test_a_wall_beside_a_dishwasher_is_no_front():
    assert measured("walkways.beside_dishwasher", kitchen(run(DISHWASHER, DOORS, start=0))) == {}


def with_island(out=1700.0, along=1000.0, cooks=1, facing="wall", stock="pf38.670", room=None, row=None, wall="A"):
    island = {
        "name": "I",
        "wall": wall,
        "along": float(along),
        "out": float(out),
        "facing": facing,
        "stock": stock,
        "units": (DOORS,),
    }
    more = {"room": room} if room else {}
    return kitchen(row or run(DOORS, DOORS), islands=(island,), cooks=cooks, wheelchair=True, **more)


@pytest.mark.parametrize(
    ("out", "cooks", "width", "rule", "outcome"),
    [
        (1687, 1, 1067, "one-cook", "met"),
        (1686, 1, 1066, "one-cook", "falls short"),
        (1840, 2, 1220, "several-cooks", "met"),
        (1839, 2, 1219, "several-cooks", "falls short"),
        (1820, 1, 1200, "england-accessible", "met"),
        (1819, 1, 1199, "england-accessible", "falls short"),
        (2120, 1, 1500, "england-wheelchair", "met"),
        (2119, 1, 1499, "england-wheelchair", "falls short"),
        (1635, 1, 1015, "wheelchair-pass-through", "met"),
        (1634, 1, 1014, "wheelchair-pass-through", "falls short"),
    ],
)
def test_aisle_to_an_island(out, cooks, width, rule, outcome):
    # From the top's front edge at 600 to the island's, 20 before its units.
    built = with_island(out, cooks=cooks)
    aisles = measured("walkways.aisle", built)
    assert aisles["before A1 to T2"] == pytest.approx(width)
    assert [f for f in verdicts(f"aisle-{rule}", built) if f != "met"] == ([outcome] if outcome != "met" else [])


def test_two_runs_that_face_each_other_have_one_aisle():
    built = kitchen(run(DOORS), run(DOORS, wall="C", start=1900))
    assert measured("walkways.aisle", built) == {"before A1 to T2": pytest.approx(1800)}


def test_an_aisle_is_measured_from_the_front_of_a_tall_unit():
    built = kitchen(run(unit("tall-larder", 600)))
    assert measured("walkways.aisle", built) == {"before A1 to wall C": pytest.approx(3000 - 578)}


def test_a_run_in_a_corner_does_not_stop_the_aisle_of_the_other():
    # B's front is 20 beyond A's row and turned by 90°, so nothing nearer than wall C faces A.
    built = kitchen(run(DOORS, start=1780), run(DOORS, wall="B", start=620))
    assert measured("walkways.aisle", built)["before A1 to wall C"] == pytest.approx(2400)


def test_an_island_that_stands_beside_a_run_does_not_narrow_its_aisle():
    # The run's front ends at 1100, the island's top begins at 1110.
    assert "before A1 to T2" not in measured("walkways.aisle", with_island(along=1120, row=run(DOORS)))


def test_nothing_opposite_was_surveyed():
    built = kitchen(run(DOORS), room={"walls": walls(A=90.0, B=90.0)})
    (place,) = MEASURES["walkways.aisle"].take(built)
    assert (in_words(built, place.where), place.value, place.reason) == (
        "before A1",
        None,
        "nothing that faces it was surveyed",
    )
    assert verdict("aisle-one-cook", built) == "not measured"


@pytest.mark.parametrize(("along", "way", "outcome"), [(925, 915, "met"), (924, 914, "falls short")])
def test_walkway_at_the_end_of_an_island(along, way, outcome):
    # The island faces wall A: whoever stands before its fronts has wall D at the right hand.
    built = with_island(along=along)
    found = measured("walkways.around_island", built)
    assert found == {
        "right end of T2 to wall D": pytest.approx(way),
        "left end of T2 to wall B": pytest.approx(3000 - along - 610),
        "back of T2 to wall C": pytest.approx(3000 - 1700 - 650),
    }
    assert verdicts("walkway-around-island", built).count("met") == (2 if outcome == "met" else 1)


def test_walkway_between_an_island_and_a_tall_unit():
    # A tall unit on wall D, from 1300 to 1900 out from wall A, is 578 deep; the island's end is at 1490.
    tall = run(unit("tall-larder", 600), wall="D", start=1100)
    built = with_island(along=1500, row=tall)
    assert measured("walkways.around_island", built)["right end of T1 to D1"] == pytest.approx(1490 - 578)


def test_an_island_against_a_wall_has_no_way_past():
    assert "right end of T2 to wall D" not in measured("walkways.around_island", with_island(along=59))
    assert measured("walkways.around_island", with_island(along=60))["right end of T2 to wall D"] == pytest.approx(
        50
    )


def test_the_back_of_an_island_that_faces_the_room():
    # Its back panel of 18 stands at ``out``, the top 54 farther towards the wall's run: 1700 - 54 - 600.
    built = with_island(facing="room")
    back = measured("walkways.around_island", built)["back of T2 to T1"]
    assert back == pytest.approx(1700 - 54 - 600)


@pytest.mark.parametrize(("width", "outcome"), [(900, "met"), (813, "met"), (812, "falls short")])
@pytest.mark.parametrize("kind", ["door", "passage"])
def test_doorway(kind, width, outcome):
    opening = {"kind": kind, "wall": "C", "at": 100.0, "width": float(width)}
    built = kitchen(run(DOORS), room={**big(), "openings": (opening,)})
    assert measured("walkways.doorway", built) == {f"{kind} in wall C at 100": width}
    assert verdict("doorway-width", built) == outcome


def triangle(*between, second=()):
    """Sink, ``between``, hob, ``second`` and a refrigerator in one row."""
    row = run(unit("base-sink", 600), *between, unit("base-hob", 600), *second, FRIDGE, start=100)
    cutouts = (let_in(SINK, "A1"), let_in(HOB, f"A{2 + len(between)}"))
    return kitchen(row, cutouts=cutouts, room=big(a=8000.0))


def test_legs_of_the_triangle():
    # From the front edge of the top at 600; the refrigerator's front stands back, so that the way bends at the end
    # of the top, 300 from its middle.
    built = triangle(unit("base-doors", 1000), second=(unit("base-doors", 800),))
    bend = math.hypot(300, 600 - built.units[-1].face - built.runs[0].stand_off)
    legs = [1600.0, 2700 + bend, 1100 + bend]
    assert list(measured("centres.triangle_leg", built).values()) == pytest.approx(legs)
    assert value("centres.triangle_sum", built) == pytest.approx(sum(legs))
    assert verdicts("triangle-leg-short", built) == ["met"] * 3
    assert sorted(verdicts("triangle-leg-long", built)) == ["met", "met", "worth a look"]
    assert verdict("triangle-sum", built) == "met"


def test_a_triangle_too_long():
    # All in one row, the sum is twice the way from the sink to the refrigerator: 2 (1600 + 600 + 600 n).
    built = triangle(unit("base-doors", 1000), second=[unit("tall-larder", 600)] * 2)
    assert value("centres.triangle_sum", built) == pytest.approx(6800, abs=3)
    assert verdict("triangle-sum", built) == "met"
    built = triangle(unit("base-doors", 1000), second=[unit("tall-larder", 600)] * 3)
    assert value("centres.triangle_sum", built) == pytest.approx(8000, abs=3)
    assert verdict("triangle-sum", built) == "worth a look"


def test_no_triangle_without_a_refrigerator():
    built = beside(HOB, unit("base-doors", 400))
    assert measured("centres.triangle_leg", built) == measured("centres.triangle_sum", built) == {}


@pytest.mark.parametrize("count", [0, 1, 2])
def test_tall_units_between_work_centres(count):
    built = triangle(unit("base-doors", 1000), second=[unit("tall-larder", 600)] * count)
    fridge = f"A{4 + count}"
    assert measured("centres.tall_between", built) == {
        "between sink and hob": 0,
        f"between sink and {fridge}": count,
        f"between hob and {fridge}": count,
    }
    assert verdicts("tall-unit-between", built).count("falls short") == (2 if count else 0)


def test_a_leg_through_an_island():
    # Sink and refrigerator on A, the hob straight across on C: its leg crosses the island, 670 deep.
    island = {"name": "I", "wall": "A", "along": 800.0, "out": 1500.0, "stock": "pf38.670", "units": (DOORS, DOORS)}
    built = kitchen(
        run(unit("base-sink", 600), FRIDGE, start=1100), run(unit("base-hob", 600), wall="C", start=3300),
        islands=(island,), cutouts=(let_in(SINK, "A1"), let_in(HOB, "C1")), room=big(),
    )  # fmt: skip
    through = measured("centres.triangle_through_island", built)
    assert through["sink to hob through the island"] == pytest.approx(670)
    assert through["sink to A2 through the island"] == 0
    assert "worth a look" in verdicts("triangle-through-island", built)


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_aisles_against_lines_of_sight(path):
    # An independent witness: a straight line out from the middle of a front hits the first thing before it; the
    # aisle of that run to that thing is at most as wide.
    built = open_kitchen(path)
    solid = {t.id: top_plan(t) for t in built.lengths} | {
        u.name: unit_plan(u) for u in built.units if u.family.level == "floor" and not u.family.carries_top
    }
    aisles = measured("walkways.aisle", built)
    for placed in built.runs:
        fronts = [u for u in placed.units if u.family.construction in ("box", "drawers") and u.family.carries_top]
        for front in fronts if placed.level == "floor" else ():
            x, y = front.x + front.width / 2, placed.stock.depth + 0.001
            sight = LineString([placed.frame.to_room((x, d, 0.0))[:2] for d in (y, 20_000.0)])
            things = union_all([*solid.values(), *(w.line for w in built.survey.walls)])
            hit = sight.intersection(things).distance(LineString([sight.coords[0]] * 2).centroid)
            assert min(aisles.values()) <= hit + 0.01


def test_one_door_that_units_leave_is_enough_and_a_narrow_one_is_no_way():
    row = run(unit("base-doors", 600), unit("base-doors", 600), start=3800)
    door = {"kind": "door", "wall": "B", "at": 100.0, "width": 900.0}
    passage = {"kind": "passage", "wall": "D", "at": 1000.0, "width": 700.0}
    two = kitchen(row, room=oblong(5000, 4000, openings=(door, passage)))
    assert measured("walkways.left_of_doorway", two) == {"passage in wall D at 1000": 700}
    assert verdict("doorway-left-by-units", kitchen(row, room=oblong(5000, 4000, openings=(door,)))) == "not met"
    narrow = {**door, "at": 500.0, "width": 500.0}
    assert measured("walkways.left_of_doorway", kitchen(row, room=oblong(5000, 4000, openings=(narrow,)))) == {}
