"""Cut-outs: what is let into a worktop, where its line runs, and the bodies of sinks, hobs, taps and fittings.

Frame of a cut-out: origin in the middle of its line on the top's decor face; x and y as those of the length
that it is cut from, z up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import count
from typing import Literal

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import translate

from countersunk.model.catalogue.catalogue import Catalogue, CutoutKind, Template
from countersunk.model.document.schema import Cutout, Document
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Component, PartKey, Role, Which
from countersunk.model.geometry.part import EdgeCondition, Layer, Part, Pocket
from countersunk.model.geometry.profile import one_polygon, rounded, rounded_rectangle
from countersunk.model.layout.placed import called
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.edges import ring
from countersunk.model.tops.plain_cutouts import template_of
from countersunk.model.tops.worktops import Length

DrainerSide = Literal["left", "right"]

SHEET = 2.0
"""Thickness of a sink's steel as it is modelled, mm."""

BOWL_FRONT = 20.0
"""From the front of a sink's line to its bowl, mm."""

DRAINER = 1.5
"""A line so many times as wide as its bowl has a drainer beside it."""

FLUSH_GAP = 1.0
"""Between a rim that lies flush and the top round it, filled with silicone, mm (common practice, no source)."""

LEAST_LEDGE = 5.0
"""What must stay below a rim that lies flush, mm (common practice, no source)."""

GROOVES = (5, 380.0, 8.0, 5.0, 40.0)
"""Grooves that drain into a sink: how many, how long, wide and deep, and how far apart, mm (common practice, no
source). They fall towards the sink; here they are as deep all along as at their deepest."""

LEAST_UNDER_GROOVES = 10.0
"""What must stay of a top below grooves, mm (common practice, no source)."""

BESIDE_GROOVES = 25.0
"""What must stay of a top beside grooves, mm (common practice, no source)."""

SLOT = 100.0
"""Width of the slot in the middle of a hob that draws off what rises from it, mm (common practice, no source)."""

FROM_FRONT = 60.0
"""From the top's front edge to a line whose place nobody gives, mm (common practice, no source)."""


@dataclass(frozen=True)
class PlacedCutout:
    """A cut-out in its place. ``key`` lasts. ``line`` and ``rim`` are in the frame of the length's part (mm).

    ``own`` says that it is let in for what the customer has, which is not ordered. ``drainer`` is the side of the
    drainer of a sink, as one faces it.
    """

    key: str
    id: str
    name: str
    template: Template
    length: str
    unit: PlacedUnit
    thickness: float
    line: Polygon
    rim: Polygon
    frame: Pose
    field: str
    own: bool = False
    drainer: DrainerSide = "right"
    grooves: bool = False

    @cached_property
    def ledge(self) -> Polygon:
        """What a rim that lies flush is let into, in the frame of the length's part (mm)."""
        return one_polygon(self.rim.buffer(FLUSH_GAP, join_style="mitre"))

    @cached_property
    def grooved(self) -> tuple[Polygon, ...]:
        """The grooves that drain into it, in the frame of the length's part (mm)."""
        if not self.grooves:
            return ()
        number, long, wide, _, apart = GROOVES
        x0, y0, x1, y1 = self.line.bounds
        low, high = (x0 - long, x0 + 1.0) if self.drainer == "left" else (x1 - 1.0, x1 + long)
        first = (y0 + y1) / 2 - (number - 1) / 2 * apart
        rows = (first + i * apart for i in range(number))
        return tuple(rectangle(low, y - wide / 2, high, y + wide / 2) for y in rows)

    @cached_property
    def line_in_room(self) -> Polygon:
        """The line to cut, in the room's plan."""
        return self.frame.plan_to_room(shape_of(self.template))

    @cached_property
    def hung_in_room(self) -> Polygon:
        """What of the line has something hanging down through it, in the room's plan: of a sink with a drainer, the
        line round its bowl, since the drainer is thinner than the top.
        """
        if not has_drainer(self.template):
            return self.line_in_room
        x0, _, x1, _ = _bowl(self.template, self.drainer).bounds
        round_bowl = rectangle(x0 - BOWL_FRONT, -self.template.line[1], x1 + BOWL_FRONT, self.template.line[1])
        return one_polygon(self.line_in_room.intersection(self.frame.plan_to_room(round_bowl)))

    @cached_property
    def rim_in_room(self) -> Polygon:
        """What the rim covers, in the room's plan."""
        return self.frame.plan_to_room(_rim(self.template))


