"""Measures of cut-outs, worktops and units, worked by hand.

The specimen's row is A1 400, A2 600, A3 600 from x = 500; the top overhangs the free ends by 10. The sink's line is
480 x 480 with corners of 20, its rim 500 x 500; the hob's line is 560 x 490, its rim 590 x 520.
"""

import math

import pytest

from countersunk import shared
from countersunk.model.checks import check
from countersunk.model.document.schema import CornerJoin
from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import build
from tests.model.test_checks import (
    HOB,
    SINK,
    kitchen,
    let_in,
    measured,
    overhang,
    run,
    stocked,
    unit,
    value,
    verdict,
    verdicts,
)
from tests.specimens import cornered, document, open_kitchen, square

pytestmark = pytest.mark.quick

SHALLOW = stocked(templates={SINK: {"depth": 30.0}, HOB: {"depth": 30.0}})
"""Sink and hob that hang no deeper than the top is thick, so that no rail is in their way."""

BIG = square(5000)


def joined(angle=90.0, shift=0.0, **more):
    """A sink in the last unit on wall A (1780 to 2380), next to the join of two tops 600 deep."""
    cutout = {"template": SINK, "over": "A2", "shift": float(shift)}
    return build(edited(cornered(angle, **more), {"cutouts": (cutout,)}), SHALLOW)


def test_cutout_to_a_butt_join_counts_the_web_of_the_strip():
    # The male ends 602 from wall B, at 2398; the line at 2320.
    built = joined(female="B", kind="butt", notch=None)
    assert measured("cutout.to_join", built) == {"sink to join J1": pytest.approx(78.0)}


@pytest.mark.parametrize("angle", [88.0, 91.2])
def test_cutout_to_a_join_out_of_square(angle):
    # The male's long edge is the line 585 from wall B, which leans; the row ends 20 behind the fronts' meeting.
    end = 3000 - max(600.0, 600 / math.tan(math.radians(angle / 2))) - 20
    lean = 1 / math.tan(math.radians(angle))
    edge = [3000 - 585 / math.sin(math.radians(angle)) - y * lean for y in (80.0, 520.0)]
    gap = (min(edge) - (end - 60)) * math.sin(math.radians(angle))
    assert value("cutout.to_join", joined(angle, female="B")) == pytest.approx(gap, abs=0.3)


def test_cutout_to_ends_at_a_wall_and_at_a_tall_unit():
    row = run(unit("base-doors", 400), unit("base-sink", 600), unit("tall-larder", 600), start=0)
    built = kitchen(row, cutouts=(let_in(SINK, "A2"),))
    assert measured("cutout.to_end", built) == {
        "sink to the left end of T1, against wall": pytest.approx(460.0),
        "sink to the right end of T1, against tall unit": pytest.approx(60.0),
    }


def test_a_scribed_back_is_no_end():
    # wall A bulges by 9 behind the sink, whose line is 60 from a back that is straight
    bowed = {"name": "A", "length": 5000.0, "bow": {"every": 2500.0, "offsets": (0.0, -9.0, 0.0)}}
    row = run(unit("base-doors", 400), unit("base-sink", 600), unit("base-doors", 400), start=1800)
    built = kitchen(row, cutouts=(let_in(SINK, "A2"),), room={"walls": (bowed,)})
    assert sorted(measured("cutout.to_end", built)) == [
        "sink to the left end of T1, exposed",
        "sink to the right end of T1, exposed",
    ]
    assert value("cutout.to_back_edge", built) == pytest.approx(51.0, abs=0.1)


@pytest.mark.parametrize(
    ("radius", "outcomes"),
    [(2.9, ["not met", "worth a look"]), (3.0, ["met", "worth a look"]), (10.0, ["met", "met"])],
)
def test_corner_radius(radius, outcomes):
    hob = {"kind": "hob", "line": (500.0, 450.0), "radius": radius, "depth": 30.0, "over": "A3"}
    built = kitchen(cutouts=(hob,))
    assert [verdict(f"cutout-corner-radius{end}", built) for end in ("", "-better")] == outcomes


def test_the_corners_of_an_article_are_its_makers():
    built = kitchen(cutouts=(let_in(HOB, "A3"),), catalogue=stocked(templates={HOB: {"radius": 5.0}}))
    assert verdict("cutout-corner-radius", built) == "met"
    assert not any(finding.rule == "cutout-corner-radius-better" for finding in check(built))


