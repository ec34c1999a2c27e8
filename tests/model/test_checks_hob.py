"""Measures of a hob, worked by hand.

Hob over a unit of 600 that begins at x: rim 590 from x + 5 to x + 595, line 560 from x + 20 to x + 580. The top is
600 deep, its face 908 high; the electric hob's line begins 55 behind the front edge and is 490 deep.
"""

import pytest

from countersunk.model.errors import InputError
from tests.model.test_checks import (
    GAS,
    HOB,
    kitchen,
    let_in,
    measured,
    run,
    stocked,
    unit,
    value,
    verdict,
    verdicts,
    walls,
)
from tests.specimens import square

pytestmark = pytest.mark.quick

TALL = unit("tall-larder", 600)


BIG = square(4000)


@pytest.mark.parametrize(("start", "clear", "outcome"), [(100, 105, "met"), (45, 50, "met"), (44, 49, "not met")])
def test_to_the_wall_at_the_side(start, clear, outcome):
    built = kitchen(run(unit("base-hob", 600), start=start), cutouts=(let_in(HOB, "A1"),))
    sides = measured("hob.to_side_wall", built)
    assert sides == {
        "hob, left: wall D": pytest.approx(clear),
        "hob, right: wall B": pytest.approx(3000 - start - 595),
    }
    assert measured("hob.to_side", built) == sides
    assert outcome in verdicts("hob-electric-to-side", built)


def test_the_sides_of_a_hob_are_the_nearest_upright_on_each():
    built = kitchen(run(unit("base-hob", 600), TALL, start=100), cutouts=(let_in(HOB, "A1"),))
    assert list(measured("hob.to_side", built)) == ["hob, left: wall D", "hob, right: tall unit A2"]
    assert measured("hob.to_farther_side", built) == {"hob, left: wall D": pytest.approx(105.0)}
    assert verdict("hob-electric-to-farther-side", built) == "not met"


def test_a_hob_with_an_open_side_has_no_farther_side():
    built = kitchen(
        run(unit("base-hob", 600), start=100), cutouts=(let_in(HOB, "A1"),), room={"walls": walls(A=90.0, B=90.0)}
    )
    assert list(measured("hob.to_side", built)) == ["hob, right: wall B"]
    assert measured("hob.to_farther_side", built) == {}


def with_opening(kind, at, width=800.0):
    sill, head = (1050.0, 2000.0) if kind == "window" else (0.0, 2000.0)
    room = {
        **BIG,
        "openings": ({"kind": kind, "wall": "A", "at": float(at), "width": width, "sill": sill, "head": head},),
    }
    return kitchen(cutouts=(let_in(HOB, "A3"),), room=room)


@pytest.mark.parametrize(
    ("at", "clear", "outcome"),
    [(2095, 0, "met"), (2094, -1, "falls short"), (2195, 100, "met"), (705, 0, "met"), (1400, -695, "falls short")],
)
def test_beside_a_window(at, clear, outcome):
    # The rim lies from 1505 to 2095; the window is 800 wide.
    built = with_opening("window", at)
    assert measured("hob.beside_window", built) == {"hob to window in wall A": pytest.approx(clear)}
    assert verdict("hob-under-window", built) == outcome
    assert measured("hob.beside_door", built) == {}


def under(family, template, bottom, start=1500.0, height=2600.0, **more):
    """The specimen with a hob over A3 (1500 to 2100) and one upper unit of 600 whose underside is at ``bottom``."""
    base = run(unit("base-doors", 400), unit("base-sink", 600), unit("base-hob", 600))
    upper = run(unit(family, 600), start=start, level="upper")
    return kitchen(
        base, upper, cutouts=(let_in(template, "A3"),), room={**BIG, "height": height},
        catalogue=stocked({family: {"bottom": float(bottom)}}), **more,
    )  # fmt: skip


