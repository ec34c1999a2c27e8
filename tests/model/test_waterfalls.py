"""Ends of tops that go on down to the floor: how they close, what they take, where they are refused.

All by hand: the top is 870 to 890 above the floor, of granite 20. Common practice, no source.
"""

from collections import Counter

import numpy as np
import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from tests.model.test_checks import check, kitchen, run, unit

UNDER, THICK, DEEP = 870.0, 20.0, 900.0


def island(*corners, stock="granite20", deep=DEEP):
    """1200 of units in the middle of a room; a top 900 deep of a slab."""
    depth = {"top_depth": deep} if deep else {}
    row = {"name": "I", "wall": "A", "along": 900.0, "out": 1200.0, "stock": stock, **depth,
           "units": (unit("base-doors", 600),) * 2}  # fmt: skip
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "corners": corners}
    return kitchen(run(unit("base-doors", 600)), islands=(row,), worktop=worktop)


def down(joint, end="right", over="I2", **more):
    return {"over": over, "end": end, "waterfall": joint, **more}


def pieces(built):
    top = next(length for length in built.lengths if length.run.name == "I")
    return top, [part for part in built.parts if part.role is Role.WATERFALL]


@pytest.mark.parametrize("end", ["left", "right"])
def test_a_mitred_end_closes_with_the_top_to_a_tenth_of_a_millimetre(end):
    built = island(down("mitre", end, "I1" if end == "left" else "I2"))
    top, [leg] = pieces(built)
    assert top.part.length == pytest.approx(1200 + 10 + THICK)
    # Each loses half a square of its thickness; together they are the top and what stands below it.
    assert solids.volume(top.part) == pytest.approx(DEEP * (1230 * THICK - THICK**2 / 2))
    assert solids.volume(leg) == pytest.approx(DEEP * (890 * THICK - THICK**2 / 2))
    assert solids.clashes(built.parts) == []
    whole = solids.solid(top.part) + solids.solid(leg)
    assert whole.volume() == pytest.approx(DEEP * THICK * (1230 + UNDER), rel=1e-6)
    # The four corners of the cut are the same points of the room on either piece.
    cut = [
        {tuple(np.round(point, 1)) for point in solids.mesh(part)[0] if on_cut(point, built, end)}
        for part in (top.part, leg)
    ]
    assert cut[0] == cut[1]
    assert len(cut[0]) == 4
    edges = Counter(edge.condition for edge in top.part.edges)
    assert (edges[EdgeCondition.MITRED], edges[EdgeCondition.EXPOSED]) == (1, 2)


def on_cut(point, built, end):
    """Whether a point of the room lies where the faces of the two meet: the arris outside, and 20 within it."""
    top, _ = pieces(built)
    x, _, z = top.part.pose.from_room(point)
    x = top.part.length - x if end == "right" else x
    return min(abs(x) + abs(z - THICK), abs(x - THICK) + abs(z)) < 0.1


def test_a_butted_end_stands_under_the_top_that_runs_over_it():
    built = island(down("butt"), down("butt", "left", "I1"))
    top, legs = pieces(built)
    assert top.part.length == pytest.approx(1200 + 2 * THICK)
    assert [solids.volume(leg) for leg in legs] == [pytest.approx(UNDER * DEEP * THICK)] * 2
    assert [solids.bounds(leg)[2::3] for leg in legs] == [(pytest.approx(0.0), pytest.approx(UNDER))] * 2
    assert solids.clashes(built.parts) == []
    assert [f.rule for f in check(built) if f.serious and f.measure.startswith("worktop")] == []


def test_ends_are_pieces_of_the_slab_with_their_edges_and_seams():
    taken = measured(island(down("mitre"), down("butt", "left", "I1")))
    assert sum(s.amount for s in taken["slab-pieces"]) == pytest.approx(DEEP * (1240 + 890 + 870))
    # The top's front, back and butted end; both upright edges of each piece, whose back shows on an island.
    assert sum(s.amount for s in taken["slab-edges"]) == pytest.approx(2 * 1240 + 900 + 2 * 890 + 2 * 870)
    assert {s.key: s.amount for s in taken["slab-seams"]} == pytest.approx({"mitre": 900.0, "seam": 900.0})
    assert taken["waterfalls"] == ()


@pytest.mark.parametrize(
    ("stock", "deep", "joint", "item"),
    [("solid30.900", None, "mitre", "waterfall.30"), ("sq40.650", None, "butt", "waterfall.40")],
)
def test_of_what_is_cut_here_the_piece_is_bought_to_size(stock, deep, joint, item):
    found = {q.item: q for q in estimate(island(down(joint), stock=stock, deep=deep)).quantities}
    thick, wide = (30, 900) if stock == "solid30.900" else (40, 650)
    high = UNDER + thick if joint == "mitre" else UNDER
    assert [piece.size for piece in found[item].pieces] == [f"{high:g} × {wide} × {thick} mm"]
    assert found[item].packs == 1


@pytest.mark.parametrize(
    ("stock", "deep", "wish", "why"),
    [
        ("pf38.900", None, down("butt"), "square edges"),
        ("sq40.650", None, down("mitre"), "butt: the core of laminate would show"),
        ("granite20", DEEP, down("mitre", post=True), "false"),
        ("granite20", DEEP, down("mitre", past=10.0), "20 or more"),
        ("granite20", DEEP, down("mitre", radius=50.0), "one of them"),
    ],
)
def test_what_cannot_go_down_is_refused(stock, deep, wish, why):
    with pytest.raises(InputError, match=why):
        island(wish, stock=stock, deep=deep)
