"""What else a kitchen has, by lot: holes, boxings, joins, shaped corners, upstands, trims."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from countersunk.model.catalogue.catalogue import Template
from tests.random_kitchens.corners import Ends, Tops
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data, Side
from tests.random_kitchens.rows import Interval, Row, length

SITES = {
    "sink": ("base-sink",),
    "hob": ("base-hob",),
    "downdraft": (),
    "tap": ("base-sink",),
    "switch": ("base-sink",),
    "socket": ("base-sink",),
}
"""Over which families each kind is let in."""


def named(rows: Sequence[Row]) -> Iterator[tuple[str, Row, Data, Interval]]:
    """Every unit on the floor with the name that it gets."""
    counts: Counter[str] = Counter()
    for row in rows:
        for unit, at in row.places():
            counts[row.wall] += 1
            yield f"{row.wall}{counts[row.wall]}", row, unit, at


def cutouts(lots: Lots, tops: Tops, rows: list[Row], tongues: tuple[Data, ...]) -> tuple[Data, ...]:
    """Sinks, hobs, taps, switches and sockets over units that have room for them, at most one over each."""
    places = [(name, unit) for name, _, unit, _ in named(rows)]
    places += [(f"{t['name']}{i}", unit) for t in tongues for i, unit in enumerate(t["units"], start=1)]
    found = []
    for name, unit in places:
        fits = [t for t in tops.kit.catalogue.templates.values() if fits_over(t, unit, tops)]
        if fits and len(found) < 3 and lots.some(0.7):
            template = lots.pick(fits)
            play = (unit["width"] - template.line[0]) / 2 - 30.0
            shift = {"shift": lots.whole(-play, play)} if lots.some(0.4) else {}
            found.append({"template": template.code, "over": name, **shift})
    return tuple(found)


def fits_over(template: Template, unit: Data, tops: Tops) -> bool:
    """Whether a template goes over a unit, so far as widths and families tell."""
    bare = template.mount == "under" and not tops.stock.startswith("solid")
    return unit["unit"] in SITES[template.kind] and template.line[0] + 70.0 <= unit["width"] and not bare


def boxings(
    lots: Lots, tops: Tops, rows: list[Row], uppers: list[Row], sides: list[Side], doors: Sequence[Data]
) -> tuple[Data, ...]:
    """Boxings that a top goes round, chimney breasts and radiators on bare walls, and a column in the room."""
    found = []
    top = tops.kit.families("floor", "box")[0].top
    bases = [(row, at) for _, row, unit, at in named(rows) if unit["unit"] in ("base-doors", "base-drawers")]
    if bases and lots.some(0.25):
        row, (low, high) = lots.pick(bases)
        width = lots.whole(20, min(200.0, high - low - 20.0))
        depth = lots.whole(20, 180)
        at = lots.whole(low, high - width)
        kind = lots.pick(["pipe-boxing", "column"])
        high = {"top": 1200.0} if uppers else {}
        found.append(
            {"kind": kind, "wall": row.wall, "at": at, "width": width, "depth": depth, "bottom": top, **high}
        )
    bare = [
        s for s in sides if s.name not in {row.wall for row in rows} and s.name not in {d["wall"] for d in doors}
    ]
    bare = [s for s in bare if s.length > 2800.0]
    if bare and lots.some(0.3):
        side, kind = lots.pick(bare), lots.pick(["chimney-breast", "radiator"])
        depth, heights = (350.0, {}) if kind == "chimney-breast" else (110.0, {"bottom": 150.0, "top": 650.0})
        at = lots.whole(900, side.length - 1700)
        found.append({"kind": kind, "wall": side.name, "at": at, "width": 800.0, "depth": depth, **heights})
    return tuple(found)


def joins(
    lots: Lots, tops: Tops, rows: list[Row], ends: dict[str, tuple[Ends, Ends]], sides: list[Side]
) -> tuple[Data, ...]:
    """Now and then which wall's top runs through in a corner where two surely meet."""
    found = []
    for i, side in enumerate(sides):
        after = sides[(i + 1) % len(sides)]
        here, there = ([r for r in rows if r.wall == s.name] for s in (side, after))
        if not (here and there and ends[side.name][1].meets and ends[after.name][0].meets):
            continue
        inset = side.length - ends[side.name][1].inset
        if abs(here[-1].end - inset) > 1.0 or abs(there[0].start - ends[after.name][0].inset) > 1.0:
            continue
        units = here[-1].units[-1], there[0].units[0]
        if all(tops.kit.catalogue.families[u["unit"]].carries_top for u in units) and lots.some(0.5):
            female = lots.pick([side.name, after.name])
            kind = {"kind": lots.pick(["mitre", "full-mitre", "butt"])} if lots.some(0.3) else {}
            found.append({"corner": f"{side.name}-{after.name}", "female": female, **kind})
    return tuple(found)


def free_corners(lots: Lots, tongues: tuple[Data, ...]) -> tuple[Data, ...]:
    """Corners of a peninsula's free end, rounded or clipped."""
    found = []
    for t in tongues:
        end = "right" if t["facing"] == "left" else "left"
        over = len(t["units"]) if end == "right" else 1
        most = min(150.0, sum(unit["width"] for unit in t["units"]) / 2)
        for edge in lots.pick([(), ("front",), ("back",), ("front", "back")]):
            shape = lots.pick(["radius", "clip"])
            found.append({"over": f"{t['name']}{over}", "end": end, "edge": edge, shape: lots.whole(3, most)})
    return tuple(found)


def upstand(lots: Lots, tops: Tops, uppers: list[Row]) -> Data:
    """None, low ones, or high ones where nothing hangs above."""
    if lots.some(0.5):
        return {}
    codes = [u.code for u in tops.kit.catalogue.upstands.values() if u.height < 400.0 or not uppers]
    return {"upstand": {"stock": lots.pick(codes)}} if codes else {}


def trims(lots: Lots, tops: Tops, row: Row) -> Row:
    """The row with returns, and with cornice and pelmet where it hangs."""
    if lots.some(0.5):
        return row
    hung = {} if row.level == "floor" else {"cornice": lots.some(0.5), "pelmet": lots.some(0.5)}
    return replace(row, extras={**hung, "returns": returns(lots, tops, row.units)})


def returns(lots: Lots, tops: Tops, units: Sequence[Data]) -> str:
    """Ends at which no appliance or corner is in the way of a return."""
    ends = {"left": units[0], "right": units[-1]}
    families = tops.kit.catalogue.families
    clear = [e for e, u in ends.items() if not families[u["unit"]].wings and not families[u["unit"]].appliance]
    if min(u["width"] for u in ends.values()) < 60.0 or length(units) < 100.0:
        return "none"
    return lots.pick(["none", "none", *clear, *(["both"] if len(clear) == 2 else [])])


def way_in(lots: Lots) -> tuple[Data, ...]:
    """Not surveyed, or a door, a corridor, a turn, and another corridor or a door."""
    if lots.some(0.75):
        return ()
    widths = [{"width": lots.whole(500, 2000)} for _ in range(3)]
    long = lots.pick([{}, {"length": 1500.0}, {"length": 3000.0}, {"length": 6000.0}])
    turn = {"to": lots.pick(["left", "right"]), "angle": lots.pick([90.0, 45.0, 120.0])}
    last = lots.pick(["door", "corridor"])
    return {"door": widths[0]}, {"corridor": {**widths[1], **long}}, {"turn": turn}, {last: widths[2]}
