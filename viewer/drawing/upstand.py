"""Upstand: a piece as one faces its wall, its holes set out from its left end and from the top under it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon

from countersunk.model.catalogue.catalogue import UpstandStock
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import SurveyedWall
from countersunk.model.survey.room import spoken
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.ordinates import BESIDE, HOLE, Feature, below, beside
from countersunk.viewer.drawing.shapes import Mark, Path
from countersunk.viewer.drawing.strokes import Stroke

NEAR = 5.0
"""An end no further from something butts against it; silicone fills what is between, mm."""

ROUND = 1e-2
"""A hole whose area is off a circle's by no more than this share is round."""


@dataclass(frozen=True)
class DrawnUpstand:
    """A piece with its stock and its wall, ``start`` mm along it; what is at its ends, in words."""

    part: Part
    stock: UpstandStock
    wall: SurveyedWall
    start: float
    left: str
    right: str

    @property
    def end(self) -> float:
        """Where it ends along the wall, mm."""
        return self.start + self.part.length

    @property
    def blank(self) -> float:
        """The shortest stock length that it can be cut from, mm."""
        return min(size for size in self.stock.lengths if size >= self.part.length - 1e-6)

    @property
    def weight(self) -> float:
        """Net, kg."""
        return self.part.area * self.part.thickness * self.stock.density * 1e-9


def upstands(kitchen: Kitchen) -> list[DrawnUpstand]:
    """Every piece that is cut here, in the order of its name; one from the slabs of the top comes with that."""
    made = kitchen.made_to_measure
    parts = [p for p in kitchen.parts if p.role is Role.UPSTAND and p.id not in made]
    return [_upstand(kitchen, part, parts) for part in parts]


def _upstand(kitchen: Kitchen, part: Part, parts: list[Part]) -> DrawnUpstand:
    wall = next(w for w in kitchen.survey.walls if _stands_on(part, w))
    start = wall.frame.from_room(part.pose.origin)[0]
    left = _at_end(kitchen, part, parts, wall, start, "left")
    right = _at_end(kitchen, part, parts, wall, start + part.length, "right")
    return DrawnUpstand(part, kitchen.catalogue.upstands[part.material], wall, start, left, right)


def _stands_on(part: Part, wall: SurveyedWall) -> bool:
    """Along the wall and at it, or before what of it bulges; two walls may lie in one line."""
    along = sum(a * b for a, b in zip(part.pose.x, wall.frame.x, strict=True))
    x, y, _ = wall.frame.from_room(part.pose.origin)
    beside = -part.length < x < wall.length
    return along > 1.0 - 1e-9 and beside and -1.0 < y < wall.peak(0.0, wall.length) + 1.0


def _at_end(
    kitchen: Kitchen, part: Part, parts: list[Part], wall: SurveyedWall, x: float, side: Literal["left", "right"]
) -> str:  # fmt: skip
    """What an end butts against: another piece, a tall unit, an obstacle, a wall; or that it is free."""
    _, y, _ = wall.frame.from_room(part.pose.origin)
    at = wall.frame.plan_to_room(LineString([(x, y), (x, y + part.thickness)]))
    beside_it = next((p.mark for p in parts if p is not part and p.standing_plan.distance(at) < NEAR), None)
    face = part.pose.origin[2]
    runs = (run for run in kitchen.runs if run.wall == wall.name and run.level == "floor")
    units = (u for run in runs for u in run.units if u.family.top > face)
    tall = next((u.name for u in units if abs((u.right if side == "left" else u.x) - x) < NEAR), None)
    standing = (o for o in kitchen.survey.obstacles if o.wall == wall.name and o.bottom < face + part.depth)
    obstacle = next((spoken(o.kind) for o in standing if min(abs(o.x - x), abs(o.right - x)) < NEAR), None)
    openings = (o for o in kitchen.survey.openings if o.wall == wall.name)
    opening = next((o.kind for o in openings if min(abs(o.at - x), abs(o.at + o.width - x)) < NEAR), None)
    if beside_it or tall or obstacle:
        return f"butts against {beside_it or tall or f'the {obstacle}'}"
    if x < NEAR or wall.length - x < NEAR + part.thickness:
        return "butts against the next wall"
    return f"free, at the {opening}" if opening else "free"


def drawn(piece: DrawnUpstand, scale: float) -> list[Mark]:
    """Outline, holes and numbers; the origin is its lower left corner."""
    part, holes = piece.part, [Polygon(ring) for ring in piece.part.outline.interiors]
    x1, y1 = part.length, part.depth
    features = [Feature((0.0, 0.0)), Feature((x1, 0.0)), Feature((x1, y1), axes="y")]
    features += [f for hole in holes for f in hole_features(hole)]
    numbers = [*below(features, scale), *beside(features, x1 + BESIDE * scale, scale, "right")]
    lines = [Path(tuple(plan_points(part.outline.exterior)[:-1]), Stroke.OUTLINE, closed=True)]
    lines += [Path(tuple(plan_points(hole.exterior)[:-1]), Stroke.LINE_TO_CUT, closed=True) for hole in holes]
    return [*lines, *numbers]


def hole_features(hole: Polygon) -> list[Feature]:
    """The sides of a hole; of a round one its middle with its diameter."""
    x0, y0, x1, y1 = hole.bounds
    d = x1 - x0
    if math.isclose(hole.area, math.pi * d * d / 4, rel_tol=ROUND) and math.isclose(d, y1 - y0, abs_tol=0.1):
        return [Feature(((x0 + x1) / 2, (y0 + y1) / 2), f"{HOLE}{mm(d)}")]
    return [Feature((x0, y0)), Feature((x1, y1))]
