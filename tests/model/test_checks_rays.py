"""Free widths of random kitchens against rays: hundreds of straight lines across the floor from every front."""

import math
from itertools import pairwise

import numpy as np
from hypothesis import HealthCheck, given, settings
from shapely.geometry.polygon import orient

from countersunk.model.checks.registry import MEASURES
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.facts.plans import HEAD, top_plan, unit_plan
from countersunk.model.kitchen import build
from tests.lanes import tries
from tests.strategies import kitchens

RAYS = 400


def outlines(built):
    """What each run, wall and obstacle turns to the floor, as closed or open lines with the floor to the right."""
    found = [(f"wall {w.name}", [w.start, w.end]) for w in built.survey.walls]
    plans = [(t.run.name, top_plan(t)) for t in built.lengths]
    plans += [(o.name, o.plan) for o in built.survey.obstacles if o.bottom < HEAD]
    for run in (r for r in built.runs if r.level == "floor"):
        plans += [(run.name, unit_plan(u)) for u in run.units if not u.family.carries_top]
    return found + [(owner, list(orient(plan).exterior.coords)) for owner, plan in plans]


def edges(built, own):
    """(n, 2, 2) float: every edge of what is not ``own``."""
    lines = [line for owner, line in outlines(built) if owner != own]
    found = [(a, b) for line in lines for a, b in pairwise(line) if math.dist(a, b) > 1e-6]
    return np.array(found).reshape(-1, 2, 2)


def shortest_ray(lines, start, end):
    """The shortest of `RAYS` straight out to the right of ``start`` to ``end``, that ends on one of ``lines`` which
    looks back within 60°; infinite where none does.
    """
    along = np.subtract(end, start) / math.dist(start, end)
    out = np.array([along[1], -along[0]])
    ways = lines[:, 1] - lines[:, 0]
    looks = np.stack([ways[:, 1], -ways[:, 0]], axis=1) / np.linalg.norm(ways, axis=1, keepdims=True)
    facing = lines[looks @ out <= -0.5 - 1e-6] - np.array(start)
    (x0, x1), (y0, y1) = (facing @ along).T.reshape(2, -1), (facing @ out).T.reshape(2, -1)
    rays = np.linspace(0.0, math.dist(start, end), RAYS + 2)[1:-1, None]
    shares = (rays - x0) / np.where(x1 == x0, np.inf, x1 - x0)
    depths = np.where((shares > 0) & (shares < 1), y0 + (y1 - y0) * shares, np.inf)
    return float(np.min(np.where(depths > -1e-6, depths, np.inf), initial=np.inf))


def fronts(built):
    """The run and both ends of every edge that somebody works before, with the floor to its right."""
    for run in (r for r in built.runs if r.level == "floor"):
        for unit in run.units:
            if unit.family.construction not in ("filler", "panel") and not unit.wing:
                y = run.stock.depth if unit.family.carries_top else run.stand_off + unit.face
                x0, x1 = (unit.x + x for x in unit.opening)
                yield run.name, *(run.frame.to_room((x, y, 0.0))[:2] for x in (x0, x1))


@settings(max_examples=tries(80), deadline=None, suppress_health_check=list(HealthCheck))
@given(kitchens())
def test_the_narrowest_aisle_is_the_shortest_ray(data):
    """A ray between two of them may be shorter than either by as much as the edge, at 60° at most, falls off."""
    try:
        built = build(Document.model_validate(data))
    except InputError:
        return
    aisles = [p.value for p in MEASURES["walkways.aisle"].take(built) if p.value is not None]
    rays = [(shortest_ray(edges(built, own), a, b), math.dist(a, b)) for own, a, b in fronts(built)]
    shortest, wide = min(rays, default=(math.inf, 0.0))
    if math.isinf(shortest):
        assert not [width for width in aisles if width > wide / RAYS]
        return
    assert shortest - math.sqrt(3) * max(w for _, w in rays) / RAYS <= min(aisles) <= shortest + 1e-6
