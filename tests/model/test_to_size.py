"""Units made to size: off the grid of their family, where their construction allows."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
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
