"""Shadows: how much of the light from above reaches each point of a picture.

The scene's depth is known from many directions of a sky; a point is lit from a direction if nothing there lies
nearer to the sky. The mean over all directions is soft shade under tops, in the recess of the plinth and in
corners. All lengths here are metres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SKY = 20
"""Directions from the whole sky."""
SUN = 9
"""Directions from a small bright patch of it, which give a shadow its side."""
SUN_SPREAD = 0.13
SUN_WEIGHT = 0.9
"""Light of the bright patch against that of the whole sky."""
LIFT = 0.008
"""Metres by which a point is raised off its face before it is tested, and what may lie above it unnoticed."""

STEPS = (1, 2, 4, 7, 3)
"""Distances in pixels at which neighbours are taken in, pass by pass."""
SAME_NORMAL, SAME_PLANE = 0.03, 0.004
"""Two pixels show one plane if their normals differ by less in each axis, and their planes by less (metres)."""


@dataclass(frozen=True, eq=False)
class DepthMap:
    """Depth of the scene seen along ``forward`` from a plane through ``eye``; a square of twice ``half``.

    ``depth`` (k, k) has its first row at the top; infinite where there is nothing.
    """

    eye: Floats
    forward: Floats
    up: Floats
    half: float
    depth: NDArray[np.float32]
    weight: float

    def lit(self, points: NDArray[np.float32]) -> NDArray[np.bool_]:
        """Which of the points (n, 3) nothing hides from this direction."""
        k = len(self.depth)
        scale = k / (2.0 * self.half)
        axes = np.array([scale * np.cross(self.forward, self.up), -scale * self.up, self.forward])
        start = axes @ self.eye - (k / 2, k / 2, 0.0)
        column, row, away = axes.astype(np.float32) @ points.T - start[:, None].astype(np.float32)
        hidden_from = self.depth[_index(row, k), _index(column, k)] + LIFT
        return np.asarray(away <= hidden_from)


def _index(place: NDArray[np.float32], size: int) -> NDArray[np.int32]:
    return np.clip(place, 0, size - 1).astype(np.int32)


def directions(sun: Floats) -> list[tuple[Floats, float]]:
    """Unit vectors towards the light and their weights; ``sun`` is the way to the bright patch."""
    golden = math.pi * (3.0 - math.sqrt(5.0))
    sky = [_on_dome(math.sqrt((i + 0.5) / SKY) * 0.98, golden * i) for i in range(SKY)]
    patch = [_beside(sun, SUN_SPREAD * math.sqrt((i + 0.5) / SUN), golden * i) for i in range(SUN)]
    return [*((d, 1.0 / SKY) for d in sky), *((d, SUN_WEIGHT / SUN) for d in patch)]


def visibility(points: Floats, normals: Floats, maps: Sequence[DepthMap]) -> Floats:
    """Share (n,) of the light that a face with this normal could get which it does get, 0 to 1."""
    raised, turned = (points + LIFT * normals).astype(np.float32), normals.astype(np.float32)
    got, could = np.zeros(len(points), np.float32), np.full(len(points), 1e-9, np.float32)
    for light in maps:
        facing = np.maximum(turned @ (-light.weight * light.forward).astype(np.float32), 0.0)
        could += facing
        got += facing * light.lit(raised)
    return (got / could).astype(np.float64)


def smoothed(lit: Floats, points: Floats, normals: Floats) -> Floats:
    """The shares (h, w) of a picture, evened out within each plane so that single directions do not show.

    Neighbours at growing distances are taken in where they lie in the pixel's own plane, and left out elsewhere.
    """
    planes = np.concatenate([normals, (points * normals).sum(axis=2, keepdims=True)], axis=2).astype(np.float32)
    tolerance = np.array([SAME_NORMAL] * 3 + [SAME_PLANE], dtype=np.float32)
    result = lit.astype(np.float32)
    for step in STEPS:
        total, count = result.copy(), np.ones_like(result)
        for dy, dx in ((0, step), (step, 0), (step, step), (step, -step)):
            here, there = _pair(dy, dx)
            with np.errstate(invalid="ignore"):
                same = (np.abs(planes[here] - planes[there]) < tolerance).all(axis=2)
            total[here] += same * result[there]
            total[there] += same * result[here]
            count[here] += same
            count[there] += same
        result = total / count
    return result.astype(np.float64)


def _pair(dy: int, dx: int) -> tuple[tuple[slice, slice], tuple[slice, slice]]:
    """Two windows of a picture, the second shifted by ``dy`` ≥ 0 rows and ``dx`` columns."""
    rows = slice(None, -dy or None), slice(dy, None)
    columns = slice(None, -dx or None), slice(dx, None)
    if dx < 0:
        columns = slice(-dx, None), slice(None, dx)
    return (rows[0], columns[0]), (rows[1], columns[1])


def _on_dome(radius: float, turn: float) -> Floats:
    return np.array([radius * math.cos(turn), radius * math.sin(turn), math.sqrt(1.0 - radius**2)])


def _beside(direction: Floats, spread: float, turn: float) -> Floats:
    first = np.cross(direction, (0.0, 0.0, 1.0))
    first /= np.linalg.norm(first)
    second = np.cross(direction, first)
    moved = direction + spread * (math.cos(turn) * first + math.sin(turn) * second)
    return np.asarray(moved / np.linalg.norm(moved))