@pytest.mark.parametrize(
    ("legs", "height", "outcomes"),
    [
        (150, 908, ["met", "met"]),
        (92, 850, ["met", "met"]),
        (91, 849, ["worth a look", "met"]),
        (192, 950, ["met", "met"]),
        (193, 951, ["met", "worth a look"]),
    ],
)
def test_worktop_height(legs, height, outcomes):
    # Legs, a carcass of 720 and a top of 38.
    built = kitchen(run(unit("base-doors", 600)), catalogue=stocked({"base-doors": {"legs": float(legs)}}))
    assert measured("worktop.height", built) == {"face of T1": pytest.approx(height)}
    assert [verdict(f"worktop-height-{end}", built) for end in ("low", "high")] == outcomes


@pytest.mark.parametrize(("legs", "outcome"), [(142, "met"), (143, "falls short")])
def test_worktop_height_of_an_accessible_kitchen(legs, outcome):
    catalogue = stocked({"base-doors": {"legs": float(legs)}})
    built = kitchen(run(unit("base-doors", 600)), catalogue=catalogue, wheelchair=True)
    assert verdict("worktop-height-accessible", built) == outcome


@pytest.mark.parametrize(
    ("bottom", "clear", "outcomes"),
    [
        (1408, 500, ["met", "met"]),
        (1409, 501, ["met", "worth a look"]),
        (1358, 450, ["met", "met"]),
        (1357, 449, ["falls short", "met"]),
    ],
)
def test_worktop_to_wall_unit(bottom, clear, outcomes):
    upper = run(unit("wall-doors", 600), start=600, level="upper")
    built = kitchen(
        run(unit("base-doors", 600)), upper, catalogue=stocked({"wall-doors": {"bottom": float(bottom)}})
    )
    assert measured("worktop.to_wall_unit", built) == {"T1 to AU1": pytest.approx(clear)}
    assert [verdict(r, built) for r in ("wall-unit-over-worktop", "wall-unit-within-reach")] == outcomes


def test_a_wall_unit_over_no_worktop_has_no_place():
    built = kitchen(run(unit("base-doors", 600)), run(unit("wall-doors", 600), start=1110, level="upper"))
    assert measured("worktop.to_wall_unit", built) == {}


@pytest.mark.parametrize(
    ("ends", "outcomes"),
    [(10, ["met", "met"]), (150, ["met", "met"]), (151, ["falls short", "met"]), (300, ["falls short", "met"])],
)
def test_end_overhang(ends, outcomes):
    built = kitchen(worktop=overhang(ends=ends))
    assert measured("worktop.end_overhang", built) == {"left end of T1": ends, "right end of T1": ends}
    found = [verdicts(f"worktop-end-overhang{end}", built)[0] for end in ("-laminate", "")]
    assert found == outcomes


def test_an_appliance_or_a_filler_at_a_free_end_carries_nothing():
    built = kitchen(run(unit("dishwasher", 600), unit("base-doors", 400), unit("filler", 100)))
    assert measured("worktop.end_overhang", built) == {"left end of T1": 610.0, "right end of T1": 110.0}
    assert verdicts("worktop-end-overhang", built) == ["not met", "met"]
    assert measured("worktop.unsupported_gap", built) == {}


def test_an_end_panel_carries_the_end():
    built = kitchen(run(unit("end-panel"), unit("dishwasher", 600), unit("base-doors", 400)))
    assert measured("worktop.end_overhang", built) == {"left end of T1": 10.0, "right end of T1": 10.0}
    assert measured("worktop.unsupported_gap", built) == {"T1 over A2": 600.0}


def test_a_top_over_nothing_but_appliances_is_carried_by_nothing():
    built = kitchen(run(unit("dishwasher", 600)))
    assert measured("worktop.end_overhang", built) == {"all of T1: no unit carries it": 620.0}
    assert verdict("worktop-end-overhang", built) == "not met"


