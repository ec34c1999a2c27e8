"""What holds of every kitchen that can be built, whatever its room: one is drawn, and all of it is asked.

A seed draws the same kitchen everywhere.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from typing import Any
from unittest.mock import patch

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from countersunk.model import survey
from countersunk.model.checks import check
from countersunk.model.document.schema import Document
from countersunk.model.edit.mirror import FINE, reflected
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.frames import upright
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kept import forget
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.survey import SurveyedWall
from countersunk.model.tolerance import READING
from countersunk.model.tops.edges import CUT_OUTS
from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.takeoff import Takeoff, estimate
from countersunk.takeoff.measuring.registry import measured
from countersunk.takeoff.plans.lengths import NEARLY
from countersunk.takeoff.report.report import as_json, csv_bytes
from tests.lanes import KITCHENS
from tests.random_kitchens.kitchens import kitchens
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data
from tests.takeoff.by_hand import ids_of, mass_by_slices, pockets_take

SEEDS = range(KITCHENS)
"""One kitchen of each sort is drawn for every seed."""

REFUSED = 8
"""So many kitchens of a seed may be refused."""

BOXES = ("box", "drawers", "blind-corner", "l-corner", "diagonal-corner")
"""Constructions whose boards are as large as the unit."""

Order = dict[str, tuple[float, float | None]]

ELSEWHERE = ((7310.0, -1270.0), 37.3)
"""Where the room is moved to (mm), and by how much it is turned (degrees)."""


def built(data: dict[str, Any]) -> Kitchen | None:
    """The kitchen, or None where it is refused in words; anything but a whole InputError fails the test."""
    try:
        return build(Document.model_validate(data))
    except InputError as error:
        if not all(p.field and p.found and p.allowed for p in error.problems):
            raise AssertionError(f"half an error: {error}") from None
        return None


def drawn(
    shape: Callable[[Lots], list[Data]], seed: int, catalogue: str = "metric",
    change: Callable[[Lots, dict[str, Any]], dict[str, Any]] | None = None,
) -> Kitchen:  # fmt: skip
    """The first kitchen of a seed that can be built; nine in ten can, and it fails where hardly any is. ``change``
    is made of the data of each.
    """
    lots = Lots(f"{change.__name__ if change else shape.__name__} {catalogue} {seed}")
    plain = (kitchens(lots, shape, catalogue) for _ in range(REFUSED + 1))
    tries = (change(lots, data) if change and data["runs"] else data for data in plain)
    found = (built(data) for data in tries if data["runs"])
    kitchen = next((one for one in found if one is not None), None)
    assert kitchen is not None, f"{REFUSED} were refused one after the other"
    return kitchen


def everything_holds(kitchen: Kitchen) -> None:
    """Everything that is asserted here, of one kitchen."""
    taken = estimate(kitchen)
    solids_are_closed(kitchen)
    assert solids.clashes(kitchen.parts) == []
    edges_of_tops_close(kitchen)
    boards_rebuild_the_outer_box(kitchen)
    takeoff_is_whole(kitchen, taken)
    mirrored_twice_is_the_same(kitchen, taken)
    moved_and_turned_is_the_same(kitchen, taken)


def solids_are_closed(kitchen: Kitchen) -> None:
    """Watertight, and with the volume of area times thickness. No two parts share a vertex, so that all of them
    together are closed if and only if each is.
    """
    assert len(kitchen.parts_by_id) == len(kitchen.parts)
    meshes = [solids.mesh(part) for part in kitchen.parts]
    for part, mesh in zip(kitchen.parts, meshes, strict=True):
        enclosed = _enclosed(*mesh)
        assert enclosed == pytest.approx(solids.volume(part), rel=1e-6), part.id
        if part.section is None:
            left = part.area * part.thickness - pockets_take(part)
            assert enclosed == pytest.approx(left, rel=1e-9), part.id
    together = trimesh.util.concatenate([trimesh.Trimesh(*mesh, process=False) for mesh in meshes])
    assert together.is_watertight
    assert together.is_winding_consistent


def _enclosed(points: NDArray[np.float64], triangles: NDArray[np.uint64]) -> float:
    """What the triangles of a mesh enclose, mm³, by the divergence theorem."""
    a, b, c = (points[triangles[:, i]] - points[0] for i in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def edges_of_tops_close(kitchen: Kitchen) -> None:
    """The edges of every top go round it end to end, and are as long together as its outline."""
    for length in kitchen.lengths:
        outer = [e for e in length.part.edges if e.condition not in CUT_OUTS]
        assert sum(e.length for e in outer) == pytest.approx(length.part.outline.exterior.length, abs=1e-3)
        for a, b in zip(outer, [*outer[1:], outer[0]], strict=True):
            assert np.allclose(a.path.coords[-1], b.path.coords[0], atol=1e-3)


def boards_rebuild_the_outer_box(kitchen: Kitchen) -> None:
    """The boards of a unit reach as far as the unit, and no further."""
    for unit in kitchen.units:
        if unit.family.construction in BOXES:
            boards = [p for p in kitchen.parts_of[unit.key] if p.layer is Layer.CARCASS]
            seen = np.concatenate([solids.mesh(p)[0] for p in boards]) - unit.frame.origin
            seen = seen @ unit.frame.matrix[:, :3]
            far = [unit.width, unit.wing or unit.family.depth, unit.family.top]
            assert np.allclose(seen.min(axis=0), [0.0, 0.0, unit.family.base], atol=1e-6), unit.name
            assert np.allclose(seen.max(axis=0), far, atol=1e-6), unit.name


def takeoff_is_whole(kitchen: Kitchen, taken: Takeoff) -> None:
    """Every part is counted, every line traced to parts, and boards and tops weigh what their solids say."""
    known = ids_of(kitchen)
    assert [q.formula for q in taken.quantities if q.rule == "none"] == []
    for q in taken.quantities:
        assert q.ids, q.item
        assert set(q.ids) <= known, q.item
        assert sum(c.amount for c in q.contributions) == pytest.approx(q.net, rel=1e-9)
        assert (q.packs is None) == bool(q.problem)
        # Of worktop less may be bought than its pieces are long together, as they may lie beside one another.
        assert q.packs is None or q.rule == "worktops" or q.ordered >= q.needed * (1.0 - NEARLY)
    assert json.dumps(as_json(taken))
    assert csv_bytes(taken)
    _weighed(kitchen)


def _weighed(kitchen: Kitchen) -> None:
    shares = measured(kitchen)
    for share in shares["board-area"]:
        part = kitchen.parts_by_id[share.id]
        assert share.amount == pytest.approx(part.area, rel=1e-9)
        if part.section is None:
            assert share.amount * part.thickness - pockets_take(part) == pytest.approx(
                solids.volume(part), rel=1e-9
            )
    tops = {top.key: top for top in kitchen.lengths}
    for share in shares["worktop-mass"]:
        assert share.amount == pytest.approx(mass_by_slices(tops[share.id]), rel=1e-4)


def mirrored_twice_is_the_same(kitchen: Kitchen, taken: Takeoff) -> None:
    """Mirrored once the order is the same, and twice every part is back in its place."""
    other = build(reflected(kitchen))
    twice = build(reflected(other))
    _same_order(ordered(estimate(other)), ordered(taken), bowed(kitchen.document))
    assert [p.id for p in twice.parts] == [p.id for p in kitchen.parts]
    for a, b in zip(kitchen.parts, twice.parts, strict=True):
        assert np.allclose(solids.bounds(a), solids.bounds(b), atol=PLACE[bowed(kitchen.document)]), a.id
    assert alike(reflected(twice).model_dump(), other.document.model_dump())


def alike(one: Any, other: Any) -> bool:
    """Whether data is the same but for the last decimal of a place, which is rounded each time it is mirrored."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    return bool(one == pytest.approx(other, abs=1.5 * 10**-FINE, rel=0) if isinstance(one, float) else one == other)


