"""Carrying a piece in against motion found by brute force.

A piece is laid at every place of a grid, at every heading of a grid, and shapely says whether it lies within the
floor's polygon; neighbouring free places are joined. A piece that has the step of the grid to spare on every side
must pass so; one that sticks even where walls stand back by that step must stick.
"""

import math

import numpy as np
import pytest
import shapely
from scipy import ndimage
from shapely import Polygon, affinity
from shapely import box as rectangle

from countersunk.model.carry import each_way
from countersunk.model.document.allowances import Allowances
from tests.lanes import some
from tests.model.test_carry import corner, corridor, door, stages, turn

STEP = 50.0
TURN = 4.0


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
    period = 180.0 if outline.equals(outline.envelope) else 360.0
    for heading in np.radians(np.arange(0.0, period, TURN)):
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


def drawn_by_lot(seed):
    """A turn and a piece with mitred ends."""
    lot = np.random.default_rng(seed)
    a, b, angle = lot.uniform(650, 950), lot.uniform(650, 950), lot.uniform(50, 130)
    depth = lot.uniform(150, 450)
    return (a, b, angle), mitred(1600, depth, *lot.uniform(0, 1, 2) * depth)


TURNS = [
    ((900.0, 700.0, 90.0), rectangle(0, 0, 1400, 300)),
    ((700.0, 1500.0, 90.0), rectangle(0, 0, 1450, 600)),
    ((800.0, 700.0, 150.0), rectangle(0, 0, 1700, 250)),
    *(drawn_by_lot(seed) for seed in range(4)),
]


def flat(outline, way, hands):
    """Whether it comes in held flat."""
    return {found.way: found.ok for found in each_way(outline, 1.0, way, Allowances(hand_room=hands))}["flat"]


def drawn_out(outline, fits):
    """The outline made as long as ``fits``."""
    low, high = 0.1, 4.0
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(affinity.scale(outline, middle, 1.0)) else (low, middle)
    return affinity.scale(outline, low, 1.0)


@pytest.mark.parametrize(("bend", "outline"), some(TURNS, 7))
def test_what_passes_a_turn_by_the_step_of_the_grid_passes_by_brute_force(bend, outline):
    near = drawn_out(outline, lambda o: flat(o, corner(*bend), slack(o)))
    assert carried(*turned_floor(*bend, 1.2 * near.length / 2), near)


@pytest.mark.slow
@pytest.mark.parametrize(("bend", "outline"), some(TURNS, 7))
def test_what_sticks_by_the_step_of_the_grid_sticks_by_brute_force(bend, outline):
    a, b, angle = bend
    near = drawn_out(outline, lambda o: flat(o, corner(a + 2 * slack(o), b + 2 * slack(o), angle), 0.0))
    assert not carried(*turned_floor(*bend, 1.2 * near.length / 2), affinity.scale(near, 1.01, 1.0))


def floor_of(*rooms):
    """Rooms as one floor, and the first and the last alone."""
    return [zone.buffer(1e-6) for zone in (shapely.union_all(rooms), rooms[0], rooms[-1])]


FAR = 2_300.0
SIDE_DOOR = (
    stages(corridor(1000), turn(), door(900, wall=100)),
    floor_of(rectangle(-FAR, 0, 900, 1000), rectangle(0, 900, 900, 1200), rectangle(0, 1100, 900, 1100 + FAR)),
)
AT_A_SLANT = (
    stages(corridor(1000), turn(), door(900, wall=50, beyond=2600)),
    floor_of(rectangle(-FAR, 0, 900, 1000), rectangle(0, 900, 900, 1100), rectangle(0, 1050, 3500, 2000)),
)
IN_AT_A_SLANT = (
    stages(door(900, wall=50, beyond=2600), turn("left"), corridor(1000)),
    floor_of(rectangle(-3500, 1050, 0, 2000), rectangle(-900, 900, 0, 1100), rectangle(-900, 0, FAR, 1000)),
)
SHORT_HALL = (
    stages(door(800, wall=100), corridor(1300, length=1400), turn(), corridor(900)),
    floor_of(
        rectangle(-FAR, -500, -100, 2000), rectangle(-200, 250, 200, 1050), rectangle(0, 0, 1400, 1300),
        rectangle(500, 0, 1400, FAR),
    ),
)  # fmt: skip
ROUND_AND_BACK = (
    stages(corridor(900), turn(), corridor(1000, length=2600), turn(), corridor(900)),
    floor_of(rectangle(-FAR, 0, 1000, 900), rectangle(0, 0, 1000, 2600), rectangle(-FAR, 1700, 1000, 2600)),
)
LEFT_AND_RIGHT = (
    stages(corridor(900), turn(), corridor(1000, length=2000), turn("right"), corridor(900)),
    floor_of(rectangle(-FAR, 0, 1000, 900), rectangle(0, 0, 1000, 2000), rectangle(0, 1100, FAR, 2000)),
)
WAYS = {
    "door in the side": SIDE_DOOR, "at a slant": AT_A_SLANT, "in at a slant": IN_AT_A_SLANT,
    "short hall": SHORT_HALL, "round and back": ROUND_AND_BACK, "left and right": LEFT_AND_RIGHT,
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", some(list(WAYS), 3))
def test_what_comes_in_by_the_step_of_the_grid_comes_in_by_brute_force(name):
    way, floor = WAYS[name]
    outline = rectangle(0, 0, 1800, 100)
    near = drawn_out(outline, lambda o: flat(o, way, slack(o)))
    assert carried(*floor, near)