@pytest.mark.parametrize(
    ("front", "stock", "outcomes"),
    [
        (20, "pf38.600", ["met", "met"]),
        (15, "pf38.600", ["met", "met"]),
        (14, "pf38.600", ["met", "worth a look"]),
        (150, "pf38.900", ["met", "met"]),
        (151, "pf38.900", ["falls short", "met"]),
    ],
)
def test_front_overhang(front, stock, outcomes):
    built = kitchen(worktop=overhang(front=front, stock=stock))
    assert value("worktop.front_overhang", built) == pytest.approx(front)
    assert [verdict(f"worktop-front-overhang{end}", built) for end in ("", "-usual")] == outcomes


@pytest.mark.parametrize(
    ("front", "back", "outcomes"),
    [
        (154, 150, ["met", "met"]),
        (153, 151, ["falls short", "met"]),
        (4, 300, ["falls short", "met"]),
        (3, 301, ["falls short", "not met"]),
    ],
)
def test_back_overhang_of_an_island(front, back, outcomes):
    # 900 deep over a back of 18, a carcass of 560 and a front of 18: 304 for both overhangs.
    island = {
        "name": "I",
        "wall": "A",
        "along": 1000.0,
        "out": 1500.0,
        "stock": "pf38.900",
        "units": (unit("base-doors", 600),),
    }
    built = kitchen(run(unit("tall-larder", 600)), islands=(island,), worktop=overhang(front=front))
    assert measured("worktop.back_overhang", built) == {f"back of {built.lengths[-1].id}": pytest.approx(back)}
    assert [verdict(f"island-back-overhang{end}", built) for end in ("-laminate", "")] == outcomes


@pytest.mark.parametrize("shift", [0.0, 50.0])
def test_the_back_of_an_island_counts_wherever_along_it_a_sink_lies(shift):
    # A top of 670 over 20 + 18 + 560 leaves 72 behind the carcass, 18 of it the back; a line of 480, 60 from the
    # front, begins at 130. The back is the first unit's part, and at 50 the line is 210 away from that.
    units = (unit("base-doors", 600), unit("base-sink", 800))
    island = {"name": "I", "wall": "A", "along": 400.0, "out": 1500.0, "stock": "pf38.670", "units": units}
    sink = {"template": "sink.one-bowl", "over": "I2", "shift": shift}
    built = kitchen(run(unit("base-doors", 600)), islands=(island,), cutouts=(sink,))
    assert measured("cutout.to_unit_sides", built) == {"sink over I1.panel.back": pytest.approx(58.0)}


@pytest.mark.parametrize(("length", "published"), [(3000, 41.0), (4100, 56.1)])
def test_weight_against_the_sheet(length, published):
    # A maker's EN 312 sheet (seen) gives particleboard P2 of 38 mm 600 kg/m³; 38 x 600 is then 13.7 kg/m. A nose of
    # 6 mm lacks 2·36·(1 - π/4) mm² of that.
    widths = {3000: [1000, 1000, 900], 4100: [1000, 1000, 1000, 1000]}[length]
    row = [unit("base-doors", w) for w in widths]
    built = kitchen(run(*row, unit("filler", length - 20 - sum(widths)), start=300), room=BIG)
    nose = 72 * (1 - math.pi / 4) * length * 600e-9
    assert value("worktop.weight", built) == pytest.approx(published - nose, abs=0.05)


@pytest.mark.parametrize(
    ("density", "mass", "outcome", "advice"),
    [
        (1000 / 1.62 / 0.6 / 38 * 25, 25.0, "met", ""),
        (1000 / 1.62 / 0.6 / 38 * 25.1, 25.1, "worth a look", "2 people"),
        (1000 / 1.62 / 0.6 / 38 * 50.2, 50.2, "worth a look", "4 people"),
    ],
)
def test_weight_and_people(density, mass, outcome, advice):
    # A top of 1620 x 600 x 38, here with a square edge; at 908 each should lift 16.4 kg at most (NIOSH).
    built = kitchen(catalogue=stocked(stocks={"pf38.600": {"density": density, "nose": 0.0}}))
    assert value("worktop.weight", built) == pytest.approx(mass)
    assert verdict("worktop-weight", built) == outcome
    (found,) = [f for f in check(built) if f.rule == "worktop-weight"]
    assert found.advice.startswith(advice)


