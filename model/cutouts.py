"""Cut-outs: what is let into a worktop, where its line runs, and the bodies of sink and hob.

Frame of a cut-out: origin in the middle of its line on the top's decor face; x and y as those of the length
that it is cut from, z up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import translate

from model.catalogue import Catalogue, Template
from model.document import Cutout, Document
from model.edges import ring
from model.errors import InputError
from model.frames import Pose
from model.layout import PlacedUnit
from model.part import EdgeCondition, Layer, Part
from model.profile import one_polygon, rounded_rectangle
from model.tolerance import CONTACT
from model.worktops import Length

SHEET = 2.0
"""Thickness of a sink's steel as it is modelled, mm."""

BOWL_FRONT = 20.0
"""From the front of a sink's line to its bowl, mm."""


@dataclass(frozen=True)
class PlacedCutout:
    """A cut-out in its place. ``line`` and ``rim`` are in the frame of the length's part (mm)."""

    id: str
    name: str
    template: Template
    length: str
    unit: PlacedUnit
    line: Polygon
    rim: Polygon
    frame: Pose
    field: str

    @cached_property
    def line_in_room(self) -> Polygon:
        """The line to cut, in the room's plan."""
        return self.frame.plan_to_room(rounded_rectangle(*self.template.line, self.template.radius))

    @cached_property
    def rim_in_room(self) -> Polygon:
        """What the rim covers, in the room's plan."""
        w, d = self.template.rim
        return self.frame.plan_to_room(rectangle(-w / 2, -d / 2, w / 2, d / 2))


def let_in(
    document: Document, lengths: Sequence[Length], catalogue: Catalogue, taken: Iterable[str]
) -> tuple[list[Length], list[PlacedCutout]]:
    """Cut every sink and hob out of the lengths; ``taken`` are the names that units have.

    Raises InputError where one does not fit its length.
    """
    cut, placed = {length.id: length for length in lengths}, []
    names = {*cut, *taken}
    for i, wish in enumerate(document.cutouts):
        field = f"cutouts[{i}]"
        name = _name(wish, i, document, catalogue, names)
        found = _place(wish, field, name, list(cut.values()), catalogue)
        names.add(name)
        cut[found.length] = _cut(cut[found.length], found)
        placed.append(found)
    return list(cut.values()), placed


def bodies(cutout: PlacedCutout) -> list[Part]:
    """Sink or hob as it is bought, in simple solids that fit through the line."""
    return _sink(cutout) if cutout.template.kind == "sink" else _hob(cutout)


def _name(wish: Cutout, index: int, document: Document, catalogue: Catalogue, taken: set[str]) -> str:
    """The given name, or the kind with a number where there are several."""
    known = catalogue.templates
    if wish.template not in known:
        raise InputError.unknown(f"cutouts[{index}].template", wish.template, known)
    kind = known[wish.template].kind
    before = sum(known[c.template].kind == kind for c in document.cutouts[:index])
    name = wish.name or (f"{kind}{before + 1}" if before else kind)
    if name in taken:
        found = f"'{name}', a name already given"
        raise InputError.at(f"cutouts[{index}].name", found=found, allowed="a name of its own", advice=f"'{name}x'")
    return name


def _place(wish: Cutout, field: str, name: str, lengths: list[Length], catalogue: Catalogue) -> PlacedCutout:
    template = catalogue.templates[wish.template]
    over = {unit.name: (length, unit) for length in lengths for unit in length.stretch.units}
    if wish.over not in over:
        raise InputError.unknown(f"{field}.over", wish.over, over, "a unit under a top")
    length, unit = over[wish.over]
    from_front = template.from_front if wish.from_front is None else wish.from_front
    x = unit.x + unit.width / 2 + wish.shift - length.x
    y = length.run.stock.depth - from_front - template.line[1] / 2
    placed = PlacedCutout(
        id=f"{length.id}/{name}",
        name=name,
        template=template,
        length=length.id,
        unit=unit,
        line=translate(rounded_rectangle(*template.line, template.radius), x, y),
        rim=translate(rectangle(*_about(template.rim)), x, y),
        frame=length.part.pose.moved(x, y, length.part.thickness),
        field=field,
    )
    _check_inside(placed, length)
    return placed


