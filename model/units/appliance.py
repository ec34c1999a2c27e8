"""Appliances: bodies that are bought, standing alone, behind a front of the kitchen, or built into a bay.

Their shapes are plain: what one must recognise, and the place that the body takes. Makers' sheets decide sizes.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import box as rectangle

from countersunk.model.geometry.identity import Component, Hinge, PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.kinds.appliances import Clear, appliance_of
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import AXES, Block, board, disc, front
from countersunk.model.units.carcass import PlacedBay, profiles
from countersunk.model.units.handles import on_door, on_drawer
from countersunk.model.units.makers import body_of, looks, makes

BODY = 560.0
"""Widest body that goes into a carcass for built-in appliances, mm (niches 560 to 568 wide, quoted)."""

FACE = 595.0
"""Width of the face of a built-in appliance for a unit of 600, mm (common practice, no source)."""


PROUD, WALL, LEDGE = 20.0, 25.0, 110.0
"""How far a ceramic sink stands before the fronts, how thick it is, and how deep its ledge for the tap, mm (common
practice, no source)."""

MACHINE = 600.0
"""Width of the place of a washing machine or dryer, mm (600 x 850, quoted)."""

BELOW = 150.0
"""What a housing leaves free under a boiler for its pipes, mm (common practice, no source)."""


@makes("appliance")
def appliance(unit: PlacedUnit) -> list[Part]:
    """The body of the family's appliance, in the form that the family or else the appliance's code names."""
    return _behind_front(unit) if unit.family.front else (body_of(_form(unit)) or _plain)(unit)


def _form(unit: PlacedUnit) -> str:
    return unit.family.form or unit.family.appliance or ""


def _clear(unit: PlacedUnit) -> Clear:
    """What the body leaves free round it: as the kind does whose form it has, else as a plain body."""
    return appliance_of(_form(unit)).clear


def _body(
    unit: PlacedUnit, what: Component, block: Block, material: str = "", axes: str = "xyz", *,
    bay: int = 0, at: tuple[Position, ...] = (), hinge: Hinge | None = None,
) -> Part:  # fmt: skip
    which = Which(bay=bay, component=what, at=at)
    code = material or unit.family.appliance or unit.family.code
    return board(unit, Role.APPLIANCE, block, axes, code, which=which, layer=Layer.APPLIANCES, hinge=hinge)


def _round(
    unit: PlacedUnit, which: Which, centre: tuple[float, float], y: tuple[float, float], radius: float,
    material: str, hole: float = 0.0,
) -> Part:  # fmt: skip
    """A disc or ring on the face of an appliance, its axis to the front through ``centre`` (x, z of the unit)."""
    pose = unit.frame.moved(centre[0], y[0], centre[1]).reaxed(AXES["x"], AXES["z"], AXES["y"])
    return Part(
        key=PartKey(unit.key, Role.APPLIANCE, which), called=unit.name,
        layer=Layer.APPLIANCES, material=material, outline=disc(radius, hole), thickness=y[1] - y[0], pose=pose,
    )  # fmt: skip


def _behind_front(unit: PlacedUnit) -> list[Part]:
    """Integrated: the body keeps clear of the plinth, the front hangs on it."""
    family, w = unit.family, unit.width
    body = Block(2.0, w - 2.0, 10.0, family.depth - 55.0, 5.0, family.top - 5.0)
    head = family.top - (unit.channel.gap if unit.channel else 0.0)
    free = unit.channel.lip if unit.channel else 5.0
    door = Block(2.0, w - 2.0, family.depth - 55.0, family.depth, family.base + 10.0, head - free)
    face = front(unit, Role.DOOR, 0.0, w, family.base, head, "zxy")
    grip = on_drawer(unit, Which(Role.DOOR), head)
    return [
        _body(unit, Component.BODY, body), _body(unit, Component.DOOR, door), face, *grip, *profiles(unit),
    ]  # fmt: skip


def _plain(unit: PlacedUnit) -> list[Part]:
    """A body with nothing to be told of it."""
    family, (beside, behind, above) = unit.family, _clear(unit)
    body = Block(beside, unit.width - beside, behind, family.depth, 5.0, family.top - above)
    return [_body(unit, Component.BODY, body)]


@looks("fridge")
def _fridge(unit: PlacedUnit) -> list[Part]:
    """A cabinet on its own feet with two doors, such as a fridge over a freezer."""
    family, w, split, (beside, behind, above) = unit.family, unit.width, 700.0, _clear(unit)
    body = Block(beside, w - beside, behind, family.depth - 60.0, 20.0, family.top - above)
    lower = Block(beside, w - beside, family.depth - 60.0, family.depth, 60.0, split - 4.0)
    upper = lower._replace(z0=split + 4.0, z1=family.top - above)
    face = family.depth
    x = w - 60.0 if unit.hand == "left" else 44.0  # the grip is away from the hinges
    grip = Block(x, x + 16.0, face, face + 30.0, split + 40.0, split + 540.0)
    return [
        _body(unit, Component.BODY, body),
        _body(unit, Component.DOOR, lower, at=(Position.LOWER,)),
        _body(unit, Component.DOOR, upper, at=(Position.UPPER,)),
        _body(unit, Component.GRIP, grip, f"{family.appliance}.grip"),
    ]


@looks("fridge.side-by-side")
def _side_by_side(unit: PlacedUnit) -> list[Part]:
    """A wide cabinet with a freezer behind its left door and a fridge behind its right one."""
    return _paired(unit, 60.0)


@looks("fridge.french")
def _french(unit: PlacedUnit) -> list[Part]:
    """A wide cabinet with two doors over a freezer drawer."""
    d, (beside, *_) = unit.family.depth, _clear(unit)
    drawer = Block(beside, unit.width - beside, d - 60.0, d, 60.0, 700.0)
    grip = Block(120.0, unit.width - 120.0, d, d + 30.0, 620.0, 636.0)
    return [
        *_paired(unit, 708.0),
        _body(unit, Component.DRAWER, drawer),
        _body(unit, Component.PANEL, grip, f"{unit.family.appliance}.grip"),
    ]


def _paired(unit: PlacedUnit, low: float) -> list[Part]:
    """A cabinet with two doors from ``low`` up (mm), which meet in the middle and have their grips there."""
    family, w, d, (beside, behind, above) = unit.family, unit.width, unit.family.depth, _clear(unit)
    body = Block(beside, w - beside, behind, d - 60.0, 20.0, family.top - above)
    left = Block(beside, w / 2 - 2.0, d - 60.0, d, low, family.top - above)
    grip = Block(w / 2 - 50.0, w / 2 - 34.0, d, d + 30.0, low + 60.0, family.top - 300.0)
    sides: tuple[tuple[Position, Hinge], ...] = ((Position.LEFT, "left"), (Position.RIGHT, "right"))
    found = [_body(unit, Component.BODY, body)]
    for at, hinge in sides:
        door, bar = (b if at is Position.LEFT else b._replace(x0=w - b.x1, x1=w - b.x0) for b in (left, grip))
        found.append(_body(unit, Component.DOOR, door, at=(at,), hinge=hinge))
        found.append(_body(unit, Component.GRIP, bar, f"{family.appliance}.grip", at=(at,), hinge=hinge))
    return found


@looks("wine-cooler")
def _wine_cooler(unit: PlacedUnit) -> list[Part]:
    """A cabinet under the top with a glass door in a frame, its air drawn through a grille below."""
    family, w, (beside, behind, above) = unit.family, unit.width, _clear(unit)
    d, top = family.depth, family.top - above
    door = Block(beside, w - beside, d - 40.0, d, family.base, top)
    pane = Block(beside + 30.0, w - beside - 30.0, d, d + 2.0, family.base + 40.0, top - 40.0)
    x = w - 40.0 if unit.hand == "left" else 24.0
    grip = Block(x, x + 16.0, d + 2.0, d + 32.0, top - 420.0, top - 120.0)
    return [
        _body(unit, Component.BODY, Block(beside, w - beside, behind, d - 40.0, 10.0, top)),
        _body(unit, Component.DOOR, door),
        _body(unit, Component.DOOR_GLASS, pane, "oven.face"),
        _body(unit, Component.GRIP, grip, "oven.grip"),
    ]


@looks("cooker")
def _cooker(unit: PlacedUnit) -> list[Part]:
    """A cabinet with an oven door, a row of knobs, and a hob on top."""
    w, (beside, behind, above) = unit.width, _clear(unit)
    d, top = unit.family.depth - 30.0, unit.family.top - above
    door = Block(8.0, w - 8.0, d, d + 22.0, 230.0, top - 150.0)
    grip = Block(60.0, w - 60.0, d + 22.0, d + 50.0, top - 190.0, top - 174.0)
    return [
        _body(unit, Component.BODY, Block(beside, w - beside, behind, d, 40.0, top - 12.0)),
        _body(unit, Component.DRAWER, Block(8.0, w - 8.0, d, d + 18.0, 60.0, 222.0)),
        _body(unit, Component.FACE, door, "oven.face", "xzy"),
        _body(unit, Component.GRIP, grip, "oven.grip", "xzy"),
        _body(unit, Component.GLASS, Block(beside, w - beside, behind, d + 20.0, top - 12.0, top), "oven.face"),
        *_knobs(unit, d, top - 80.0),
        *_zones(unit, top),
    ]


@looks("cooker.range")
def _range_cooker(unit: PlacedUnit) -> list[Part]:
    """A wide cabinet with two oven doors beside each other over a drawer, and a hob with a zone in its middle."""
    w, (beside, behind, above) = unit.width, _clear(unit)
    d, top = unit.family.depth - 30.0, unit.family.top - above
    left = Block(beside + 6.0, w / 2 - 3.0, d, d + 22.0, 230.0, top - 150.0)
    grip = Block(beside + 50.0, w / 2 - 50.0, d + 22.0, d + 50.0, top - 190.0, top - 174.0)
    found = [
        _body(unit, Component.BODY, Block(beside, w - beside, behind, d, 40.0, top - 12.0)),
        _body(unit, Component.DRAWER, Block(beside + 6.0, w - beside - 6.0, d, d + 18.0, 60.0, 222.0)),
        _body(unit, Component.GLASS, Block(beside, w - beside, behind, d + 20.0, top - 12.0, top), "oven.face"),
        *_knobs(unit, d, top - 80.0, 7),
        *_zones(unit, top, middle=True),
    ]
    for at in (Position.LEFT, Position.RIGHT):
        door, bar = (b if at is Position.LEFT else b._replace(x0=w - b.x1, x1=w - b.x0) for b in (left, grip))
        found.append(_body(unit, Component.FACE, door, "oven.face", "xzy", at=(at,)))
        found.append(_body(unit, Component.GRIP, bar, "oven.grip", "xzy", at=(at,)))
    return found


def _knobs(unit: PlacedUnit, y: float, z: float, count: int = 5) -> Iterator[Part]:
    for i in range(count):
        x = unit.width / 2 + (i - (count - 1) / 2) * unit.width / (count + 2)
        yield _round(unit, Which(component=Component.KNOB, numbers=(i + 1,)), (x, z), (y, y + 22.0), 20.0, "knob")


def _zones(unit: PlacedUnit, top: float, middle: bool = False) -> Iterator[Part]:
    four = [(-0.23, 180.0), (0.23, 180.0), (-0.23, 420.0), (0.23, 420.0)]
    places, code = [*four, (0.0, 300.0)] if middle else four, f"zone.{unit.family.cooks_with}"
    for i, (x, y) in enumerate(places, start=1):
        yield Part(
            key=PartKey(unit.key, Role.APPLIANCE, Which(component=Component.ZONE, numbers=(i,))), called=unit.name,
            layer=Layer.APPLIANCES, material=code, outline=disc(85.0, 77.0), thickness=1.0,
            pose=unit.frame.moved(unit.width * (0.5 + x), y, top),
        )  # fmt: skip


@looks("washer")
def _washer(unit: PlacedUnit) -> list[Part]:
    """A cabinet with a round door and a panel above it."""
    family, w, (beside, behind, above) = unit.family, unit.width, _clear(unit)
    body = Block(beside, w - beside, behind, family.depth, 10.0, family.top - above)
    return _drum(unit, body, family.top, "")


@looks("dryer")
def _dryer(unit: PlacedUnit) -> list[Part]:
    """Like a washing machine from in front."""
    return _washer(unit)


def _drum(unit: PlacedUnit, body: Block, top: float, code: str, bay: int = 0) -> list[Part]:
    """The body of a machine with its round door, panel and drawer on its face; ``top`` is that of its place, mm."""
    w, x, y = min(unit.width, MACHINE), unit.width / 2, body.y1
    panel = Block(x - 40.0, x + w / 2 - 30.0, y, y + 4.0, top - 110.0, top - 40.0)
    drawer = Block(x - w / 2 + 30.0, x - 90.0, y, y + 6.0, top - 120.0, top - 30.0)
    middle, ring, glass = (x, top - 390.0), (y, y + 24.0), (y, y + 14.0)
    door, pane = Which(bay=bay, component=Component.DOOR), Which(bay=bay, component=Component.DOOR_GLASS)
    return [
        _body(unit, Component.BODY, body, code, bay=bay),
        _body(unit, Component.PANEL, panel, "oven.face", "xzy", bay=bay),
        _body(unit, Component.DRAWER, drawer, code, "xzy", bay=bay),
        _round(unit, door, middle, ring, 0.29 * w, "porthole", 0.21 * w),
        _round(unit, pane, middle, glass, 0.21 * w, "oven.face"),
    ]


def built_in_machine(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A washing machine or dryer that stands free on the floor of its bay, its face with the carcass's edges."""
    beside, behind, above = appliance_of(o.bay.appliance or o.bay.holds).clear
    x = unit.width / 2
    half = min(MACHINE, unit.width - 2 * unit.boards.carcass.thickness) / 2 - beside
    top = min(o.high, o.low + 860.0)
    body = Block(x - half, x + half, 40.0 + behind, unit.family.depth, o.low, top - above)
    return _drum(unit, body, top, o.bay.appliance or o.bay.holds, o.number)


