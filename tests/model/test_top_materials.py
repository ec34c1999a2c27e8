"""Tops of wood: how much they move, what is left for that at the wall, and what is counted for them.

Movement against the Wood Handbook, FPL-GTR-190, chapter 13: ΔD = D · C · (Mf - Mi), its example for white fir
(seen) and coefficients of table 13-5 (seen); from 8 to 12 % is common practice, no source.
"""

from dataclasses import replace

import pytest

from countersunk.model.kinds.top_materials import MATERIALS
from countersunk.takeoff.counting.takeoff import estimate
from tests.model.test_checks import kitchen, measured, run, unit

OAK = {"stock": "oak40.620", "decor": "pale-oak", "overhang": {"front": 20.0, "ends": 10.0}}


def on_wall(**own):
    row = run(unit("base-doors", 600), unit("base-doors", 600), start=500)
    return kitchen(row, worktop=OAK, **own)


@pytest.mark.parametrize(
    ("code", "moved"), [("beech", 10.7), ("red-oak", 9.2), ("white-oak", 9.1), ("maple", 8.8), ("walnut", 6.8)]
)
def test_620_across_the_grain_move_as_the_handbook_has_it(code, moved):
    assert MATERIALS[code].movement(620.0) == pytest.approx(moved, abs=0.06)


def test_the_formula_is_that_of_the_handbooks_example():
    # White fir, 232 wide, from 8 to 11 %: 1.7 wider.
    fir = replace(MATERIALS["beech"], moves=0.00245)
    assert fir.movement(232.0) * 3 / 4 == pytest.approx(1.7, abs=0.05)
    assert MATERIALS["compact"].movement(620.0) == 0.0


@pytest.mark.parametrize(("gap", "left"), [(None, 5.0 - 9.052), (9.052, 0.0), (10.0, 0.948)])
def test_oak_that_is_held_at_the_front_needs_nine_at_the_wall(gap, left):
    built = on_wall(**({} if gap is None else {"allowances": {"expansion": gap}}))
    assert list(measured("worktop.room_to_move", built).values()) == [pytest.approx(left)]
    (top,) = built.lengths
    assert top.part.outline.bounds[1] == pytest.approx(gap or 5.0)
    assert top.part.outline.bounds[3] == pytest.approx(620.0)


def test_every_face_is_oiled_four_times():
    # 1220 x 615 on both sides and 2 · (1220 + 615) · 40 round it, four coats at 9.8 m² a litre.
    (oil,) = [q for q in estimate(on_wall()).quantities if q.item == "oil.top"]
    faces = 2 * 1.220 * 0.615 + 2 * (1.220 + 0.615) * 0.040
    assert oil.net == pytest.approx(faces * 4 / 9.8)
    assert not [q for q in estimate(on_wall()).quantities if q.item in ("sealer", "adhesive.seam")]