def let_in(
    document: Document, lengths: Sequence[Length], catalogue: Catalogue, units: Sequence[PlacedUnit]
) -> tuple[list[Length], list[PlacedCutout]]:
    """Cut every sink and hob out of the lengths; ``units`` are all of the kitchen.

    Raises InputError where one does not fit its length.
    """
    cut, placed = {length.id: length for length in lengths}, []
    names = {*cut, *(unit.name for unit in units)}
    over = {unit.key: unit for length in lengths for unit in length.stretch.units}
    for i, wish in enumerate(document.cutouts):
        field = f"cutouts[{i}]"
        if wish.over not in over:
            known = [unit.name for unit in over.values()]
            raise InputError.unknown(f"{field}.over", called(wish.over, units), known, "a unit under a top")
        template = template_of(wish, field, catalogue, over[wish.over])
        name = _name(template, wish, field, names)
        found = _place(wish, field, name, template, over, list(cut.values()))
        names.add(name)
        cut[found.length] = _cut(cut[found.length], found)
        placed.append(found)
    return list(cut.values()), placed


def bodies(cutout: PlacedCutout) -> list[Part]:
    """What is let in as it is bought, in simple solids that fit through the line."""
    return BODIES[cutout.template.kind](cutout)


def _name(template: Template, wish: Cutout, field: str, taken: set[str]) -> str:
    """The given name, or the kind with a number where there are several."""
    numbered = (template.kind if i == 1 else f"{template.kind}{i}" for i in count(1))
    name = wish.name or next(name for name in numbered if name not in taken)
    if name in taken:
        found = f"'{name}', a name already given"
        raise InputError.at(f"{field}.name", found=found, allowed="a name of its own", advice=f"'{name}x'")
    return name


def _place(
    wish: Cutout, field: str, name: str, template: Template, over: Mapping[str, PlacedUnit], lengths: list[Length]
) -> PlacedCutout:
    unit = over[wish.over]
    length = _under(unit, wish.shift, lengths)
    x = unit.x + unit.width / 2 + (wish.shift or _bowl_shift(template, unit, wish.drainer)) - length.x
    y = _middle(wish, template, length, field)
    placed = PlacedCutout(
        key=wish.key,
        id=f"{length.id}/{name}",
        name=name,
        template=template,
        length=length.id,
        unit=unit,
        thickness=length.part.thickness,
        line=translate(shape_of(template), x, y),
        rim=translate(_rim(template), x, y),
        frame=length.part.pose.moved(x, y, length.part.thickness),
        field=field,
        own=wish.template is None and wish.article is None,
        drainer=wish.drainer,
        grooves=wish.grooves,
    )
    _check_inside(placed, length)
    _check_core(placed, length)
    _check_let_in(placed, length)
    _check_grooves(placed, length)
    return placed


def corners_of(t: Template) -> Polygon:
    """The outline of a template's line about its middle before its corners are rounded, y to the front, mm."""
    w, d = t.line
    return Polygon([(x - w / 2, d / 2 - y) for x, y in t.outline]) if t.outline else rectangle(*_about(t.line))


def shape_of(t: Template) -> Polygon:
    """The line to cut of a template about its middle, mm."""
    return one_polygon(rounded(corners_of(t), t.radius)) if t.outline else rounded_rectangle(*t.line, t.radius)


def has_drainer(t: Template) -> bool:
    """Whether a sink is so much wider than its bowl that it has a drainer beside it."""
    return t.kind == "sink" and t.bowl is not None and t.line[0] > DRAINER * t.bowl[0]


