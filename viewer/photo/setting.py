"""Setting: what a photograph is made of, in plain arrays: meshes by finish, lamps, windows' views, the camera.

Room frame in metres, z up. Whoever draws it needs nothing else of the kitchen.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from zlib import crc32

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, Polygon, union_all
from shapely import box as rectangle

from countersunk.model.document.schema import Opening
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.solids import bounds
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import most
from countersunk.viewer.photo.bevels import bevelled
from countersunk.viewer.photo.dressing import dressing
from countersunk.viewer.photo.view import Viewpoint, best_view
from countersunk.viewer.scene.fixtures import slab
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import PALETTE, Finish, surface_finish
from countersunk.viewer.scene.room import WALL
from countersunk.viewer.scene.scene import items
from countersunk.viewer.scene.surface import Floats

METRE = 1_000.0
SLAB = 120.0
"""Thickness of ceiling, floor and the walls that only close the room, mm."""
OUTSIDE = 1_200.0
"""How far before a window its view hangs, mm; it reaches as far past either side."""
FIGURED = ("wood", "stone")
"""Figures that no two boards share: each begins elsewhere in the texture."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """All that is of one finish: vertices and normals (n, 3), texture coordinates (n, 2) in repeats, triangles."""

    finish: Finish
    vertices: Floats
    normals: Floats
    uv: Floats
    faces: NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Lamp:
    """A rectangle that shines to one side: its middle, half its width, half its height, as vectors in metres.

    It shines along their cross product. ``view`` says that it is what is seen of the world outside.
    """

    name: str
    middle: Floats
    across: Floats
    up: Floats
    radiance: tuple[float, float, float]
    view: bool = False


@dataclass(frozen=True, eq=False)
class Setting:
    """A scene to be photographed. ``sun`` is the way that sunlight goes, None without any."""

    items: tuple[Item, ...]
    lamps: tuple[Lamp, ...]
    sun: Floats | None
    view: Viewpoint

    @property
    def meshes(self) -> list[Mesh]:
        """The same items, all of one finish together."""
        return list(_meshes(self.items))


def setting(
    kitchen: Kitchen, view: Viewpoint | None = None, evening: bool = False, dressed: bool = True
) -> Setting:
    """The kitchen in its room, closed all round, by day or with the lamps on, with or without dressing."""
    taken = view or best_view(kitchen)
    drawn = [i for i in items(kitchen) if i.more.get("wall") != taken.through or i.layer != "room"]
    drawn = [replace(i, surface=bevelled(part)) if (part := _plain(i, kitchen)) else i for i in drawn]
    drawn = [i for i in drawn if not _is_window_pane(i) and i.kind not in ("floor", "service")]
    window = _main_window(kitchen, taken)
    added = dressing(kitchen, taken) if dressed else ()
    return Setting(
        (*drawn, *_shell(kitchen, taken), *_beyond(kitchen, taken), *added),
        tuple(_lamps(kitchen, taken, evening)),
        None if evening or window is None else _sun(kitchen, window),
        taken,
    )


def _plain(item: Item, kitchen: Kitchen) -> Part | None:
    """The part that the item shows, where it shows it as it is."""
    part = kitchen.parts_by_id.get(item.id)
    return part if part is not None and item.kind != "splashback" else None


def _is_window_pane(item: Item) -> bool:
    """Glass in a wall: light comes through it as through nothing."""
    return item.layer == "room" and item.finish.name == "pane"


def _shell(kitchen: Kitchen, view: Viewpoint) -> Iterator[Item]:
    """Floor, ceiling, and plain walls along every side of the room where no measured wall stands."""
    height, none = kitchen.survey.height, np.eye(4)
    ground = Polygon(view.outline.buffer(SLAB, join_style="mitre").exterior)
    floor, wall = surface_finish(kitchen, "floor"), surface_finish(kitchen, "wall")
    yield Item("room.floor", "floor", "room", "floor", slab(ground, -SLAB, 0.0), none, floor)
    yield Item("room.ceiling", "ceiling", "room", "ceiling", slab(ground, height, height + SLAB), none, CEILING)
    real = [w.line.buffer(8.0) for w in kitchen.survey.walls if w.name != view.through]
    sides = LineString(view.outline.exterior.coords).difference(union_all(real))
    for i, side in enumerate(getattr(sides, "geoms", [sides])):
        if side.length < 20.0:
            continue
        plan = side.buffer(SLAB, cap_style="flat", join_style="mitre").difference(view.outline)
        for j, piece in enumerate(getattr(plan, "geoms", [plan])):
            surface = slab(piece, 0.0, height)
            yield Item(f"room.closing.{i}.{j}", "wall", "room", "wall", surface, none, wall)


CEILING = replace(PALETTE["ceiling"], name="ceiling, whole", colour="#f3f2ef", opacity=1.0)


PASSAGE = 1_500.0
"""How far one sees into the next room through a passage, mm."""


def _beyond(kitchen: Kitchen, view: Viewpoint) -> Iterator[Item]:
    """Three plain walls, floor and ceiling behind each passage, so that it leads somewhere."""
    for i, opening in enumerate(kitchen.survey.openings):
        if opening.kind != "passage" or opening.wall == view.through:
            continue
        wall, height = kitchen.survey.wall(opening.wall), kitchen.survey.height
        x0, x1, edge = opening.at - 500.0, opening.at + opening.width + 500.0, -WALL - PASSAGE
        room = rectangle(x0, edge, x1, -WALL / 2)
        sides = rectangle(x0 - SLAB, edge - SLAB, x1 + SLAB, -WALL / 2).difference(room)
        for name, plan, low, high, look in (
            ("walls", sides, 0.0, height, surface_finish(kitchen, "wall")),
            ("floor", room, -SLAB, -0.5, surface_finish(kitchen, "floor")),
            ("ceiling", room, height, height + SLAB, CEILING),
        ):
            surface = slab(wall.frame.plan_to_room(plan), low, high)
            kind = "wall" if name == "walls" else name
            yield Item(f"room.beyond.{i}.{name}", kind, "room", "the next room", surface, np.eye(4), look)


def _meshes(drawn: Iterable[Item]) -> Iterator[Mesh]:
    by_finish: dict[str, list[Item]] = {}
    for item in drawn:
        by_finish.setdefault(item.finish.name, []).append(item)
    for found in by_finish.values():
        finish = found[0].finish
        starts = np.cumsum([0, *(len(i.surface.vertices) for i in found)])
        yield Mesh(
            finish,
            np.concatenate([i.points for i in found]) / METRE,
            np.concatenate([i.normals for i in found]),
            np.concatenate([_uv(i) for i in found]),
            np.concatenate([i.surface.faces + s for i, s in zip(found, starts, strict=False)]),
        )


def _uv(item: Item) -> Floats:
    """In repeats of the texture; a board of wood begins anywhere in it."""
    if not item.finish.textured:
        return item.surface.uv / METRE
    uv = item.surface.uv / item.finish.tile
    if item.finish.figure in FIGURED and item.layer != "worktops":
        seed = crc32(item.id.encode())
        uv = uv + np.array([seed % 97 / 97.0, seed // 97 % 89 / 89.0])
    return uv


DAYLIGHT, DUSK = (9.5, 10.0, 10.6), (0.10, 0.16, 0.34)
SOFT, DARK = (3.4, 3.3, 3.1), (0.5, 0.42, 0.32)
WARM = (62.0, 44.0, 25.0)
"""Radiances: of the view at its brightest by day and at dusk, of the soft light behind the camera, of lamps."""
SPOT = 0.03
"""Half the width of a hood's lamp, metres."""


