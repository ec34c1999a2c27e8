"""Units made to size: off the grid of their family, where their construction allows."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.solids import clashes
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from tests.specimens import document


def made(**fields):
    unit = {"unit": "base-doors", "width": 600.0, "to_size": True, **fields}
    top = {"stock": "pf38.600", "decor": "pale-oak", "overhang": {"front": 100.0}}
    row = {"wall": "A", "start": 500.0, "units": (unit,)}
    return build(document(runs=(row,), **({"worktop": top} if unit.get("depth") else {})))


def test_a_unit_550_wide_and_300_deep_worked_by_hand():
    """Carcass boards of 18 with a back of 10 behind them; fronts keep 1.5 on each side; two sides of 18."""
    kitchen = made(width=550.0, depth=300.0)
    sizes = {part.role: (part.length, part.depth) for part in kitchen.parts}
    assert sizes[Role.BOTTOM] == pytest.approx((550 - 2 * 18, 300 - 10))
    assert sizes[Role.SIDE] == pytest.approx((720, 300 - 10))
    assert sizes[Role.BACK] == pytest.approx((720, 550))
    assert sizes[Role.DOOR] == pytest.approx((720 - 3, 550 - 3))
    assert kitchen.units[0].face == 318
    assert not [line.quantity.problem for line in estimate(kitchen).materials if line.quantity.problem]


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (
            {"width": 555.0, "to_size": False},
            "allowed: for base-doors: 200, 300, .* Try: to_size: true for another",
        ),
        ({"width": 1600.0}, "found 1600; allowed: to size: 100 to 1500"),
        ({"depth": 300.0, "to_size": False}, "found 300; allowed: with to_size: true, or left out"),
        ({"unit": "base-drawers", "depth": 510.0}, "allowed: 520 or more before a drawer"),
        ({"height": 800.0, "to_size": False}, "height: found 800; allowed: with to_size: true, or left out"),
        (
            {"unit": "base-drawers", "height": 800.0},
            r"height: found heights that add up to 720, .* allowed: 800 in all",
        ),
        ({"unit": "base-oven"}, "found true for base-oven; allowed: only for a carcass without an appliance"),
        ({"unit": "base-l-corner", "width": 900.0}, "found true for base-l-corner"),
    ],
)
def test_what_cannot_be_is_said(fields, words):
    with pytest.raises(InputError, match=words):
        made(**fields)


def test_two_depths_in_a_row_have_one_top_and_their_backs_in_line():
    units = (
        {"unit": "base-doors", "width": 600.0},
        {"unit": "base-doors", "width": 600.0, "depth": 440.0, "to_size": True},
    )
    kitchen = build(document(runs=({"wall": "A", "start": 500.0, "units": units},)))
    [length] = kitchen.lengths
    assert length.part.depth == 600
    assert {round(abs(unit.frame.origin[1]), 6) for unit in kitchen.units} == {2.0}


def test_a_wall_unit_900_high_goes_up_from_where_it_hangs_and_is_bought_by_its_sizes():
    """Sides as high as the carcass; its one door keeps 1.5 above and below; boards of 18 between the sides."""
    unit = {"unit": "wall-doors", "width": 600.0, "to_size": True, "height": 900.0, "depth": 280.0}
    upper = {"wall": "A", "level": "upper", "start": 500.0, "units": (unit,)}
    base = {"wall": "A", "start": 500.0, "units": ({"unit": "base-doors", "width": 600.0},)}
    kitchen = build(document(runs=(base, upper), cutouts=()))
    [placed] = [u for u in kitchen.units if u.family.level == "upper"]
    assert placed.family.top == placed.family.bottom + 900
    mine = [p for p in kitchen.parts if p.owner == placed.key]
    sizes = {part.role: part.length for part in mine}
    assert (sizes[Role.SIDE], sizes[Role.BACK]) == (900, 900)
    assert sizes[Role.DOOR] == 900 - 3
    bought = estimate(build(document(runs=(base, {**upper, "supply": "bought"}), cutouts=())))
    [line] = [line.quantity for line in bought.materials if line.quantity.item.startswith("unit.")]
    assert line.item == "unit.wall-doors.600.d280.h900"
    assert "600 wide, 280 deep, 900 high" in line.description


def test_legs_under_the_narrowest_unit_stand_clear_of_each_other():
    """Legs are 40 across: a quarter from either side they are 61.5 apart under a unit of 123 to size."""
    built = made(unit="base-trays", width=123.0)
    legs = [part for part in built.parts if part.role is Role.LEG]
    assert len(legs) == 4
    assert clashes(legs) == []