def _bowl_shift(t: Template, unit: PlacedUnit, drainer: DrainerSide) -> float:
    """How far a sink with a drainer is moved to the right so that its bowl hangs in the middle of a unit that its
    line is wider than inside, mm; 0 for every other.
    """
    inside = unit.width - 2 * unit.boards.carcass.thickness
    return -float(_bowl(t, drainer).centroid.x) if has_drainer(t) and t.line[0] > inside else 0.0


def _under(unit: PlacedUnit, shift: float, lengths: list[Length]) -> Length:
    """The length of the unit's run over its shifted middle; the unit's own where none is there."""
    own = next(length for length in lengths if unit in length.stretch.units)
    middle = unit.x + unit.width / 2 + shift
    same_run = (length for length in lengths if length.run is own.run)
    return next((t for t in same_run if t.x - CONTACT <= middle <= t.x + t.part.length + CONTACT), own)


def _middle(wish: Cutout, template: Template, length: Length, field: str) -> float:
    """How far the middle of the line lies from the top's back edge, mm."""
    if wish.from_front is not None and wish.from_back is not None:
        raise InputError.at(
            f"{field}.from_back", found="from_front too", allowed="one of them", advice="leave one out"
        )
    front, back = wish.from_front, wish.from_back
    if front is None and back is None:
        front, back = template.from_front, template.from_back
    if front is None and back is not None:
        return back + template.line[1] / 2
    return length.run.stock.depth - (FROM_FRONT if front is None else front) - template.line[1] / 2


def _rim(t: Template) -> Polygon:
    """What covers the line, about its middle: round over a round hole, over an outline of its own all
    round that.
    """
    if t.outline:
        past = min(t.rim[0] - t.line[0], t.rim[1] - t.line[1]) / 2
        return one_polygon(shape_of(t).buffer(past, join_style="mitre"))
    return rounded_rectangle(*t.rim, min(t.rim) / 2) if t.diameter else rectangle(*_about(t.rim))


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


def _check_core(cutout: PlacedCutout, length: Length) -> None:
    """A sink under the top leaves the line bare, which only stock that stands water may be (common practice)."""
    stock = length.run.stock
    if cutout.template.mount == "under" and not stock.material.wet:
        raise InputError.at(
            f"{cutout.field}.template",
            found=f"'{cutout.template.code}', which leaves the core of {stock.code} bare to water",
            allowed="under a top whose cut edge stands water, as of compact or solid stock",
            advice="an inset sink, whose rim covers the line, or another stock",
        )


def _check_let_in(cutout: PlacedCutout, length: Length) -> None:
    """A rim lies flush only in what may be milled and stands water there, and inside the top all round."""
    template, stock = cutout.template, length.run.stock
    if template.mount != "flush":
        return
    field = f"{cutout.field}.mount"
    if not stock.material.lets_in:
        allowed = "in a top that a rim may be let into, as of stone, solid surface or compact laminate"
        raise InputError.at(field, found=f"flush in {stock.code}", allowed=allowed, advice="leave it out")
    if not 0.0 < template.rim_height <= stock.thickness - LEAST_LEDGE:
        found = f"flush for a rim {template.rim_height:g} high in a top {stock.thickness:g} thick"
        raise InputError.at(field, found=found, allowed=f"a rim of more than 0, with {LEAST_LEDGE:g} left below it")
    if not length.part.outline.buffer(-CONTACT).contains(cutout.ledge.exterior):
        found = f"a rim that lies flush and crosses an edge, a join or another cut-out of {length.id}"
        raise InputError.at(field, found=found, allowed=f"a rim wholly inside {length.id}", advice="move it")


