"""Raster: pictures of items made off screen with PyVista, in software if there is no graphics card.

A picture is rendered physically based, then darkened by the shade that `viewer.stills.shadows` finds. Lengths are
metres here, since the lights' strengths are.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import pyvista as pv
from numpy.typing import NDArray

from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.surface import CREASE, Floats
from countersunk.viewer.scene.textures import pixels
from countersunk.viewer.stills.cameras import SIZE, Camera, Picture
from countersunk.viewer.stills.shadows import DepthMap, directions, smoothed, visibility

METRE = 1_000.0
BACKGROUND = ("#f4f2ee", "#dfe6ea")
"""Bottom and top."""
SKY_LIGHT, KEY_LIGHT = 1.12, 2.0
"""Strengths of the light from all around and of the lamp behind the viewer's shoulder."""
WINDOWS, WINDOW_LIGHT = ((6, 20), (52, 60), (88, 104)), 1.0
"""Where windows stand round the room that is mirrored, in 128ths of the way round, and their strength."""
SHADE = 0.62
"""How much darker a point is that no light reaches directly."""
LINE, LINE_OPACITY, LINE_LIFT = "#2b2722", 0.30, 0.0012
"""Edge lines, which stand for the small arris of real boards, and by how much they are drawn nearer."""
SMOOTHEST = 0.12
"""Least roughness: a sharp reflection of a plain surrounding looks wrong."""
SHEEN = 1.28
"""Index of refraction of whatever is not metal: low, since the surrounding is plain and would wash colours out."""
MAP = 1_024
"""Pixels across a depth map of a picture of `SIZE`."""

Pixels = NDArray[np.uint8]


