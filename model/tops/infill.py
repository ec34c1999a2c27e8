"""Infill: the triangle of worktop before a diagonal corner unit, which no length of top can cover.

It is made to measure from the worktop's material and joined to the front edges of both tops, which must be square.
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely import LineString, Polygon, union_all
from shapely.affinity import translate

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tops.joins import STRIP_WEB
from countersunk.model.tops.worktops import Length

BESIDE = 60.0
"""How far beyond its unit the edge of an infill may run out on the tops beside, mm; it has no other meaning."""


def infills(
    runs: Sequence[PlacedRun], lengths: Sequence[Length], strips: Sequence[Part], overhang: float
) -> list[Part]:
    """One for each diagonal corner unit under a top, clear of the joint strips; ``overhang`` is that of the fronts,
    mm. Raises InputError.
    """
    units = [(run, unit) for run in runs for unit in run.units if unit.family.carries_top]
    return [_infill(r, u, lengths, strips, overhang) for r, u in units if u.family.kind.front == "diagonal"]


def _infill(
    run: PlacedRun, unit: PlacedUnit, lengths: Sequence[Length], strips: Sequence[Part], overhang: float
) -> Part:
    if run.stock.nose:
        raise InputError.at(
            f"{unit.field}.unit",
            found=f"{unit.family.name} under {run.stock.name}",
            allowed="a worktop with square edges, since an infill is joined to its front",
            advice="another worktop.stock, or an L-shaped corner unit",
        )
    plans = [
        part.pose.plan_to_room(Polygon(part.outline.exterior)) for part in (*(t.part for t in lengths), *strips)
    ]
    bare = _behind(unit, overhang).difference(unit.frame.plan_from_room(union_all(plans)))
    # Narrow rests beside a joint strip are none of it, and where it was too narrow it is not made wider.
    wide = bare.buffer(-STRIP_WEB, join_style="mitre").buffer(STRIP_WEB, join_style="mitre")
    rest = wide.intersection(bare)
    middle = LineString(unit.turned(Polygon([*unit.plan_size.bevel(0.0), (0.0, 0.0)])).exterior.coords[:2]).centroid
    plan = one_polygon(least(getattr(rest, "geoms", [rest]), key=middle.distance))
    x, y, *_ = plan.bounds
    return Part(
        key=PartKey(unit.key, Role.INFILL), called=unit.name, layer=Layer.WORKTOPS,
        material=f"infill.{run.stock.thickness:g}",
        outline=translate(plan, -x, -y), thickness=run.stock.thickness, grain=True,
        pose=unit.frame.moved(x, y, unit.family.top),
    )  # fmt: skip


def _behind(unit: PlacedUnit, overhang: float) -> Polygon:
    """The plan behind the edge of the infill, which stands ``overhang`` before the diagonal front, mm."""
    (x0, y0), (x1, y1) = unit.plan_size.bevel(overhang)
    rise = (y1 - y0) / (x1 - x0)
    ends = [(x0 - BESIDE, y0 - BESIDE * rise), (x1 + BESIDE / rise, y1 + BESIDE)]
    return unit.turned(Polygon([*ends, (unit.width, y1 + BESIDE), (unit.width, 0.0), (x0 - BESIDE, 0.0)]))