def _check_grooves(cutout: PlacedCutout, length: Length) -> None:
    """Grooves go into stone and solid surface beside a sink whose line is bare, and stay inside the top."""
    field, stock = f"{cutout.field}.grooves", length.run.stock
    if not cutout.grooves:
        return
    if cutout.template.kind != "sink" or cutout.template.mount == "inset":
        found = f"grooves beside {cutout.template.name}"
        raise InputError.at(field, found=found, allowed="beside a sink under the top, or flush in it")
    least = GROOVES[3] + LEAST_UNDER_GROOVES
    if not (stock.made_by and stock.material.grooved) or stock.thickness < least:
        found, allowed = (
            f"grooves in {stock.code}",
            f"in stone or solid surface from a slab, {least:g} thick or more",
        )
        raise InputError.at(field, found=found, allowed=allowed)
    left = length.part.outline.difference(cutout.line.buffer(CONTACT))
    for groove in cutout.grooved:
        room = groove.buffer(BESIDE_GROOVES, join_style="mitre").difference(
            cutout.line.buffer(BESIDE_GROOVES + 2.0)
        )
        if not left.buffer(CONTACT).covers(room):
            found = f"grooves {GROOVES[1]:g} long that come to an edge or another cut-out of {length.id}"
            allowed = f"{BESIDE_GROOVES:g} of top all round them"
            raise InputError.at(field, found=found, allowed=allowed, advice="the other side, or move the sink")


def _cut(length: Length, cutout: PlacedCutout) -> Length:
    heat = cutout.template.kind == "hob"
    condition = EdgeCondition.CUTOUT_HEAT if heat else EdgeCondition.CUTOUT
    part, thick = length.part, length.part.thickness
    outline = one_polygon(part.outline.difference(cutout.line))
    edges = (*part.edges, ring(cutout.key, cutout.id, cutout.line, condition))
    milled = [Pocket(groove, thick - GROOVES[3], thick + 1.0) for groove in cutout.grooved]
    if cutout.template.mount == "flush":
        milled.append(Pocket(cutout.ledge, thick - cutout.template.rim_height, thick + 1.0))
    return replace(length, part=replace(part, outline=outline, edges=edges, pockets=(*part.pockets, *milled)))


def _piece(
    cutout: PlacedCutout, what: Component, outline: Polygon, z0: float, z1: float, material: str, *number: int
) -> Part:
    return Part(
        key=PartKey(cutout.key, Role(cutout.template.kind), Which(component=what, numbers=number)),
        called=cutout.name,
        layer=Layer.APPLIANCES,
        material=material,
        outline=outline,
        thickness=z1 - z0,
        pose=cutout.frame.moved(z=z0),
    )


def _disc(x: float, y: float, diameter: float) -> Polygon:
    turns = [2 * math.pi * i / 32 for i in range(32)]
    return Polygon([(x + diameter / 2 * math.cos(t), y + diameter / 2 * math.sin(t)) for t in turns])


def _hob(cutout: PlacedCutout) -> list[Part]:
    t = cutout.template
    body = rounded_rectangle(t.line[0] - 6.0, t.line[1] - 6.0, max(0.0, t.radius - 3.0))
    low, high = _rim_heights(t)
    zones = [
        _piece(cutout, Component.ZONE, _disc(*zone), high, high + 0.6, f"zone.{t.fuel}", i)
        for i, zone in enumerate(t.zones, start=1)
    ]
    glass = _piece(cutout, Component.GLASS, rectangle(*_about(t.rim)), low, high, t.code)
    slot = rectangle(*_about((SLOT, 0.6 * t.line[1])))
    grille = [_piece(cutout, Component.GRILLE, slot, high, high + 2.0, "grille")] if t.draws else []
    return [glass, _piece(cutout, Component.BODY, body, -t.depth, low, t.code), *zones, *grille]


def _rim_heights(t: Template) -> tuple[float, float]:
    """From where to where a rim goes up from the top's face, mm: one that lies flush goes up to it."""
    return t.rim_over_top - t.rim_height, t.rim_over_top


def _socket(cutout: PlacedCutout) -> list[Part]:
    """A cap over the hole and a body that goes down through it."""
    t = cutout.template
    return [_cap(cutout), _piece(cutout, Component.BODY, _through(t), -t.depth, 0.0, t.code)]