def render(picture: Picture, size: tuple[int, int] = SIZE) -> Pixels:
    """The picture as (height, width, 3) array, sRGB; ``size`` is its width and height, pixels."""
    light = _rendered(picture, size)
    depth, normals = _geometry(picture, size)
    here = np.isfinite(depth)
    points = _unprojected(picture.camera, depth)
    lit = np.ones(depth.shape)
    lit[here] = visibility(points[here], normals[here], _depth_maps(picture, MAP * size[0] // SIZE[0]))
    lit = smoothed(lit, points, normals)
    share = (1.0 - SHADE) + SHADE * lit
    return np.clip(light * (share ** (1 / 2.2))[..., None], 0.0, 255.0).astype(np.uint8)


def _plotter(camera: Camera, size: tuple[int, int]) -> Any:
    plotter = pv.Plotter(off_screen=True, window_size=list(size), lighting="none")
    plotter.camera.position = camera.eye / METRE
    plotter.camera.focal_point = (camera.eye + METRE * camera.forward) / METRE
    plotter.camera.up = camera.up
    plotter.camera.view_angle = camera.angle
    plotter.camera.SetWindowCenter(0.0, -camera.shift)
    if camera.half_height is not None:
        plotter.camera.parallel_projection = True
        plotter.camera.parallel_scale = camera.half_height / METRE
    return plotter


def _rendered(picture: Picture, size: tuple[int, int]) -> Floats:
    plotter = _plotter(picture.camera, size)
    plotter.set_background(BACKGROUND[0], top=BACKGROUND[1])
    plotter.set_environment_texture(_surrounding(), is_srgb=False)
    plotter.add_light(_lamp(picture.camera))
    for finish, mesh in _by_finish(picture.items):
        _add(plotter, finish, mesh)
    plotter.add_mesh(_edges(picture), color=LINE, opacity=LINE_OPACITY, line_width=1.5, lighting=False)
    plotter.enable_anti_aliasing("ssaa")
    return _shot(plotter).astype(np.float64)


def _shot(plotter: Any) -> Pixels:
    image = np.asarray(plotter.screenshot(return_img=True))[..., :3]
    plotter.close()
    return image


def _surrounding() -> Any:
    """A plain room of light around the scene: bright above, dimmer below, with tall windows for steel to mirror."""
    height = np.linspace(1.0, -1.0, 64)
    level = np.where(height > 0.0, 0.62 + 0.38 * height, 0.50 + 0.10 * height)
    rows = SKY_LIGHT * np.repeat(level[:, None], 128, axis=1)
    for left, right in WINDOWS:
        rows[18:31, left:right] = WINDOW_LIGHT
    tint = np.array([1.0, 0.995, 0.98])
    texture = pv.Texture((rows[..., None] * tint).astype(np.float32))  # type: ignore[no-untyped-call]
    texture.mipmap = texture.interpolate = True
    return texture


def _lamp(camera: Camera) -> Any:
    way = _sun(camera)
    return pv.Light(position=way, focal_point=(0.0, 0.0, 0.0), color="#fff4e4", intensity=KEY_LIGHT)


def _sun(camera: Camera) -> Floats:
    """Unit vector to the lamp: over the viewer's left shoulder, high; in a plan from above, at the top left."""
    if abs(camera.forward[2]) > 0.9:
        way = np.array([0.0, 0.0, 1.0]) + 0.3 * camera.up - 0.3 * camera.right
    else:
        level = camera.forward * (1.0, 1.0, 0.0)
        way = np.array([0.0, 0.0, 1.1]) - level / np.linalg.norm(level) - 0.3 * camera.right
    return np.asarray(way / np.linalg.norm(way))


def _by_finish(drawn: Sequence[Item]) -> Iterator[tuple[Finish, Any]]:
    """All items of one finish in one mesh, metres: a dozen things to draw instead of hundreds."""
    for finish in dict.fromkeys(item.finish for item in drawn):
        chosen = [item for item in drawn if item.finish == finish]
        mesh = _joined(chosen)
        mesh.point_data.active_normals = np.concatenate([item.normals for item in chosen])
        if finish.textured:
            uv = np.concatenate([item.surface.uv for item in chosen])
            mesh.active_texture_coordinates = uv / finish.tile
        yield finish, mesh


def _joined(drawn: Sequence[Item]) -> Any:
    points = np.concatenate([item.points for item in drawn]) / METRE
    starts = np.cumsum([0, *(len(item.surface.vertices) for item in drawn)])
    faces = np.concatenate([item.surface.faces + start for item, start in zip(drawn, starts, strict=False)])
    return pv.PolyData.from_regular_faces(points, faces)


def _add(plotter: Any, finish: Finish, mesh: Any) -> None:
    actor = plotter.add_mesh(
        mesh,
        color=finish.linear[:3],
        pbr=True,
        metallic=finish.metallic,
        roughness=max(finish.roughness, SMOOTHEST),
        opacity=finish.opacity,
        smooth_shading=True,
        split_sharp_edges=False,
    )
    actor.prop.SetBaseIOR(SHEEN)
    if finish.textured:
        texture = pv.Texture(pixels(finish.figure, finish.colour, finish.vein))  # type: ignore[no-untyped-call]
        texture.repeat = texture.interpolate = texture.mipmap = True
        texture.SetUseSRGBColorSpace(True)
        actor.prop.SetBaseColorTexture(texture)


def _edges(picture: Picture) -> Any:
    """Every crease as a line, drawn a little nearer to the eye than the faces it lies on."""
    whole = _joined(picture.items).clean()
    lines = whole.extract_feature_edges(CREASE, boundary_edges=False, manifold_edges=False)
    camera = picture.camera
    away = lines.points - camera.eye / METRE
    back = away if camera.half_height is None else np.broadcast_to(4.0 * camera.forward, away.shape)
    lines.points = lines.points - LINE_LIFT * back
    return lines


def _geometry(picture: Picture, size: tuple[int, int]) -> tuple[Floats, Floats]:
    """Distance along the camera's forward (nan where there is nothing) and normals, pixel by pixel."""
    solid = [item for item in picture.items if item.finish.opacity == 1.0]
    mesh = _joined(solid)
    mesh["normals"] = np.concatenate([(item.normals + 1.0) * 127.5 for item in solid]).astype(np.uint8)
    plotter = _plotter(picture.camera, size)
    plotter.add_mesh(mesh, scalars="normals", rgb=True, lighting=False)
    plotter.disable_anti_aliasing()
    plotter.show(auto_close=False)
    depth = -np.asarray(plotter.get_image_depth(), dtype=np.float64)
    normals = _shot(plotter) / 127.5 - 1.0
    length = np.linalg.norm(normals, axis=2)
    return depth, normals / np.maximum(length, 1e-6)[..., None]


def _unprojected(camera: Camera, depth: Floats) -> Floats:
    """Where each pixel's point lies in the room, metres."""
    height, width = depth.shape
    x = ((np.arange(width) + 0.5) / width * 2 - 1)[None, :] * width / height
    y = (1 - (np.arange(height) + 0.5) / height * 2)[:, None] - camera.shift
    if camera.half_height is None:
        half = math.tan(math.radians(camera.angle / 2)) * depth
    else:
        half = np.full(depth.shape, camera.half_height / METRE)
    across = (x * half)[..., None] * camera.right + (y * half)[..., None] * camera.up
    return np.asarray(camera.eye / METRE + across + depth[..., None] * camera.forward)


def _depth_maps(picture: Picture, across: int) -> list[DepthMap]:
    """The scene's depth from every direction of light, each map ``across`` pixels wide. No ceiling shuts it out."""
    mesh = _joined([i for i in picture.items if i.finish.opacity == 1.0 and i.kind != "ceiling"])
    points = np.asarray(mesh.points, dtype=np.float64)
    camera = Camera(np.zeros(3), np.array([0.0, 0.0, -1.0]), np.array([0.0, 1.0, 0.0]), METRE)
    plotter = _plotter(camera, (across, across))
    plotter.add_mesh(mesh, lighting=False)
    plotter.disable_anti_aliasing()
    plotter.show(auto_close=False)
    maps = [_depth_map(plotter, points, way, weight) for way, weight in directions(_sun(picture.camera))]
    plotter.close()
    return maps


def _depth_map(plotter: Any, points: Floats, way: Floats, weight: float) -> DepthMap:
    """Look along the light at the middle of what there is, as near as shows it all."""
    side = np.cross(way, (0.0, 1.0, 0.0) if abs(way[1]) < 0.9 else (1.0, 0.0, 0.0))
    axes = np.column_stack([np.cross(-way, side), side, way]) / (*2 * (np.linalg.norm(side),), 1.0)
    seen = points @ axes
    low, high = seen.min(axis=0), seen.max(axis=0)
    eye, half = axes @ [*(low + high)[:2] / 2, high[2] + 1.0], float((high - low)[:2].max()) / 2 * 1.01
    camera = plotter.camera
    camera.position, camera.focal_point, camera.up, camera.parallel_scale = eye, eye - way, axes[:, 1], half
    plotter.render()
    depth = -np.asarray(plotter.get_image_depth(), dtype=np.float64)
    filled = np.where(np.isfinite(depth), depth, np.inf).astype(np.float32)
    return DepthMap(eye, -way, axes[:, 1], half, filled, weight)
