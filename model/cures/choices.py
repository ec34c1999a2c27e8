"""Choices: what of a layout may be chosen otherwise: hands, widths, order, joins, stock, over which unit."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.cures.distances import join_changed
from countersunk.model.cures.kept import WIDEST_FILLER
from countersunk.model.cures.move import DOOR, ELSEWHERE, FEMALE, HAND, KIND, TURN, Move, Scope, free_rows
from countersunk.model.cures.order import orders, with_article
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import ranked

SWINGS = {
    "left": "hang it on the left, opening into the room",
    "right": "hang it on the right, opening into the room",
    "out": "let it open out of the room",
}


def choices(kitchen: Kitchen, scope: Scope) -> list[Move]:
    """What may be chosen otherwise, the smallest change first."""
    placed = scope.within(kitchen.runs)
    found = [
        *(move for run in placed for move in _hands(run)),
        *(move for run in placed for move in _widths(run)),
        *(move for run in placed for move in _trades(run)),
        *orders(kitchen, scope),
        *_open_ends(kitchen, placed),
        *_over_others(kitchen, scope),
        *_females(kitchen, scope),
        *_kinds(kitchen, scope),
        *_stocks(kitchen, scope),
        *_turned(kitchen.document, scope),
        *_doors(kitchen.document),
    ]
    return ranked(found, key=lambda move: move.size, tie=lambda move: move.words)


def _hands(run: PlacedRun) -> Iterator[Move]:
    """The other hand of whatever has one; on a blind corner it says where the corner is, which stays."""
    for unit in run.units:
        single = unit.family.doors or any(appliance.is_hung for appliance in unit.family.appliances)
        if single and not unit.family.kind.is_blind:
            hand = "right" if unit.hand == "left" else "left"
            yield Move(
                ((f"{unit.field}.hand", hand),), f"hang the door of {unit.name} on the {hand}", HAND, ("hand",)
            )


def _widths(run: PlacedRun) -> Iterator[Move]:
    for unit in run.units:
        for width in _others(unit):
            words = f"make {unit.name} {width:g} wide instead of {unit.width:g}"
            yield Move(((f"{unit.field}.width", width),), words, abs(width - unit.width), ("width",))


def _others(unit: PlacedUnit) -> list[float]:
    """Other widths that a unit comes in; an appliance of another width is another appliance."""
    return [width for width in unit.family.widths if width != unit.width and not unit.family.appliances]


def _trades(run: PlacedRun) -> Iterator[Move]:
    """One unit wider and another narrower by the same, so that the run stays as long."""
    for a, b in combinations(run.units, 2):
        for width in _others(a):
            rest = a.width + b.width - width
            if _comes_in(b, rest):
                words = f"make {a.name} {width:g} wide instead of {a.width:g}"
                words += f" and {b.name} {rest:g} instead of {b.width:g}"
                changes = ((f"{a.field}.width", width), (f"{b.field}.width", rest))
                yield Move(changes, words, 2 * abs(width - a.width), ("trade",))


def _comes_in(unit: PlacedUnit, width: float) -> bool:
    low, high = unit.family.width_range or (1.0, 0.0)
    return width in _others(unit) or (low <= width <= min(high, WIDEST_FILLER) and low < high)


def _open_ends(kitchen: Kitchen, runs: list[PlacedRun]) -> Iterator[Move]:
    """An open end, clipped or not, in place of the last unit under an end whose corner is clipped or rounded."""
    wishes = (c for c in kitchen.document.worktop.corners if c.clip or c.radius)
    shaped = {(corner.over, corner.end) for corner in wishes}
    families = [
        f for f in kitchen.catalogue.families.values() if f.kind.closes_row and f.kind.stores and f.carries_top
    ]
    for unit in (unit for run in runs for unit in run.units):
        for family in families:
            if unit.width in family.widths and family != unit.family:
                for hand in (end for over, end in shaped if over == unit.key):
                    changes = ((f"{unit.field}.unit", family.code), (f"{unit.field}.hand", hand))
                    words = f"put {with_article(family.name)} in place of {unit.name}"
                    yield Move(changes, words, unit.width + family.chamfer, ("open end",))


def _over_others(kitchen: Kitchen, scope: Scope) -> Iterator[Move]:
    """All that is let in over one unit, over another of its row that carries a top."""
    for run in scope.within(kitchen.runs):
        for unit in run.units:
            over = [i for i, cutout in enumerate(kitchen.cutouts) if cutout.unit.key == unit.key]
            some = [u for u in run.units if u is not unit and u.family.carries_top and u.width >= unit.width]
            yield from (_over(kitchen, over, unit, other) for other in some if over)


def _over(kitchen: Kitchen, over: list[int], unit: PlacedUnit, other: PlacedUnit) -> Move:
    names = " and ".join(kitchen.cutouts[i].name for i in over)
    far = abs((other.x + other.right - unit.x - unit.right) / 2)
    changes = tuple((f"cutouts[{i}].over", other.key) for i in over)
    return Move(changes, f"let {names} into the top over {other.name}", far + ELSEWHERE, ("over",))


def _females(kitchen: Kitchen, scope: Scope) -> Iterator[Move]:
    for join in kitchen.joins:
        male, corner = kitchen.length(join.male).run, join.corner
        if corner and male.wall and {male.name, kitchen.length(join.female).run.name} & scope.runs:
            change = join_changed(kitchen.document, corner, female=male.wall)
            words = f"let the top of wall {male.wall} run through in corner {corner}"
            yield Move((change,), words, FEMALE, ("female",))


def _kinds(kitchen: Kitchen, scope: Scope) -> Iterator[Move]:
    """A mitre in place of a butt or of a full mitre, or a butt in place of it."""
    for join in kitchen.joins:
        corner = join.corner
        if corner and {kitchen.length(id_).run.name for id_ in (join.female, join.male)} & scope.runs:
            kind = "butt" if join.kind == "mitre" else "mitre"
            without = {"notch": None} if kind == "butt" else {}
            change = join_changed(kitchen.document, corner, kind=kind, **without)
            yield Move((change,), f"join the tops in corner {corner} with a {kind}", KIND, ("kind of join",))


def _stocks(kitchen: Kitchen, scope: Scope) -> Iterator[Move]:
    """The same kind of top in another depth or thickness."""
    document, stocks = kitchen.document, kitchen.catalogue.stocks
    fields = [("worktop.stock", "the tops", document.worktop.stock), *_free_stocks(document, scope)]
    for field, what, code in fields:
        for stock in stocks.values():
            if stock.code != code and _alike(stock, stocks[code]):
                size = abs(stock.depth - stocks[code].depth) + abs(stock.thickness - stocks[code].thickness)
                yield Move(((field, stock.code),), f"make {what} of {stock.name}", size, ("stock",))


def _free_stocks(document: Document, scope: Scope) -> Iterator[tuple[str, str, str]]:
    """Field, words and code of the stock that an island or a peninsula has of its own."""
    for field, row in free_rows(document):
        if row.stock and row.name in scope.runs:
            yield f"{field}.stock", f"the top of {row.name}", row.stock


def _alike(a: Stock, b: Stock) -> bool:
    return (a.nose, a.core, a.both_edges) == (b.nose, b.core, b.both_edges)


def _turned(document: Document, scope: Scope) -> Iterator[Move]:
    for i, island in enumerate(document.islands):
        if island.name in scope.runs:
            facing = "room" if island.facing == "wall" else "wall"
            words = f"turn {island.name} round, so that it faces the {facing}"
            yield Move(((f"islands[{i}].facing", facing),), words, TURN, ("turn",))


def _doors(document: Document) -> Iterator[Move]:
    """Doors of the room hung otherwise."""
    for i, opening in enumerate(document.room.openings):
        if opening.kind == "door" and opening.swing in SWINGS:
            for swing, words in SWINGS.items():
                if swing != opening.swing:
                    told = f"change the door in wall {opening.wall}: {words}"
                    yield Move(((f"room.openings[{i}].swing", swing),), told, DOOR, ("door",))