def test_a_butt_join_needs_no_jig():
    assert measured("worktop.join_off_square", build(cornered(93, kind="butt", notch=None))) == {}
    bonded = cornered(93, notch=None, stock="solid30.650", depth=650.0)
    assert [join.making for join in build(bonded).joins] == ["bonded"]
    assert measured("worktop.join_off_square", build(bonded)) == {}


@pytest.mark.parametrize(("legs", "off", "outcome"), [(150, 0, "met"), (100, 0, "met"), (151, 1, "worth a look")])
def test_coordinating_height(legs, off, outcome):
    built = kitchen(run(unit("base-doors", 600)), catalogue=stocked({"base-doors": {"legs": float(legs)}}))
    assert measured("units.off_coordinating_height", built) == {f"A1, {720 + legs} high": off}
    assert verdict("unit-coordinating-height", built) == outcome


def test_neighbours_of_one_height_are_one_place():
    assert list(measured("units.plinth_height", kitchen())) == ["under A1 to A3"]


def test_a_low_work_surface_is_asked_for_once_however_the_tops_are_joined():
    # Three tops once gave three findings, and joining them otherwise "cured" the one whose length was gone.
    for female in "AB":
        join = CornerJoin(corner="A-B", kind="butt", female=female)
        own = open_kitchen(shared.KITCHENS / "cottonwood.yaml").document
        built = build(own.model_copy(update={"worktop": own.worktop.model_copy(update={"joins": (join,)})}))
        assert measured("worktop.lowest", built) == {"lowest of the tops": pytest.approx(914.4)}


def test_a_wall_unit_hangs_over_a_top_that_lies_along_the_wall_but_for_rounding():
    # The adjusted wall is turned by a ten-thousandth of a degree; of top and unit only two points were left.
    walls = (
        {"name": "A", "length": 1948.0, "corner": 90.23},
        {"name": "B", "length": 4812.0, "corner": 89.77},
        {"name": "C", "length": 3496.0, "diagonal": {"legs": (700.0, 700.0), "length": 991.9}},
        {"name": "D", "length": 3600.0, "corner": 127.92},
        {"name": "E", "length": 1962.2, "corner": 141.85},
    )
    floor = {"wall": "A", "start": 12.0, "units": ({"unit": "base-fridge", "width": 600.0},)}
    upper = {"wall": "A", "level": "upper", "start": 0.0, "units": ({"unit": "wall-wine", "width": 300.0},)}
    top = {"stock": "sq40.650", "decor": "pale-oak", "overhang": {"front": 0.0, "ends": 30.0}}
    built = build(document(room={"walls": walls}, runs=(floor, upper), worktop=top))
    assert measured("worktop.to_wall_unit", built) == {"T1 to AU1": pytest.approx(1408.0 - 910.0)}


@pytest.mark.parametrize("angle", [91.5, 91.72, 92.5])
def test_a_landing_goes_round_a_wide_corner_past_the_strip_of_its_joint(angle):
    walls = ({"name": "B", "length": 4107.0, "corner": angle}, {"name": "C", "length": 2205.0})
    sinks = unit("base-sink", 1000), unit("base-fridge", 600), unit("end-panel", 18)
    beside = unit("base-corner", 1100), unit("dishwasher", 450), unit("base-open", 400)
    rows = {"wall": "B", "start": 1814.707, "units": sinks}, {"wall": "C", "start": 4.0, "units": beside}
    joins = ({"corner": "B-C", "female": "B"},)
    top = {"stock": "sq40.650", "decor": "pale-oak", "overhang": {"front": 22.0, "ends": 30.0}, "joins": joins}
    sink = {"template": SINK, "over": "B1", "shift": -44.0}
    built = build(document(room={"walls": walls}, runs=rows, worktop=top, cutouts=(sink,)))
    # The rim ends at 1814.7 + 500 - 44 + 250 = 2520.7 along wall B, the top on wall C at 4 + 1950 + 30 = 1984. The
    # fronts, 650 before either wall, meet 650 / tan(angle / 2) from the corner; the strip's web takes 2.
    corner = 650.0 / math.tan(math.radians(angle / 2))
    (landing,) = (f.value for f in check(built) if f.rule == "sink-landing-longer")
    assert landing == pytest.approx(4107.0 - 2520.707 - corner + 1984.0 - corner - 2.0, abs=0.1)