def _about(size: tuple[float, float]) -> tuple[float, float, float, float]:
    return (-size[0] / 2, -size[1] / 2, size[0] / 2, size[1] / 2)


def _check_inside(cutout: PlacedCutout, length: Length) -> None:
    if length.part.outline.buffer(-CONTACT).contains(cutout.line):
        return
    solid = Polygon(length.part.outline.exterior)
    what = "an edge or a join" if not solid.contains(cutout.line) else "another cut-out"
    raise InputError.at(
        f"{cutout.field}.shift",
        found=f"a line to cut that crosses {what} of {length.id}",
        allowed=f"a line wholly inside {length.id} ({length.part.length:.0f} x {length.part.depth:.0f})",
        advice="move it, put it over another unit, or choose a smaller one",
    )


def _cut(length: Length, cutout: PlacedCutout) -> Length:
    heat = cutout.template.kind == "hob"
    condition = EdgeCondition.CUTOUT_HEAT if heat else EdgeCondition.CUTOUT
    outline = one_polygon(length.part.outline.difference(cutout.line))
    edges = (*length.part.edges, ring(f"{cutout.id}.edge", cutout.line, condition))
    return replace(length, part=replace(length.part, outline=outline, edges=edges))


def _piece(cutout: PlacedCutout, mark: str, outline: Polygon, z0: float, z1: float, material: str) -> Part:
    return Part(
        id=f"{cutout.name}.{mark}",
        kind=cutout.template.kind,
        layer=Layer.APPLIANCES,
        material=material,
        outline=outline,
        thickness=z1 - z0,
        pose=cutout.frame.moved(z=z0),
        owner=cutout.name,
    )


def _disc(x: float, y: float, diameter: float) -> Polygon:
    turns = [2 * math.pi * i / 32 for i in range(32)]
    return Polygon([(x + diameter / 2 * math.cos(t), y + diameter / 2 * math.sin(t)) for t in turns])


def _hob(cutout: PlacedCutout) -> list[Part]:
    t = cutout.template
    body = rectangle(*_about((t.line[0] - 6.0, t.line[1] - 6.0)))
    zones = [
        _piece(cutout, f"zone.{i}", _disc(*zone), t.rim_height, t.rim_height + 0.6, f"zone.{t.fuel}")
        for i, zone in enumerate(t.zones, start=1)
    ]
    glass = _piece(cutout, "glass", rectangle(*_about(t.rim)), 0.0, t.rim_height, t.code)
    return [glass, _piece(cutout, "body", body, -t.depth, 0.0, t.code), *zones]


def _sink(cutout: PlacedCutout) -> list[Part]:
    """A steel rim, a bowl of four walls and a base below it, and a tap behind the bowl."""
    t = cutout.template
    outer = _bowl(t)
    inner = one_polygon(outer.buffer(-SHEET, join_style="mitre"))
    plate = one_polygon(rectangle(*_about(t.rim)).difference(inner))
    parts = [
        _piece(cutout, "rim", plate, 0.0, t.rim_height, t.code),
        _piece(cutout, "bowl", one_polygon(outer.difference(inner)), SHEET - t.depth, 0.0, t.code),
        _piece(cutout, "base", outer, -t.depth, SHEET - t.depth, t.code),
    ]
    return [*parts, *_tap(cutout)] if t.tap else parts


def _bowl(t: Template) -> Polygon:
    """The bowl's outside: near the front, to the left where the template has a drainer."""
    width, depth = t.bowl or (t.line[0] - 2 * BOWL_FRONT, t.line[1] - 2 * BOWL_FRONT)
    shape = rounded_rectangle(width, depth, min(40.0, width / 4, depth / 4))
    left = -t.line[0] / 2 + width / 2 + BOWL_FRONT if t.line[0] > 1.5 * width else 0.0
    return translate(shape, left, t.line[1] / 2 - depth / 2 - BOWL_FRONT)


def _tap(cutout: PlacedCutout) -> list[Part]:
    t = cutout.template
    x, y = _bowl(t).centroid.x, -t.line[1] / 2 + 30.0
    spout = rectangle(x - 10.0, y, x + 10.0, y + 190.0)
    return [
        _piece(cutout, "tap.post", _disc(x, y, 32.0), t.rim_height, 280.0, "tap"),
        _piece(cutout, "tap.spout", spout, 280.0, 296.0, "tap"),
    ]