def ceramic_sink(unit: PlacedUnit, low: float) -> list[Part]:
    """A ceramic sink from ``low`` (mm) to the top of its place, proud of the fronts, with its tap on the ledge
    behind.
    """
    w, top, face = unit.width, unit.family.top, unit.face + PROUD
    rim, inner = rectangle(2.0, 0.0, w - 2.0, face), rectangle(WALL + 2.0, LEDGE, w - WALL - 2.0, face - WALL)
    code = unit.family.appliance or "sink"
    post, spout = disc(16.0), rectangle(-10.0, 0.0, 10.0, 190.0)
    shapes = [
        (Component.BASE, rim, low, WALL, (0.0, 0.0), code),
        (Component.BOWL, rim.difference(inner), low + WALL, top - low - WALL, (0.0, 0.0), code),
        (Component.TAP_POST, post, top, 280.0, (w / 2, LEDGE / 2), "tap"),
        (Component.TAP_SPOUT, spout, top + 280.0, 16.0, (w / 2, LEDGE / 2), "tap"),
    ]
    return [
        Part(
            key=PartKey(unit.key, Role.APPLIANCE, Which(component=what)), called=unit.name,
            layer=Layer.APPLIANCES, material=material, outline=one_polygon(outline), thickness=thick,
            pose=unit.frame.moved(x, y, z),
        )
        for what, outline, z, thick, (x, y), material in shapes
    ]  # fmt: skip