@pytest.mark.parametrize(("bottom", "clear", "outcome"), [(1566, 650, "met"), (1565, 649, "not met")])
def test_to_a_hood_over_gas(bottom, clear, outcome):
    # The gas hob's surface is 908 + 8 high.
    built = under("hood", GAS, bottom)
    assert value("hob.to_hood", built) == pytest.approx(clear)
    assert verdict("hob-gas-to-hood", built) == outcome
    assert verdicts("hob-gas-to-hood", under("hood", HOB, bottom)) == []


def test_a_gas_hob_that_replaces_one_may_have_its_hood_lower():
    """AS/NZS 5601.1:2022 asks for 650 of new work and for 600 where one is replaced (quoted by others)."""
    replaced = under("hood", GAS, 1516, work="replacement")  # 908 + 8 + 600
    assert verdict("hob-gas-to-hood-replaced", replaced) == "met"
    assert verdicts("hob-gas-to-hood", replaced) == []
    lower = under("hood", GAS, 1515, work="replacement")
    assert verdict("hob-gas-to-hood-replaced", lower) == "not met"
    assert verdicts("hob-gas-to-hood-replaced", under("hood", GAS, 1516)) == []


@pytest.mark.parametrize(("bottom", "outcome"), [(1713, "met"), (1714, "worth a look")])
def test_a_hood_that_hangs_too_high(bottom, outcome):
    assert verdict("hob-hood-not-too-high", under("hood", HOB, bottom)) == outcome


@pytest.mark.parametrize(("over", "found"), [(0.1, 0), (5.0, 1)])
def test_a_unit_beside_a_hood_that_is_a_hair_over_the_rim_is_not_above_it(over, found):
    # The rim is 590 in a unit 600 wide: from 5 within it. A hood of 600 hangs over it, a wall unit beside that.
    base = run(unit("base-hob", 600), unit("base-doors", 400), start=1500)
    beside = run(unit("wall-doors", 400), start=2095 - over, level="upper")
    built = kitchen(base, beside, cutouts=(let_in(HOB, "A1"),))
    assert len(measured("hob.to_unit_above", built)) == found
    # What is not above it hangs beside it: neither rule may take it for the other's.
    assert len(measured("hob.worktop_to_unit_beside", built)) == 1 - found


def test_a_hood_beneath_it_covers_the_wall_unit():
    catalogue = stocked({"hood": {"bottom": 1500.0, "height": 160.0}, "wall-doors": {"bottom": 1660.0}})
    uppers = [run(unit(f, 600), start=1500, level="upper") for f in ("hood", "wall-doors")]
    base = run(unit("base-doors", 400), unit("base-sink", 600), unit("base-hob", 600))
    built = kitchen(base, *uppers, cutouts=(let_in(HOB, "A3"),), catalogue=catalogue)
    assert measured("hob.to_hood", built) == {"hob to hood AU1 above": pytest.approx(587.0)}
    assert measured("hob.to_unit_above", built) == {}


@pytest.mark.parametrize(
    ("template", "bottom", "clear", "outcome"),
    [
        (GAS, 1368, 460, "met"),
        (GAS, 1367, 459, "not met"),
        (HOB, 1358, 450, "met"),
        (HOB, 1357, 449, "falls short"),
    ],
)
def test_from_the_worktop_to_a_wall_unit_beside(template, bottom, clear, outcome):
    built = under("wall-doors", template, bottom, start=2100)
    assert measured("hob.worktop_to_unit_beside", built) == {"T1 to wall unit AU1 beside hob": pytest.approx(clear)}
    fuel = "gas" if template == GAS else "electric"
    assert verdict(f"hob-{fuel}-to-wall-unit-beside", built) == outcome


@pytest.mark.parametrize(("start", "places"), [(2395, 1), (2396, 0), (1500, 0), (605, 1), (604, 0)])
def test_a_wall_unit_is_beside_the_hob_within_300_and_not_over_it(start, places):
    assert len(measured("hob.worktop_to_unit_beside", under("wall-doors", GAS, 1408, start=start))) == places


