"""Rooms by lot with readings as people choose them: 4 to 10 walls, corners of 60 to 150 degrees."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from countersunk.model.adjustment.least_squares import Network
from countersunk.model.adjustment.observations import AcrossCorner, Angle, Distance, Offset, Width

WALL, CORNER, TAPE = 1.5, 0.15, 1.5
"""Standard deviations: mm, degrees, mm."""


def outline(lots, count):
    """(count, 2) mm, clockwise from 0, 0 along x; two walls are what closes it."""
    while True:
        turns = 180.0 - lots.uniform(60.0, 150.0, count)
        turns *= 360.0 / turns.sum()
        angles = 180.0 - turns
        if angles.min() < 60.0 or angles.max() > 150.0:
            continue
        headings = -np.radians(np.concatenate([[0.0], np.cumsum(turns)[:-1]]))
        ways = np.column_stack([np.cos(headings), np.sin(headings)])
        lengths = lots.uniform(800.0, 4500.0, count)
        gap = lengths[:-2] @ ways[:-2]
        lengths[-2:] = np.linalg.solve(ways[-2:].T, -gap)
        if lengths[-2:].min() >= 600.0 and lengths[-2:].max() <= 6000.0:
            return np.vstack([[0.0, 0.0], np.cumsum(lengths[:, None] * ways, axis=0)[:-1]])


def network(lots, count):
    """A room's readings with errors as large as is allowed for, none of them a blunder; and its true outline."""
    true = outline(lots, count)
    at = {(f"P{i}", axis): float(v) for i, p in enumerate(true) for axis, v in zip("xy", p, strict=True)}
    fixed = frozenset({("P0", "x"), ("P0", "y"), ("P1", "y")})
    exact = list(readings(lots, count))
    read = [with_errors(o, at, lots) for o in exact]
    start = {k: v + (0.0 if k in fixed else lots.uniform(-40.0, 40.0)) for k, v in at.items()}
    return Network(start, fixed, tuple(read)), true


def with_errors(observation, at, lots):
    """As it may be read in the true room."""
    true = observation.of(*(at[key] for key in observation.keys))
    return replace(observation, value=float(true) + observation.sigma * lots.normal())


def readings(lots, count):
    """Every wall, most corners, some by the tape, some diagonals, now and then a perpendicular or a width."""
    p = [f"P{i % count}" for i in range(count + 2)]
    for a, b in pairwise(p[: count + 1]):
        yield Distance(a + b, 0.0, WALL, a, b)
    for i in range(count):
        back, corner, on = p[i], p[i + 1], p[i + 2]
        if lots.random() < 0.8:
            yield Angle(corner, 0.0, CORNER, corner, on, back)
        if lots.random() < 0.3:
            yield AcrossCorner(corner, 0.0, TAPE, corner, back, on, (600.0, 800.0))
    for i in range(count - 2):
        yield Distance("across", 0.0, TAPE, p[0], p[i + 2] if i + 2 < count else p[2])
    if lots.random() < 0.5:
        yield Offset("square", 0.0, TAPE, p[2], p[0], p[1])
        yield Width("width", 0.0, TAPE, (p[0], p[1]), (p[count - 1], p[0]), (p[1], p[2]), 580.0)


def misfits(network):
    """The misfits of a network in other words: as a function of its free coordinates, in deviations."""
    free = network.free

    def of(values):
        at = {**network.start, **dict(zip(free, values, strict=True))}
        z = {name: complex(at[name, "x"], at[name, "y"]) for name, axis in at if axis == "x"}
        return np.array([(o.value - read(o, z)) / o.sigma for o in network.observations])

    return of


def read(o, z):
    """What is read where points are complex numbers."""
    if isinstance(o, Distance):
        return abs(z[o.a] - z[o.b])
    if isinstance(o, Angle):
        turn = (z[o.left] - z[o.corner]) / (z[o.right] - z[o.corner])
        return math.degrees(math.atan2(turn.imag, turn.real)) % 360.0
    if isinstance(o, AcrossCorner):
        u, v = (z[o.a] - z[o.corner]), (z[o.b] - z[o.corner])
        return abs(o.legs[0] * u / abs(u) - o.legs[1] * v / abs(v))
    if isinstance(o, Offset):
        along = (z[o.point] - z[o.a]) / (z[o.b] - z[o.a])
        return -along.imag * abs(z[o.b] - z[o.a])
    return _width(o, z)


def _width(o, z):
    """Both lines in the frame of the base, where what is sought is at one height."""
    a, b = (z[name] for name in o.base)
    unit = (b - a) / abs(b - a)

    def at(line):
        p, q = ((z[name] - a) / unit for name in line)
        return p.real + (q.real - p.real) * (-o.out - p.imag) / (q.imag - p.imag)

    return at(o.right) - at(o.left)
