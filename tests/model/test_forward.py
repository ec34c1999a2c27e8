"""Units that stand farther off the wall than their row, before a boxing of pipes along it."""

import pytest

from countersunk.model.checks.registry import MEASURES
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import build
from tests.model.test_checks import kitchen, run, unit
from tests.specimens import document, square

BOXING = {"kind": "pipe-boxing", "wall": "A", "at": 1050.0, "width": 900.0, "depth": 150.0, "top": 300.0}
SHALLOW = unit("base-doors", 500, to_size=True, depth=400.0, forward=160.0)


def boxed_in(shallow=SHALLOW):
    row = run(unit("base-drawers", 500), shallow, {**shallow, "unit": "base-doors", "width": 400.0})
    return kitchen(row, room=square(3000.0, obstacles=(BOXING,)))


def test_shallower_units_stand_before_a_boxing_with_their_fronts_in_line():
    """560 deep and 2 off the wall, or 400 deep and 162: both end 580 before the wall with their fronts."""
    built = boxed_in()
    fronts = [round(u.frame.to_room((0.0, u.face, 0.0))[1], 6) for u in built.units]
    backs = [round(u.frame.origin[1], 6) for u in built.units]
    assert fronts == [-580.0] * 3
    assert backs == [-2.0, -162.0, -162.0]


def test_one_top_lies_over_both_and_one_plinth_runs_before_them():
    built = boxed_in()
    (length,) = built.lengths
    assert (length.part.length, length.part.depth) == (1420.0, 600.0)
    assert list(MEASURES["worktop.over_shallow_unit"].take(built)) == []
    (plinth,) = [p for p in built.parts if p.role is Role.PLINTH]
    assert plinth.length == 1400.0


def test_without_it_the_same_units_are_in_the_boxing():
    with pytest.raises(InputError, match="pipe boxing"):
        boxed_in(unit("base-doors", 500))


def test_it_is_the_same_in_a_mirror():
    there = build(mirrored(boxed_in().document))
    assert [u.forward for u in there.units] == [160.0, 160.0, 0.0]


@pytest.mark.parametrize(
    "made",
    [
        {"runs": (run(unit("base-doors", 500, forward=250.0)),)},
        {"runs": (run(unit("base-corner", 1100, forward=50.0), start=1000),)},
        {"islands": ({"name": "I", "wall": "A", "along": 500.0, "out": 1200.0, "stock": "pf38.900",
                      "units": (unit("base-doors", 500, forward=20.0),)},)},
    ],
)  # fmt: skip
def test_where_it_cannot_be_it_is_refused(made):
    with pytest.raises(InputError) as caught:
        build(document(**made))
    assert caught.value.problems[0].field.endswith("units[0].forward")


def test_a_plinth_turns_back_to_the_wall_from_whichever_unit_ends_the_row():
    """Its face is 560 - 50 + 18 before the backs of the row, 530 before the wall; a return is 18 less."""
    rows = [run(unit("base-drawers", 500), SHALLOW), run(SHALLOW, unit("base-drawers", 500))]
    for row in rows:
        built = kitchen({**row, "returns": "both"})
        lengths = sorted(p.length for p in built.parts if p.role is Role.PLINTH)
        assert lengths == pytest.approx([512.0, 512.0, 1000.0])