@looks("boiler")
def _boiler(unit: PlacedUnit) -> list[Part]:
    """A case on the wall with a panel at its foot; its pipes go down and its flue up or out."""
    family, (beside, behind, above) = unit.family, _clear(unit)
    case = Block(beside, unit.width - beside, behind, family.depth, family.base, family.top - above)
    return [_body(unit, Component.BODY, case), _boiler_panel(unit, case)]


def _boiler_panel(unit: PlacedUnit, case: Block) -> Part:
    panel = Block(case.x0 + 60.0, case.x1 - 60.0, case.y1, case.y1 + 4.0, case.z0 + 20.0, case.z0 + 80.0)
    return _body(unit, Component.PANEL, panel, "oven.face", "xzy")


def boiler_in(unit: PlacedUnit, size: tuple[float, float, float]) -> list[Part]:
    """A boiler of a width, depth and height (mm) in the middle of a housing, on the wall, `BELOW` its foot free."""
    (w, d, h), x = size, unit.width / 2
    z0 = unit.family.base + BELOW
    case = Block(x - w / 2, x + w / 2, 0.0, d, z0, z0 + h)
    return [_body(unit, Component.BODY, case), _boiler_panel(unit, case)]


@looks("hood")
def _hood(unit: PlacedUnit) -> list[Part]:
    """A canopy with its chimney."""
    family, middle, (beside, behind, above) = unit.family, unit.width / 2, _clear(unit)
    canopy = Block(beside, unit.width - beside, behind, family.depth, family.base, family.base + 60.0)
    chimney = Block(middle - 130.0, middle + 130.0, behind, 260.0, family.base + 60.0, family.top - above)
    return [_body(unit, Component.CANOPY, canopy), _body(unit, Component.CHIMNEY, chimney)]


