"""Tops of wood: how much they move, what is left for that at the wall, and what is counted for them.

Movement against the Wood Handbook, FPL-GTR-190, chapter 13: ΔD = D · C · (Mf - Mi), its example for white fir
(seen) and coefficients of table 13-5 (seen); from 8 to 12 % is common practice, no source.
"""

from dataclasses import replace

import pytest

from countersunk.model.kinds.top_materials import MATERIALS
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.drawing.joint import corner_of
from countersunk.viewer.drawing.joint_sheets import steps
from tests.model.test_checks import kitchen, measured, run, unit
from tests.specimens import cornered

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


# A joint 620 deep: 520 between its outer biscuits, at most 200 apart, in three steps: 4 biscuits, 3 bolts.
def test_a_butt_of_wood_is_glued_over_biscuits_and_drawn_together_by_bolts():
    made = build(cornered(90.0, kind="butt", notch=None, stock="oak40.620", depth=620.0))
    (join,) = made.joins
    assert (join.has_strip, join.has_bolts, join.bolts, join.biscuits) == (False, True, 3, 4)
    assert join.hardware == "3 bolts, 4 biscuits, glue"
    taken = estimate(made)
    counted = {q.item: q.net for q in taken.quantities}
    assert (counted["bolt.joint"], counted["biscuit.20"]) == (3, 4)
    assert not {"compound", "adhesive.seam", "sealer"} & set(counted)
    works = {line.work.code: line.work for line in taken.labour}
    assert works["wood-joint"].minutes == 75
    assert not {"butt", "bonded"} & set(works)
    faces = sum(2 * t.part.outline.area + t.part.outline.length * 40.0 for t in made.lengths) / 1e6
    assert float(works["oil"].minutes) == pytest.approx(32 * faces, abs=0.02)
    words = " ".join(words for words, _ in steps(corner_of(made, join, 10.0)))
    assert "biscuit No. 20" in words
    assert "compound" not in words
