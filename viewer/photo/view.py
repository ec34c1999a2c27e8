"""View: where the photographer stands. Room frame, mm.

The camera is at the height of an eye and looks level, so that uprights stay upright; the picture is shifted down,
as a shift lens does it, to show more floor. Of many places and ways to look the one is taken that shows most
fronts, the sink and the hob, and neither backs of units nor what is near and in the way. It may stand outside a
wall where nothing is fitted: that wall is left out, and the room goes on behind the camera.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon, contains_xy, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.geometry.profile import one_polygon
from countersunk.model.geometry.solids import bounds
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import ranked
from countersunk.viewer.photo.places import Box, first_met, part_boxes, unit_boxes, wall_boxes
from countersunk.viewer.scene.surface import Floats

EYE = 1_420.0
"""Height of the eye over the floor, mm (common practice, no source)."""
LENS, FILM = 25.0, 36.0
"""Focal length and width of the film, mm."""
ASPECT = 1.6
"""Width of the picture over its height."""
SHIFT = 0.22
"""How far above the picture's middle the horizon is, in halves of its height."""
STEP = 320.0
"""Between places that are tried, mm."""
HEADINGS = 36
"""Ways to look that are tried at each place."""
CLEAR, ASIDE = 300.0, 250.0
"""The camera's least distance from units and from walls, mm."""
BACK = (250.0, 700.0, 1_200.0, 1_700.0, 2_200.0)
"""How far outside a wall it may stand, mm."""
BEHIND = 900.0
"""How far the room goes on behind the camera, mm."""
OPEN_MARGIN = 2_600.0
"""How far the room reaches past everything that stands in an open survey, mm."""
SIDEWAYS = 0.08
"""Cosine of the angle at which a front is still seen as one."""
LARGE = 0.2
"""Share of the picture that fronts need not pass."""
FINALISTS = 80
GRID = (48, 30)
"""Pixels of the masks by which finalists are compared."""


@dataclass(frozen=True, eq=False)
class Viewpoint:
    """A level camera. ``through`` names the wall outside which it stands, nothing where it is in the room."""

    eye: Floats
    heading: float
    outline: Polygon
    through: str = ""

    @cached_property
    def forward(self) -> Floats:
        """Unit vector of the way it looks; its z is 0."""
        return np.array([math.cos(self.heading), math.sin(self.heading), 0.0])

    @cached_property
    def right(self) -> Floats:
        """Unit vector to the right of the picture."""
        return np.array([self.forward[1], -self.forward[0], 0.0])

    def projected(self, points: Floats) -> Floats:
        """(n, 3): across and up in halves of the picture, −1 to 1 within it, and distance along ``forward``, mm."""
        away = points - self.eye
        depth = away @ self.forward
        safe = np.where(np.abs(depth) < 1e-6, 1e-6, depth)
        across = away @ self.right / safe / HALF_WIDE
        up = away[..., 2] / safe / HALF_TALL + SHIFT
        return np.stack([across, up, depth], axis=-1)

    def ways(self, size: tuple[int, int]) -> Floats:
        """Unit vectors (height · width, 3) through the middles of pixels, row by row from the top left."""
        width, height = size
        across = (np.arange(width) + 0.5) / width * 2 - 1
        up = 1 - (np.arange(height) + 0.5) / height * 2 - SHIFT
        u, v = np.meshgrid(across * HALF_WIDE, up * HALF_TALL)
        ways = self.forward + u[..., None] * self.right + v[..., None] * np.array([0.0, 0.0, 1.0])
        return np.asarray(ways / np.linalg.norm(ways, axis=-1, keepdims=True)).reshape(-1, 3)


HALF_WIDE = FILM / 2 / LENS
HALF_TALL = HALF_WIDE / ASPECT


@dataclass(frozen=True, eq=False)
class Stand:
    """Places to try that share a room: in it, or at one distance outside one wall."""

    points: Floats
    outline: Polygon
    through: str
    out: float


def best_view(kitchen: Kitchen) -> Viewpoint:
    """The view that a customer is shown first; the same for the same kitchen."""
    boxes = part_boxes(kitchen)
    worth = [b for b in boxes if b.kind in ("front", "sink", "hob")] or boxes
    blocks = unit_boxes(kitchen, boxes)
    found: list[tuple[float, Viewpoint]] = []
    for stand in _stands(kitchen):
        found += _rated(stand, worth, blocks)
    finalists = ranked(found, key=lambda one: -one[0])[:FINALISTS]
    if not finalists:
        raise ValueError("nowhere to stand")
    best = ranked(finalists, key=lambda one: -(one[0] + _checked(one[1], kitchen, blocks)))
    return best[0][1]