def moved_and_turned_is_the_same(kitchen: Kitchen, taken: Takeoff) -> None:
    """Elsewhere in the plane nothing changes: every part is where it was in the room, and checks and order say the
    same.
    """
    forget()
    with patch.object(survey, "_walls", elsewhere(survey._walls)):
        other = build(kitchen.document)
    forget()
    frame, home = upright(*ELSEWHERE).matrix, upright((0.0, 0.0), 0.0).matrix
    for a, b in zip(kitchen.parts, other.parts, strict=True):
        back = (ends_of(b) - frame[:, 3]) @ frame[:, :3] @ home[:, :3].T
        assert np.allclose(back, ends_of(a), atol=1e-4), a.id
    _same_order(ordered(estimate(other)), ordered(taken), "straight")
    ours, theirs = values(kitchen), values(other)
    assert list(ours) == list(theirs)
    for rule, found in ours.items():
        assert theirs[rule] == pytest.approx(found, abs=0.11), rule


def elsewhere(place: Callable[..., tuple[SurveyedWall, ...]]) -> Callable[..., tuple[SurveyedWall, ...]]:
    """A way to place walls, and after it all of them `ELSEWHERE`."""

    def moved(*args: Any) -> tuple[SurveyedWall, ...]:
        frame, home, turn = upright(*ELSEWHERE), upright((0.0, 0.0), 0.0), ELSEWHERE[1]
        walls = place(*args)
        starts = [frame.to_room(home.from_room((*wall.start, 0.0))) for wall in walls]
        return tuple(
            replace(w, start=at[:2], heading=w.heading + turn) for w, at in zip(walls, starts, strict=True)
        )

    return moved


