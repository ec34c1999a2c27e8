"""Carrying a piece in against motion found by brute force.

A piece is laid at every place of a grid, at every heading of a grid, and shapely says whether it lies within the
floor's polygon; neighbouring free places are joined. What is found so agrees with what is worked out but for pieces
that pass or stick by less than the step from one place to the next.
"""

import math

import numpy as np
import pytest
import shapely
from scipy import ndimage
from shapely import Polygon, affinity
from shapely import box as rectangle

from model.carry import margins_by_stage
from tests.model.test_carry import corner

STEP = 30.0
TURN = 3.0


def slack(outline):
    """By how much a margin may be off for the steps of the grid, mm: half a diagonal of both."""
    return STEP * math.sqrt(2) / 2 + shapely.minimum_bounding_radius(outline) * math.radians(TURN) / 2


def within(floor, outlines):
    """Whether each of an array of outlines lies within the floor, touching allowed."""
    shapely.prepare(floor)
    return shapely.covers(floor, outlines)


def carried(floor, start, end, outline):
    """Whether the outline gets from lying within ``start`` to lying within ``end``, all of it on the floor."""
    points = np.asarray(outline.convex_hull.exterior.coords) - np.asarray(outline.centroid.coords)
    x0, y0, x1, y1 = floor.bounds
    places = np.stack(np.meshgrid(np.arange(x0, x1, STEP), np.arange(y0, y1, STEP), indexing="ij"), axis=-1)
    free, begun, ended = [], [], []
    for heading in np.radians(np.arange(0.0, 360.0, TURN)):
        turned = points @ np.array(
            [[math.cos(heading), math.sin(heading)], [-math.sin(heading), math.cos(heading)]]
        )
        inside = within(floor, shapely.points(places))
        laid = np.full(inside.shape, None, dtype=object)
        laid[inside] = shapely.polygons(places[inside][:, None, :] + turned)
        for zone, found in ((floor, free), (start, begun), (end, ended)):
            found.append(np.where(inside, within(zone, laid), False))
    both = [np.concatenate([np.stack(part)] * 2) for part in (free, begun, ended)]
    groups, _ = ndimage.label(both[0], np.ones((3, 3, 3)))
    return bool(set(groups[both[0] & both[1]]) & set(groups[both[0] & both[2]]))


def cone(apex, angle, size):
    """The wedge between where a first corridor comes from and where a second, turned left by ``angle``, goes."""
    back, on = np.array([-1.0, 0.0]), np.array([math.cos(angle), math.sin(angle)])
    return Polygon([apex, apex + size * back, apex + size * (back + on), apex + size * on])


def turned_floor(a, b, degrees, far):
    """The floor of two corridors ``far`` beyond their inner corner, and the first and the second alone."""
    angle = math.radians(degrees)
    inner = np.array([(a * math.cos(angle) - b) / math.sin(angle), a])
    size = far + math.hypot(*inner)
    way = np.array([math.cos(angle), math.sin(angle)])
    side = b * np.array([-way[1], way[0]])
    floor = cone(np.zeros(2), angle, size).difference(cone(inner, angle, 3 * size))
    first = rectangle(-3 * size, 0.0, size, a)
    second = Polygon([-size * way, 3 * size * way, 3 * size * way + side, -size * way + side])
    return [zone.buffer(1e-6) for zone in (floor, floor.intersection(first), floor.intersection(second))]


def mitred(length, depth, left, right):
    return Polygon([(0.0, 0.0), (length, 0.0), (length - right, depth), (left, depth)])


TURNS = [
    ((900.0, 700.0, 90.0), rectangle(0, 0, 1400, 300)),
    ((700.0, 1500.0, 90.0), rectangle(0, 0, 1450, 600)),
    ((800.0, 800.0, 90.0), mitred(1700, 400, 0, 500)),
    ((800.0, 900.0, 60.0), mitred(1900, 500, 400, 300)),
    ((800.0, 700.0, 120.0), mitred(1300, 350, 200, 0)),
    ((800.0, 700.0, 150.0), rectangle(0, 0, 1700, 250)),
]


def turn_margin(bend, outline):
    """What is worked out for the turn, held flat."""
    return margins_by_stage(outline, 1e-6, corner(*bend), hands=0)["the turn to the left (stage 2)"]["flat"]


def drawn_to(bend, outline, margin):
    """The outline made longer or shorter until it has just that margin."""
    low, high = 0.3, 3.0
    for _ in range(20):
        middle = (low + high) / 2
        enough = turn_margin(bend, affinity.scale(outline, middle, 1.0)) >= margin
        low, high = (middle, high) if enough else (low, middle)
    return affinity.scale(outline, low, 1.0)


@pytest.mark.parametrize(("bend", "outline"), TURNS)
@pytest.mark.parametrize("passing", [True, False], ids=["passes", "sticks"])
def test_a_turn_agrees_with_motion_by_brute_force(bend, outline, passing):
    near = drawn_to(bend, outline, slack(outline) if passing else -slack(outline))
    assert turn_margin(bend, near) == pytest.approx(slack(outline) * (1 if passing else -1), abs=1.0)
    assert carried(*turned_floor(*bend, 1.1 * near.length / 2), near) == passing
