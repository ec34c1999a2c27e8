"""Findings that were false: each with the kitchen in which it was made."""

import math

import pytest

from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.things import Sort
from tests.model.test_checks import GAS, HOB, SINK, kitchen, let_in, run, stocked, unit
from tests.specimens import demo, oblong, square

DOORS = unit("base-doors", 600)


def measured(measure, built):
    """The values of a measure, and the reason where one has none."""
    return [place.value if place.value is not None else place.reason for place in MEASURES[measure].take(built)]


def test_two_centres_on_one_side_of_an_island_have_no_way_through_it():
    """Sink and hob both over the front of an island: their way runs along its edge, 1200 of it, and not through."""
    island = {
        "name": "I", "wall": "A", "along": 800.0, "out": 2000.0, "facing": "wall", "stock": "pf38.900",
        "units": (unit("base-sink", 600), DOORS, unit("base-hob", 600)),
    }  # fmt: skip
    built = kitchen(
        run(unit("tall-fridge"), DOORS), islands=(island,), cutouts=(let_in(SINK, "I1"), let_in(HOB, "I3")),
        room=square(5000),
    )  # fmt: skip
    places = MEASURES["centres.triangle_through_island"].take(built)
    own = [p.value for p in places if all(thing.sort is Sort.CUTOUT for thing in p.where.things)]
    assert own == [0.0]


def test_somebody_stands_before_the_top_over_a_built_under_fridge():
    """Legs along one row, from middle to middle: sink over the first unit, hob over the third, fridge the
    second.
    """
    built = kitchen(
        run(unit("base-sink", 600), unit("base-fridge"), unit("base-hob", 600)),
        cutouts=(let_in(SINK, "A1"), let_in(GAS, "A3")),
    )
    assert measured("centres.triangle_leg", built) == [
        pytest.approx(1200.0),
        pytest.approx(600.0),
        pytest.approx(600.0),
    ]


def corner_sink(width):
    """A round bowl of 430 over a diagonal unit, its middle 385 before either wall, and a door straight across."""
    passage = {"kind": "passage", "wall": "C", "at": 1500.0, "width": float(width)}
    sink = {"kind": "sink", "line": (430.0, 430.0), "rim": (460.0, 460.0), "radius": 215.0, "depth": 180.0}
    a = {"wall": "A", "units": (DOORS, {**unit("base-diagonal-sink", 900), "hand": "right"})}
    b = {"wall": "B", "units": (DOORS,)}
    return kitchen(
        a, b, cutouts=({**sink, "over": "A2", "shift": 67.0, "from_front": 50.0},),
        worktop={"stock": "sq40.650", "decor": "pale-oak"}, room=oblong(4000, 3600, openings=(passage,)),
    )  # fmt: skip


def test_there_is_a_way_in_to_a_sink_in_a_corner():
    """Before the rim there is the other wall's top; one stands before the diagonal.

    The infill's edge is 38 before the line from (0, 560) to (340, 900) of the unit and ends on fronts 598 out:
    449.3 long, and the widest disc that touches it between two fronts at 45° is 449.3 / tan 22.5° across, with the
    play that a touch has.
    """
    (width,) = measured("routes.to_work_centre", corner_sink(900))
    assert width == pytest.approx(449.3 / math.tan(math.radians(22.5)), abs=3.0)


def test_a_hob_over_a_dishwasher_is_over_no_oven():
    built = kitchen(
        run(unit("dishwasher", 600)), cutouts=(let_in(HOB, "A1"),),
        catalogue=stocked(templates={HOB: {"depth": 20.0}}),
    )  # fmt: skip
    assert measured("beneath.hob_to_oven", built) == []
    assert measured("beneath.hob_to_appliance", built) == [pytest.approx(908.0 - 20.0 - 865.0)]


def test_a_fridge_with_grips_on_both_sides_is_landed_at_on_either():
    built = demo("lockhouse")
    landings = {p.where.subject.key: p.value for p in MEASURES["landing.beside_fridge"].take(built)}
    assert all(value > 381.0 for value in landings.values())
    assert len(landings) == 2
