"""What hides a joint, keeps steam off, or holds a wing: amounts worked by hand; common practice, no source."""

import pytest

from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from tests.specimens import SQUARE_ROOM, document
from tests.takeoff.by_hand import small_kitchen

pytestmark = pytest.mark.quick


def test_an_upstand_that_ends_at_a_window_leaves_the_joint_beside_it():
    # The top reaches up to 908 and the upstand to 1008, past the sill at 950: none from 800 to 1400.
    top = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    window = {"kind": "window", "wall": "A", "at": 800.0, "width": 600.0, "sill": 950.0, "head": 2000.0}
    kitchen = small_kitchen(worktop=top, room={"walls": SQUARE_ROOM, "openings": (window,)})
    (seen,) = measured(kitchen)["wall-edges"]
    # the piece before it and the one behind it hide 5 more each
    assert seen.amount == pytest.approx(600 - 2 * 5)


def test_a_dishwasher_gets_a_barrier_under_a_top_that_swells():
    # 600 wide and 50 past it on either side: 0.7 of a roll of 5 m; 5 min at 48.00 an hour.
    units = ({"unit": "base-doors", "width": 600.0}, {"unit": "dishwasher", "width": 600.0})
    taken = estimate(build(document(runs=({"wall": "A", "start": 500.0, "units": units},))))
    barrier = next(q for q in taken.quantities if q.item == "barrier.vapour")
    assert (barrier.net, barrier.packs) == (pytest.approx(0.7), 1)
    assert next(str(w.charge.cost) for w in taken.labour if w.work.code == "barrier") == "4.00"
    solid = {"stock": "solid30.650", "decor": "rain-slate"}
    other = estimate(build(document(worktop=solid, runs=({"wall": "A", "start": 500.0, "units": units},))))
    assert "barrier.vapour" not in {q.item for q in other.quantities}


def test_screws_for_carcasses_have_a_tenth_more():
    found = {q.item: q for q in estimate(small_kitchen()).quantities}
    assert found["confirmat"].needed == pytest.approx(42 * 1.1)


def test_the_wing_of_a_corner_unit_is_screwed_to_what_stands_beside_it():
    # On wall A a base and the corner unit are a pair, and on wall B its wing and what stands there: 720 high.
    first = ({"unit": "base-doors", "width": 600.0}, {"unit": "base-diagonal", "width": 900.0, "hand": "right"})
    square = {"stock": "sq40.650", "decor": "pale-oak"}
    second = ({"unit": "base-doors", "width": 400.0},)
    runs = ({"wall": "A", "units": first}, {"wall": "B", "units": second})
    pairs = measured(build(document(runs=runs, worktop=square)))["unit-joints"]
    assert [(pair.id, pair.amount) for pair in pairs] == [("u-2.side.right", 720.0), ("u-3.side.wing", 720.0)]