def whole_outline(kitchen: Kitchen) -> Polygon:
    """The room's plan; of an open survey a rectangle along its first wall, past everything that stands there."""
    survey = kitchen.survey
    if survey.outline is not None:
        return one_polygon(survey.outline.buffer(0))
    frame = survey.walls[0].frame
    ends = [point for wall in survey.walls for point in (wall.start, wall.end)]
    stands = [corner for part in kitchen.parts for b in (bounds(part),) for corner in ((b[0], b[1]), (b[3], b[4]))]
    x0, _, x1, y1 = frame.plan_from_room(MultiPoint([*ends, *stands])).bounds
    return frame.plan_to_room(rectangle(x0, 0.0, x1, y1 + OPEN_MARGIN))


def _stands(kitchen: Kitchen) -> Iterator[Stand]:
    outline = whole_outline(kitchen)
    taken = union_all(
        [*(_plan(kitchen, u.key) for u in kitchen.units if u.family.level == "floor"), *_boxed_out(kitchen)]
    )
    free = outline.buffer(-ASIDE, join_style="mitre").difference(taken.buffer(CLEAR))
    points = _grid(free, outline.bounds)
    if len(points):
        yield Stand(points, outline, "", 0.0)
    used = {run.wall for run in kitchen.runs} | {o.wall for o in kitchen.survey.obstacles}
    for wall in kitchen.survey.walls:
        if wall.name in used or kitchen.survey.outline is None:
            continue
        yield from _outside(wall, outline)


def _plan(kitchen: Kitchen, key: str) -> BaseGeometry:
    """What a unit takes of the floor."""
    boxes = [bounds(part) for part in kitchen.parts_of[key]]
    return union_all([rectangle(b[0], b[1], b[3], b[4]) for b in boxes])


def _boxed_out(kitchen: Kitchen) -> list[Polygon]:
    return [o.plan for o in kitchen.survey.obstacles if o.bottom < EYE]


def _outside(wall: SurveyedWall, outline: Polygon) -> Iterator[Stand]:
    for out in BACK:
        room = rectangle(0.0, -(out + BEHIND), wall.length, 1.0)
        added = wall.frame.plan_to_room(room)
        if added.intersection(outline).area > 2.0 * wall.length + 1e4:
            return
        whole = one_polygon(outline.union(added.buffer(1.0, join_style="mitre")).buffer(-1.0, join_style="mitre"))
        across = np.arange(ASIDE + 50.0, wall.length - ASIDE - 50.0 + 1.0, STEP)
        points = np.array([wall.frame.to_room((x, -out, EYE)) for x in across]).reshape(-1, 3)
        yield Stand(points, one_polygon(whole.simplify(2.0)), wall.name, out)


def _grid(area: BaseGeometry, bounds: tuple[float, float, float, float]) -> Floats:
    x0, y0, x1, y1 = bounds
    x, y = np.meshgrid(np.arange(x0 + STEP / 2, x1, STEP), np.arange(y0 + STEP / 2, y1, STEP))
    inside = contains_xy(area, x, y)
    return np.column_stack([x[inside], y[inside], np.full(int(inside.sum()), EYE)])