def _switch(cutout: PlacedCutout) -> list[Part]:
    """A cap over the hole and a shank; what is below the top is a hose, which goes round or through a rail."""
    return [
        _cap(cutout),
        _piece(cutout, Component.SHANK, _through(cutout.template), -cutout.thickness, 0.0, cutout.template.code),
    ]


def _loose_tap(cutout: PlacedCutout) -> list[Part]:
    """A tap in a hole of its own, its spout towards the front; its hoses go round or through a rail."""
    shank = _piece(cutout, Component.SHANK, _through(cutout.template), -cutout.thickness, 0.0, "tap")
    return [shank, *_tap(cutout, 0.0, 0.0)]


def _cap(cutout: PlacedCutout) -> Part:
    t = cutout.template
    radius = min(t.rim) / 2 if t.radius * 2 >= min(t.line) else t.radius
    return _piece(cutout, Component.CAP, rounded_rectangle(*t.rim, radius), 0.0, max(t.rim_height, 1.0), t.code)


def _through(t: Template) -> Polygon:
    """What fits through the line with a millimetre of play all round."""
    return rounded_rectangle(t.line[0] - 2.0, t.line[1] - 2.0, max(0.0, t.radius - 1.0))


def _sink(cutout: PlacedCutout) -> list[Part]:
    """A steel rim, a bowl of four walls and a base below it, and a tap behind the bowl."""
    t, thickness = cutout.template, cutout.thickness
    under = t.mount == "under"
    outer = shape_of(t).buffer(SHEET) if under else _bowl(t, cutout.drainer)
    inner = one_polygon(outer.buffer(-SHEET, join_style="mitre"))
    plate = one_polygon(_rim(t).difference(inner))
    low, face = (-thickness - SHEET, -thickness) if under else _rim_heights(t)
    parts = [
        _piece(cutout, Component.RIM, plate, low, face, t.code),
        _piece(cutout, Component.BOWL, one_polygon(outer.difference(inner)), SHEET - t.depth, low, t.code),
        _piece(cutout, Component.BASE, one_polygon(outer), -t.depth, SHEET - t.depth, t.code),
    ]
    return [*parts, *_tap(cutout, _bowl(t, cutout.drainer).centroid.x, -t.line[1] / 2 + 30.0)] if t.tap else parts


def _bowl(t: Template, drainer: DrainerSide) -> Polygon:
    """The bowl's outside: near the front, beside the drainer of a sink that has one, as round as a round line."""
    if t.outline:
        return one_polygon(shape_of(t).buffer(-BOWL_FRONT))
    width, depth = t.bowl or (t.line[0] - 2 * BOWL_FRONT, t.line[1] - 2 * BOWL_FRONT)
    shape = rounded_rectangle(width, depth, min(40.0, width / 4, depth / 4))
    left = -t.line[0] / 2 + width / 2 + BOWL_FRONT if t.line[0] > DRAINER * width else 0.0
    hung = translate(shape, left if drainer == "right" else -left, t.line[1] / 2 - depth / 2 - BOWL_FRONT)
    if t.bowl is None and not rounded_rectangle(*t.line, t.radius).contains(hung):
        return rounded_rectangle(width, depth, max(0.0, t.radius - BOWL_FRONT))
    return hung


def _tap(cutout: PlacedCutout, x: float, y: float) -> list[Part]:
    """Post and spout of a tap that stands at (x, y)."""
    low = cutout.template.rim_over_top
    spout = rectangle(x - 10.0, y, x + 10.0, y + 190.0)
    return [
        _piece(cutout, Component.TAP_POST, _disc(x, y, 32.0), low, 280.0, "tap"),
        _piece(cutout, Component.TAP_SPOUT, spout, 280.0, 296.0, "tap"),
    ]


BODIES: dict[CutoutKind, Callable[[PlacedCutout], list[Part]]] = {
    "sink": _sink, "hob": _hob, "downdraft": _socket, "tap": _loose_tap, "switch": _switch, "socket": _socket,
}  # fmt: skip