def test_a_tall_unit_before_the_side_of_a_hob_is_not_beside_it():
    # It stands on wall D, from 900 out, and reaches to 578; the hob's rim begins at 705 and is 560 out.
    tall = run(TALL, wall="D", start=1500)
    built = kitchen(run(unit("base-hob", 600), start=700), tall, cutouts=(let_in(HOB, "A1"),))
    assert measured("hob.to_tall_unit", built) == {}


def test_a_kitchen_without_a_hob_has_no_places():
    built = kitchen()
    for measure in ("hob.to_side", "hob.to_hood", "hob.line_to_wall_behind", "landing.beside_hob_longer"):
        assert measured(measure, built) == {}


def test_a_hob_across_a_unit_side_is_refused_before_it_is_checked():
    with pytest.raises(InputError):
        kitchen(cutouts=(let_in(HOB, "A3", shift=60),))


@pytest.mark.parametrize("angle", [60.7, 77.0, 90.0, 91.3, 123.4, 131.9])
def test_the_wall_just_behind_a_cooker_is_not_beside_it_however_the_room_lies(angle):
    # Nothing in its row carries a top, so that it stands flush with the wall.
    rooms = {"walls": ({"name": "A", "length": 3000.0, "corner": angle}, {"name": "B", "length": 4000.0})}
    tops = {"wall": "A", "start": 400.0, "units": (unit("base-doors", 400),)}
    built = kitchen({"wall": "B", "start": 1300.0, "units": (unit("cooker", 600),)}, tops, room=rooms)
    assert all("wall B" not in place for place in measured("hob.to_side_wall", built))


def test_a_cooker_in_a_breast_keeps_off_both_cheeks_and_the_lintel():
    """An opening of 1140 from 250 + 1000 on, round a cooker of 1010 that begins 65 further on and is 908 high."""
    recess = {"from_left": 250.0, "width": 1140.0, "height": 1750.0}
    breast = {
        "kind": "chimney-breast",
        "wall": "A",
        "at": 1000.0,
        "width": 1640.0,
        "depth": 350.0,
        "opening": recess,
    }
    cooker = run(unit("range-cooker", 1010), start=1315.0)
    built = kitchen(
        run(unit("base-doors", 600), start=300.0), cooker, room={**square(4000), "obstacles": (breast,)}
    )
    assert [*measured("hob.to_side", built).values()] == pytest.approx([65.0, 65.0])
    assert not measured("hob.to_farther_side", built)
    assert [*measured("hob.to_unit_above", built).values()] == pytest.approx([1750.0 - 908.0])
    shown = [(o.x, o.right, o.bottom, o.top) for o in built.survey.obstacles]
    assert shown == [(1000, 1250, 0, 2400), (2390, 2640, 0, 2400), (1250, 2390, 1750, 2400)]


def test_a_cooker_that_is_too_wide_runs_into_the_cheek():
    recess = {"from_left": 250.0, "width": 1000.0, "height": 1750.0}
    breast = {
        "kind": "chimney-breast",
        "wall": "A",
        "at": 1000.0,
        "width": 1500.0,
        "depth": 350.0,
        "opening": recess,
    }
    with pytest.raises(InputError, match="in the chimney breast on wall A from 1000 to 1250"):
        kitchen(run(unit("range-cooker", 1010), start=1245.0), room={**square(4000), "obstacles": (breast,)})


@pytest.mark.parametrize(
    ("field", "value", "allowed"), [("width", 1260.0, "1250"), ("height", 2500.0, "2400"), ("depth", 400.0, "350")]
)
def test_an_opening_is_within_its_breast(field, value, allowed):
    recess = {"from_left": 250.0, "width": 1000.0, "height": 1750.0, field: value}
    breast = {
        "kind": "chimney-breast",
        "wall": "A",
        "at": 1000.0,
        "width": 1500.0,
        "depth": 350.0,
        "opening": recess,
    }
    with pytest.raises(InputError, match=rf"opening.{field}: found {value:g}; allowed: up to {allowed}"):
        kitchen(room={**square(4000), "obstacles": (breast,)})
