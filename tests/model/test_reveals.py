"""Worktop that runs on into the reveal of a window, worked by hand."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.takeoff.measuring.registry import measured
from countersunk.viewer.drawing.plan import rows
from tests.model.test_checks import kitchen, run, unit
from tests.specimens import SQUARE_ROOM

DOORS = (unit("base-doors", 600),) * 3


def built(*units, **window):
    opening = {"kind": "window", "wall": "A", "at": 700.0, "width": 1000.0, "sill": 860.0, "head": 2000.0,
               "reveal": 120.0, "top_in": True, **window}  # fmt: skip
    return kitchen(run(*(units or DOORS)), room={"walls": SQUARE_ROOM, "openings": (opening,)})


def test_a_piece_lies_behind_the_top_and_3_off_the_reveal_all_round():
    made = built()
    [piece] = [p for p in made.parts if p.role is Role.REVEAL]
    # 1000 less 3 at either side, 120 less 3 at the frame; its underside on the units at 870.
    assert (piece.length, piece.depth, piece.thickness) == pytest.approx((994.0, 117.0, 38.0))
    assert piece.pose.origin[2] == pytest.approx(870.0)
    shares = measured(made)
    assert [(s.amount, s.key) for s in shares["infills"]] == [(1, "infill.38")]
    assert [s.amount for s in shares["reveal-edges"]] == [pytest.approx(994 + 2 * 117)]
    assert [s.amount for s in shares["infill-mass"]] == [pytest.approx(0.994 * 0.117 * 0.038 * 600)]
    assert made.decor_of(piece) == "pale-oak"
    assert ("R1", "top in a reveal, scribed on site", "994 x 117") in rows(made)
    assert solids.clashes(made.parts) == []


@pytest.mark.parametrize(
    ("window", "told"),
    [
        ({"reveal": None}, "reveal: 120"),
        ({"sill": 890.0}, "770 to 870"),
        ({"at": 1700.0}, "one length of worktop passes"),
    ],
)
def test_a_window_that_a_top_cannot_run_into_is_one_clear_error(window, told):
    with pytest.raises(InputError, match=told):
        built(**window)