def _lamps(kitchen: Kitchen, view: Viewpoint, evening: bool) -> Iterator[Lamp]:
    for opening in kitchen.survey.openings:
        if opening.kind == "window" and opening.wall != view.through:
            yield _outlook(opening, kitchen.survey.wall(opening.wall), DUSK if evening else DAYLIGHT)
        elif opening.kind == "passage" and opening.wall != view.through:
            yield _next_room(opening, kitchen, DARK if evening else SOFT)
    yield _soft(view, kitchen.survey.height, DARK if evening else SOFT)
    for part in kitchen.parts:
        if part.which.component is Component.CANOPY or part.which.component is Component.LIP:
            yield from _spots(part, 0.6 if not evening else 1.0)
    if evening:
        yield from _ceiling_lamps(view, kitchen.survey.height)
        yield from _strips(kitchen)


def _outlook(opening: Opening, wall: SurveyedWall, radiance: tuple[float, float, float]) -> Lamp:
    high = (opening.sill + opening.head) / 2 - 150.0
    middle = wall.frame.to_room((opening.at + opening.width / 2, -OUTSIDE, high))
    wide = opening.width / 2 + 1.3 * OUTSIDE
    tall = (opening.head - opening.sill) / 2 + 600.0
    along, inward = np.array(wall.frame.x), np.array(wall.frame.y)
    up = np.array([0.0, 0.0, 1.0])
    across = along if np.cross(along, up) @ inward > 0 else -along
    return Lamp("window", np.array(middle) / METRE, across * wide / METRE, up * tall / METRE, radiance, True)


