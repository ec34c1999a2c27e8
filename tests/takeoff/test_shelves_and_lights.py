"""Arms, floating shelves, lights, bins, roller shutters and plate racks, counted and worked by hand."""

import pytest

from countersunk.model.checks.registry import MEASURES
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.model.units.lights import lit
from countersunk.takeoff.measuring.registry import measured
from countersunk.viewer.drawing.fixtures import cables
from countersunk.viewer.drawing.fixtures import rows as in_table
from tests.model.test_checks import kitchen, run, unit

DOORS = run(unit("base-doors", 600))


def amounts(built, measure):
    return [(share.amount, share.key) for share in measured(built)[measure]]


def lights(*widths):
    hung = {**run(*(unit("wall-doors", w) for w in widths), level="upper"), "lights": "led"}
    return kitchen(DOORS, hung)


def test_two_wall_units_have_one_profile_along_them_and_the_least_driver_that_keeps_a_fifth():
    # 600 + 600 less 20 at either end is 1160; at 9.6 W a metre 11.136 W; a driver of 15 W keeps 20 % up to 12 W.
    built = lights(600, 600)
    assert amounts(built, "light-profiles") == [(1160.0, "profile.light")]
    assert amounts(built, "light-strips") == [(1160.0, "strip.led")]
    assert amounts(built, "light-drivers") == [(1, "driver.15")]
    found = lit(built.runs[1])
    assert (found.watts, found.driver) == (pytest.approx(11.136), 15.0)
    # Its cable is behind the middle of 1200 from 500 on, and half of 22 below 1408.
    [(wall, at, _, _)] = cables(built)
    assert (wall.name, at) == ("A", pytest.approx((1100.0, 1397.0)))
    assert [row[1] for row in in_table(built)] == ["cable to lights, 11.1 of 15 W, wall A, 1100 along"]


def test_one_more_hundred_millimetres_take_the_next_driver():
    # 1300 less 40 is 1260: 12.096 W, and a driver of 15 W would not keep a fifth.
    assert amounts(lights(800, 500), "light-drivers") == [(1, "driver.30")]


def test_lights_stop_before_an_open_end_whose_pelmet_turns_across_them():
    # 600 less 20 at either end is 560; the open end of 200 has none.
    hung = {**run(unit("wall-open-end", 200, hand="left"), unit("wall-doors", 600), level="upper"), "lights": "led"}
    built = kitchen(DOORS, {**hung, "pelmet": True})
    assert amounts(built, "light-profiles") == [(560.0, "profile.light")]
    assert solids.clashes(built.parts) == []


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({**DOORS, "lights": "led"}, "only for level: upper"),
        ({**run(unit("wall-doors", 600), level="upper"), "lights": "lamp"}, "led"),
        ({**run(unit("floating-shelf", 900), level="upper"), "lights": "led"}, "a row of wall units"),
    ],
)
def test_lights_that_cannot_be_are_one_clear_error(wrong, told):
    with pytest.raises(InputError, match=told):
        kitchen(run(unit("base-doors", 600), wall="C"), wrong)


def test_a_floating_shelf_is_bought_by_its_area_and_hangs_on_brackets_alone():
    # 900 by 250 is 0.225 m²; brackets at 100, 450 and 800.
    built = kitchen(DOORS, run(unit("floating-shelf", 900), level="upper"))
    assert amounts(built, "floating-shelves") == [(225_000.0, "shelf.40")]
    assert amounts(built, "shelf-brackets") == [(1, "bracket.shelf")] * 3
    assert amounts(built, "units-hung") == amounts(built, "hung-widths") == []
    [shelf] = [p for p in built.parts if p.role is Role.FLOATING]
    # Three rods of 14 square go in by half of its depth.
    assert solids.volume(shelf) == pytest.approx(900 * 250 * 40 - 3 * 14 * 14 * 125)
    assert solids.clashes(built.parts) == []


def test_bins_pull_out_beside_each_other_behind_one_front():
    built = kitchen(run(unit("base-bins", 600)))
    assert sorted(amounts(built, "baskets")) == [(1, "bin"), (1, "bin")]
    assert amounts(built, "pull-outs") == [(1, "pull-out.bins")]
    assert solids.clashes(built.parts) == []


def test_a_roller_shutter_is_ordered_to_its_opening_and_stands_on_the_top():
    # 600 less two sides of 18 is 564, 500 less top and bottom 464.
    built = kitchen(DOORS, run(unit("wall-tambour", 600), level="upper"))
    assert amounts(built, "tambours") == [(564.0 * 464.0, "tambour")]
    assert list(MEASURES["worktop.to_wall_unit"].take(built)) == []
    assert solids.clashes(built.parts) == []


def test_a_plate_rack_is_two_frames_of_dowels():
    # 564 wide: twelve gaps of 47, each 8 less wide between two dowels, and 320 high with two rails of 22.
    built = kitchen(DOORS, run(unit("wall-plates", 600), level="upper"))
    assert amounts(built, "plate-racks") == [(1, "")] * 2
    [frame, _] = [p for p in built.parts if p.role is Role.PLATE_RACK]
    assert frame.area == pytest.approx(564 * 320 - 12 * 39 * (320 - 44))


def test_arms_carry_the_back_of_a_top_and_end_before_its_edge():
    # Units of 560 and a front of 18 leave 302 of 900 behind, 284 past the panel: 240 carry all but 44.
    isle = {"name": "I", "wall": "A", "along": 800.0, "out": 1500.0, "stock": "pf38.900",
            "units": (unit("base-doors", 600),)}  # fmt: skip
    built = kitchen(DOORS, islands=({**isle, "arms": "arm.240"},))
    assert amounts(built, "top-arms") == [(1, "arm.240")] * 2
    [overhang] = MEASURES["worktop.back_overhang"].take(built)
    assert overhang.value == pytest.approx(44.0)
    arm = next(p for p in built.parts if p.role is Role.ARM)
    assert solids.volume(arm) == pytest.approx(40 * (240 * 6 + 84 * 6))  # a foot of 240 and a leg of 90, 6 thick
    assert solids.clashes(built.parts) == []
    with pytest.raises(InputError, match="reaches at most 254"):
        kitchen(DOORS, islands=({**isle, "arms": "arm.350"},))


def test_a_top_that_moves_stands_on_one_frame_and_is_not_filled_at_the_wall():
    built = kitchen(run(unit("top-lift", 1200)))
    assert amounts(built, "lifts") == [(1, "frame.lift")]
    assert amounts(built, "wall-edges") == amounts(built, "flat-rails") == []
    [frame] = [p for p in built.parts if p.role is Role.LIFT]
    assert solids.volume(frame) == pytest.approx(80 * (1200 * 870 - 1040 * 790))
    with pytest.raises(InputError, match="a row that moves as one"):
        kitchen(run(unit("top-lift", 1200), unit("base-doors", 600)))