def _rated(stand: Stand, worth: list[Box], blocks: list[Box]) -> Iterator[tuple[float, Viewpoint]]:
    """Every place and way with how good it looks by points alone."""
    middles, areas = np.array([b.middle for b in worth]), np.array([b.area for b in worth])
    is_front, is_sink, is_hob = (np.array([b.kind == kind for b in worth]) for kind in ("front", "sink", "hob"))
    away = middles[None] - stand.points[:, None]
    far = np.linalg.norm(away, axis=2)
    slant = -(away * np.array([b.out for b in worth])).sum(axis=2) / far
    seen = (slant > SIDEWAYS) & ~_hidden(stand.points, away, far, blocks, stand)
    for k in range(HEADINGS):
        heading = 2 * math.pi * k / HEADINGS
        forward = np.array([math.cos(heading), math.sin(heading), 0.0])
        right = np.array([forward[1], -forward[0], 0.0])
        depth = away @ forward
        with np.errstate(divide="ignore", invalid="ignore"):
            across = away @ right / depth / HALF_WIDE
            up = away[..., 2] / depth / HALF_TALL + SHIFT
        within = seen & (depth > 500.0) & (np.abs(across) < 0.94) & (np.abs(up) < 0.96)
        fronts = (within * np.clip(slant / 0.45, 0.0, 1.0) * areas)[:, is_front].sum(axis=1)
        fronts /= max(areas[is_front].sum(), 1e-9)
        share = (within * slant * areas * 1e6 / far**2)[:, is_front].sum(axis=1) / (4 * HALF_WIDE * HALF_TALL)
        clear = within * np.clip(slant / 0.35, 0.0, 1.0) * np.clip((1.0 - np.abs(across)) / 0.22, 0.0, 1.0)
        marks = [clear[:, of].max(axis=1) if of.any() else np.zeros(len(clear)) for of in (is_sink, is_hob)]
        score = 1.3 * fronts + 0.8 * np.minimum(share, LARGE) / LARGE + 0.6 * (marks[0] + marks[1])
        score = score - 0.08 * stand.out / 1_000.0
        for i in np.flatnonzero(fronts > 0.1):
            yield float(score[i]), Viewpoint(stand.points[i], heading, stand.outline, stand.through)


def _hidden(points: Floats, away: Floats, far: Floats, blocks: list[Box], stand: Stand) -> NDArray[np.bool_]:
    """Which middles are behind some unit, or a wall, from which place."""
    ways = away / far[..., None]
    eyes = np.broadcast_to(points[:, None], away.shape)
    hidden = np.zeros(far.shape, dtype=bool)
    for box in (*blocks, *wall_boxes(stand.outline, 3_000.0)):
        hidden |= box.distances(eyes, ways) < far - 90.0
    return hidden


def _checked(view: Viewpoint, kitchen: Kitchen, blocks: list[Box]) -> float:
    """What the picture loses by backs and sides, by what is near and by bare walls."""
    boxes = [*blocks, *wall_boxes(view.outline, kitchen.survey.height)]
    ways = view.ways(GRID)
    which, far = first_met(boxes, view.eye, ways)
    bodies = (which >= 0) & (which < len(blocks))
    hit = view.eye + np.where(np.isfinite(far), far, 0.0)[:, None] * ways
    turned = np.zeros(len(ways), dtype=bool)
    for i, box in enumerate(blocks):
        mine = which == i
        if box.out[2] < 0.5 and mine.any():
            within = (hit[mine] - box.origin) @ box.axes.T
            front, top = np.abs(within[:, 1] - box.high[1]) < 30.0, np.abs(within[:, 2] - box.high[2]) < 30.0
            turned[mine] = ~(front | top)
    near = np.clip((NEAR - far) / NEAR, 0.0, 1.0)[bodies].sum() / len(ways)
    bare = (~bodies).mean()
    return float(-4.0 * max(0.0, turned.mean() - 0.04) - 7.0 * near - 1.2 * max(0.0, bare - 0.60))


NEAR = 1_900.0
"""What is nearer to the camera than this fills more of the picture than it should, mm."""


def seen_kinds(view: Viewpoint, kitchen: Kitchen, size: tuple[int, int] = (120, 75)) -> dict[str, int]:
    """How many pixels of a small picture show each kind of thing, and ``nothing`` where no wall or part is met.

    Above the ceiling and below the floor count as seen.
    """
    boxes = [*part_boxes(kitchen), *wall_boxes(view.outline, kitchen.survey.height)]
    ways = view.ways(size)
    which, far = first_met(boxes, view.eye, ways)
    with np.errstate(divide="ignore"):
        shell = np.where(ways[:, 2] > 0, (kitchen.survey.height - EYE) / ways[:, 2], -EYE / ways[:, 2])
    spot = view.eye + np.minimum(shell, 1e6)[:, None] * ways
    held = (shell < far) & contains_xy(view.outline.buffer(WALL_DOUBT), spot[:, 0], spot[:, 1])
    kinds = np.array([box.kind for box in boxes] + ["nothing"])[which]
    kinds[(which < 0) & held] = "shell"
    names, counts = np.unique(kinds, return_counts=True)
    return {str(name): int(count) for name, count in zip(names, counts, strict=True)}


WALL_DOUBT = 5.0
"""How far past the outline floor and ceiling still count as in the room, mm."""