def _next_room(opening: Opening, kitchen: Kitchen, radiance: tuple[float, float, float]) -> Lamp:
    """Light from above, just behind a passage."""
    frame, high = kitchen.survey.wall(opening.wall).frame, kitchen.survey.height - 10.0
    middle = np.array(frame.to_room((opening.at + opening.width / 2, -WALL - PASSAGE / 2, high)))
    return _down("next room", middle / METRE, np.array(frame.x) * 0.35, np.array(frame.y) * 0.35, radiance)


def _soft(view: Viewpoint, height: float, radiance: tuple[float, float, float]) -> Lamp:
    """A large dim light behind the camera, as a window in the next room."""
    up = np.array([0.0, 0.0, 1.0])
    away = LineString([view.eye[:2], view.eye[:2] - 20_000.0 * view.forward[:2]])
    back = min(float(away.intersection(view.outline).length) - 60.0, 1_500.0)
    middle = view.eye - max(back, 60.0) * view.forward
    middle[2] = min(1_650.0, height - 700.0)
    across = -view.right if np.cross(-view.right, up) @ view.forward > 0 else view.right
    return Lamp("soft", middle / METRE, across * 1.1, up * 0.62, radiance)


def _spots(part: Part, share: float) -> Iterator[Lamp]:
    x0, y0, z0, x1, y1, _ = bounds(part)
    along = np.array(part.pose.x)
    middle = np.array([(x0 + x1) / 2, (y0 + y1) / 2, z0 - 2.0]) / METRE
    if abs(along[2]) > 0.5:
        along = np.array(part.pose.y)
    reach = 0.25 * math.hypot((x1 - x0) * along[0], (y1 - y0) * along[1]) / METRE
    across = np.array([along[1], -along[0], 0.0])
    for side in (-1.0, 1.0):
        radiance = (share * WARM[0], share * WARM[1], share * WARM[2])
        yield _down("hood", middle + side * reach * along, along * SPOT, across * SPOT, radiance)


def _down(name: str, middle: Floats, a: Floats, b: Floats, radiance: tuple[float, float, float]) -> Lamp:
    return Lamp(name, middle, a, b if np.cross(a, b)[2] < 0 else -b, radiance)


def _ceiling_lamps(view: Viewpoint, height: float) -> Iterator[Lamp]:
    spot = view.outline.representative_point() if not view.outline.contains(view.outline.centroid) else None
    centre = spot or view.outline.centroid
    middle = np.array([centre.x, centre.y, height - 12.0]) / METRE
    yield _down("ceiling", middle, np.array([0.3, 0, 0]), np.array([0, 0.3, 0]), (12.0, 9.4, 6.6))


def _strips(kitchen: Kitchen) -> Iterator[Lamp]:
    """Below every profile of light that the kitchen has."""
    for part in kitchen.parts:
        if part.role is not Role.LIGHT or part.length < 100.0:
            continue
        x0, y0, z0, x1, y1, _ = bounds(part)
        middle = np.array([(x0 + x1) / 2, (y0 + y1) / 2, z0 - 2.0]) / METRE
        along = np.array(part.pose.x) * part.length * 0.48 / METRE
        yield _down("strip", middle, along, np.array([-part.pose.x[1], part.pose.x[0], 0.0]) * 0.006, STRIP)


STRIP = (34.0, 25.0, 15.5)
"""Radiance of a profile of light."""


def _main_window(kitchen: Kitchen, view: Viewpoint) -> Opening | None:
    windows = [o for o in kitchen.survey.openings if o.kind == "window" and o.wall != view.through]
    return most(windows, key=lambda o: o.width * (o.head - o.sill)) if windows else None


SUN_HEIGHT, SUN_ASIDE = 39.0, 34.0
"""Degrees above the horizon, and beside the window's own direction."""


def _sun(kitchen: Kitchen, window: Opening) -> Floats:
    inward = np.array(kitchen.survey.wall(window.wall).frame.y)
    side, rise = math.radians(SUN_ASIDE), math.radians(SUN_HEIGHT)
    level = np.array(
        [
            inward[0] * math.cos(side) - inward[1] * math.sin(side),
            inward[0] * math.sin(side) + inward[1] * math.cos(side),
        ]
    )
    return np.array([*(level * math.cos(rise)), -math.sin(rise)])