def ends_of(part: Part) -> NDArray[np.float64]:
    """(2, 3) float: two opposite corners of the box round a part, along its own axes, in the room."""
    x0, y0, x1, y1 = part.outline.bounds
    return np.array([part.pose.to_room(p) for p in ((x0, y0, 0.0), (x1, y1, part.thickness))])


def bowed(document: Document) -> str:
    """How true a mirror is to the bows: they are read from the other end of a wall whose length is adjusted, and so
    a little further along. What was not read as far as the wall's end is read anew.
    """
    bows = [(wall.length, wall.bow) for wall in document.room.walls if wall.bow]
    if all(abs((len(bow.offsets) - 1) * bow.every - length) <= READING for length, bow in bows):
        return "bowed" if bows else "straight"
    return "read anew"


def values(kitchen: Kitchen) -> dict[str, list[float]]:
    """The values of every rule, in order of size, -1 if not measured; of two things as near either may be named."""
    found = defaultdict[str, list[float]](list)
    for finding in check(kitchen):
        found[finding.rule].append(-1.0 if finding.value is None else finding.value)
    return {rule: sorted(found[rule]) for rule in sorted(found)}


PLACE = {"straight": 0.01, "bowed": 0.01, "read anew": 3.0}
"""By how much a part may lie elsewhere once it is mirrored twice, mm: a wall read anew has its peaks cut."""

NEAR = {"straight": 2e-6, "bowed": 1e-3, "read anew": 0.05}
"""By which share the orders of a kitchen and of its mirror may differ, see `bowed`."""


def _same_order(theirs: Order, ours: Order, walls: str) -> None:
    """The same articles, as much of each, and as many packs where what is measured is the same."""
    assert ours.keys() == theirs.keys()
    for item, (net, packs) in ours.items():
        assert theirs[item][0] == pytest.approx(net, rel=NEAR[walls]), item
        unlike = theirs[item][0] != pytest.approx(net, rel=1e-9)
        assert theirs[item][1] == packs or unlike or (item.startswith("top ") and None in (theirs[item][1], packs))


def ordered(taken: Takeoff) -> Order:
    """What is measured of each article and how many packs of it are ordered.

    Lengths of worktop are taken together, with what they cost where it is proven that nothing costs less: of two
    places as good for a join in line, and of two plans as good, either may be chosen.
    """
    found = {q.item: (q.net, float(q.packs) if q.packs is not None else None) for q in others_than_tops(taken)}
    for i, plan in enumerate(taken.plans):
        length = sum(piece.length for bar in plan.bars for piece in bar.pieces)
        found[f"top {i}"] = length, float(plan.cost) if plan.at_bound else None
    return found


def others_than_tops(taken: Takeoff) -> list[Quantity]:
    """Every quantity but the lengths of worktop."""
    return [q for q in taken.quantities if q.rule != "worktops"]