@looks("hood.island")
def _hood_island(unit: PlacedUnit) -> list[Part]:
    """A canopy that hangs from the ceiling by its chimney, the same from all sides."""
    family, w, d, (beside, behind, above) = unit.family, unit.width, unit.family.depth, _clear(unit)
    canopy = Block(beside, w - beside, behind, d, family.base, family.base + 60.0)
    x, y, top = w / 2, d / 2, family.top - above
    chimney = Block(x - 150.0, x + 150.0, y - 150.0, y + 150.0, family.base + 60.0, top)
    return [_body(unit, Component.CANOPY, canopy), _body(unit, Component.CHIMNEY, chimney)]


@looks("hood-under")
def _hood_under(unit: PlacedUnit) -> list[Part]:
    """A flat hood that hangs under a wall unit."""
    family = unit.family
    canopy = Block(1.0, unit.width - 1.0, 0.0, family.depth, family.base, family.top)
    lip = Block(1.0, unit.width - 1.0, family.depth, family.depth + 18.0, family.base, family.base + 30.0)
    return [_body(unit, Component.CANOPY, canopy), _body(unit, Component.LIP, lip, f"{family.appliance}.face")]


@looks("microwave.over-range")
def _over_range(unit: PlacedUnit) -> list[Part]:
    """A microwave oven that hangs over a cooker, its door beside its keys, and draws off through its underside."""
    family, w, (beside, behind, _) = unit.family, unit.width, _clear(unit)
    d, code, parting = family.depth, family.appliance, unit.width - 150.0
    face = Block(beside, parting, d, d + 18.0, family.base + 4.0, family.top - 4.0)
    pane = Block(beside + 40.0, parting - 60.0, d + 18.0, d + 20.0, family.base + 54.0, family.top - 54.0)
    return [
        _body(unit, Component.BODY, Block(beside, w - beside, behind, d, family.base, family.top)),
        _body(unit, Component.FRONT, face, f"{code}.door", "xzy"),
        _body(unit, Component.GLASS, pane, "oven.face", "xzy"),
        _body(unit, Component.PANEL, face._replace(x0=parting, x1=w - beside), "oven.face", "xzy"),
    ]


def built_in_hood(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A hood on the floor of a wall unit, whose lip is drawn out over the hob."""
    t, depth, bay, code = unit.boards.carcass.thickness, unit.family.depth, o.number, o.bay.appliance or o.bay.holds
    body = Block(t + 2.0, unit.width - t - 2.0, 20.0, depth, o.low, o.high - 4.0)
    lip = Block(2.0, unit.width - 2.0, depth, depth + 20.0, o.z0 + 2.0, o.z1 - 2.0)
    return [
        _body(unit, Component.CANOPY, body, code, bay=bay),
        _body(unit, Component.LIP, lip, code, "xzy", bay=bay),
    ]


def built_in_oven(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """An oven on the floor of the bay, its face before the carcass."""
    return oven_in(unit, o.low, o.high - o.low, o.bay.appliance or o.bay.holds, o.number)


def oven_in(unit: PlacedUnit, floor: float, niche: float, code: str, bay: int = 0) -> list[Part]:
    """An oven whose body stands on ``floor`` in a niche of that height (mm), with its face and grip."""
    middle, depth, height = unit.width / 2, unit.family.depth, niche - 4.0
    body = Block(middle - 278, middle + 278, 25.0, depth, floor, floor + height - 10)
    face = Block(middle - FACE / 2, middle + FACE / 2, depth, depth + 20.0, floor + 1, floor + height)
    grip = Block(middle - 220, middle + 220, depth + 20, depth + 50, floor + height - 90, floor + height - 74)
    return [
        _body(unit, Component.BODY, body, code, bay=bay),
        _body(unit, Component.FACE, face, "oven.face", "xzy", bay=bay),
        _body(unit, Component.GRIP, grip, "oven.grip", "xzy", bay=bay),
    ]


def built_in_microwave(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A microwave oven with its window beside its keys, in a frame that covers the edges of the bay."""
    middle, depth, code = unit.width / 2, unit.family.depth, o.bay.appliance or o.bay.holds
    left, right, z0, z1 = middle - FACE / 2, middle + FACE / 2, o.z0 + 2.0, o.z1 - 2.0
    parting, bay = right - 130.0, o.number
    window = Block(left + 30.0, parting - 20.0, depth + 18.0, depth + 20.0, z0 + 50.0, z1 - 50.0)
    body = Block(middle - BODY / 2 + 2, middle + BODY / 2 - 2, 150.0, depth, o.low, o.high - 10.0)
    return [
        _body(unit, Component.BODY, body, code, bay=bay),
        _body(unit, Component.FRONT, Block(left, parting, depth, depth + 18.0, z0, z1), f"{code}.door", "xzy",
              bay=bay),
        _body(unit, Component.GLASS, window, "oven.face", "xzy", bay=bay),
        _body(unit, Component.PANEL, Block(parting, right, depth, depth + 18.0, z0, z1), "oven.face", "xzy",
              bay=bay),
    ]  # fmt: skip


def built_in_fridge(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A refrigerator behind a furniture door that hangs on its own door."""
    t, depth = unit.boards.carcass.thickness, unit.family.depth
    body = Block(t + 2.0, unit.width - t - 2.0, 25.0, depth - 12.0, o.low, o.high - 4.0)
    which = Which(bay=o.number)
    face = front(unit, Role.FRIDGE_FRONT, 0.0, unit.width, o.z0, o.z1, "zxy", which=which, hinge=unit.hand)
    grip = on_door(unit, Which(Role.FRIDGE_FRONT, o.number), o, 0.0, unit.width, unit.hand)
    return [_body(unit, Component.BODY, body, o.bay.appliance or o.bay.holds, bay=o.number), face, *grip]
