"""A ledger that must close: every part of a kitchen is cut from something ordered, taken from stock, or bought.

It is kept from the parts on the one side and from what is ordered on the other, apart from the rules between them.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition, Layer, Part
from countersunk.model.kinds import is_of
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.plans.boards import sheet_parts
from countersunk.takeoff.plans.slabs import slab_plans
from countersunk.takeoff.report.orders import orders
from countersunk.takeoff.stock.articles import articles_of, consumables_of
from countersunk.takeoff.stock.offcuts import Offcut

STEP = 0.1
"""mm; panels are planned in tenths, rounded up."""

NEAR = 1e-6

MOST_EXTRA = 60.0
"""No rule adds more to a length for its ends, mm."""

HINGES = ((900, 2), (1600, 3), (2000, 4), (2400, 5), (20_000, 6))
"""Up to this height (mm) so many on a door; common practice, no source."""


def open_lines(kitchen: Kitchen, taken: Takeoff, stock: Sequence[Offcut] = ()) -> list[str]:
    """Everything that does not close, in words; nothing where all does."""
    return [
        *_boards(kitchen, taken),
        *_tops(kitchen, taken),
        *_slabs(kitchen, taken),
        *_lengths(taken),
        *_others(kitchen, taken),
        *_edges(kitchen, taken),
        *_hardware(kitchen, taken),
        *_bought_whole(kitchen, taken),
        *_to_measure(kitchen, taken),
        *_packs(kitchen, taken),
        *_ordered(taken),
        *_stock(taken, stock),
    ]


def _boards(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every board once on a sheet of its material and decor, at its own size, within the sheets that are bought."""
    boards = {part.id: part for part in sheet_parts(kitchen)}
    cut = Counter(place.id for plan in taken.boards for sheet in plan.sheets for place in sheet.places)
    yield from (f"{id_}: on {cut[id_]} sheets" for id_ in {*boards, *cut} if cut[id_] != 1 or id_ not in boards)
    for plan in taken.boards:
        decor = plan.decor_code
        bought = [q for q in taken.quantities if (q.item, q.decor) == (plan.board.code, decor)]
        if sum(q.packs or 0 for q in bought) != plan.bought:
            yield f"{plan.code}: {plan.bought} sheets are cut, and others ordered"
        for sheet in plan.sheets:
            if sum(p.length * p.width for p in sheet.places) > sheet.size[0] * sheet.size[1]:
                yield f"{plan.code}: a sheet holds more than it has"
            for place in sheet.places:
                part = boards[place.id]
                scribed = kitchen.allowances.ceiling if part.role is Role.CEILING_FILLER else 0.0
                sawn = sorted((part.length, part.depth + scribed))
                sizes = zip(sorted((place.length, place.width)), sawn, strict=True)
                if part.material != plan.board.code or any(not -NEAR <= a - b <= STEP + NEAR for a, b in sizes):
                    yield f"{part.id}: cut {place.length} x {place.width} of {plan.code}"
                if decor and kitchen.decor_of(part) != decor:
                    yield f"{part.id}: cut in {decor}"


def _tops(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every top once on a length of its section, within the lengths that are bought."""
    placed = Counter(p.id for plan in taken.plans for bar in plan.bars for p in bar.pieces)
    placed.update(p.id for plan in taken.plans for p in plan.unplaced)
    if placed != Counter(length.id for length in kitchen.cut_here.lengths):
        yield f"tops on lengths: {dict(placed)}"
    bars = [bar for plan in taken.plans for bar in plan.bars]
    bought = Counter(f"{bar.stock}.{bar.length:g}" for bar in bars if not bar.offcut)
    lines = Counter[str]()
    for q in taken.quantities:
        if q.rule == "worktops" and not q.item.startswith("offcut."):
            lines[q.item] += q.packs or 0
    if +lines != bought:
        yield f"tops: {dict(bought)} are cut, {dict(lines)} ordered"
    for bar in bars:
        if bar.end > bar.length - bar.trim / 2 + NEAR:
            yield f"{bar.stock}.{bar.length:g}: holds more than it has"
        for laid in bar.pieces:
            part = kitchen.length(laid.id).part
            if laid.length < part.length - NEAR or bar.depth < part.depth - NEAR:
                yield f"{laid.id}: {part.length} long, {laid.length} cut"


def _slabs(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every piece made to measure once on a slab of its stock and decor, and all of each slab accounted for."""
    plans = slab_plans(kitchen)
    placed = Counter(place.id for plan in plans for sheet in plan.slabs for place in sheet.places)
    placed.update(id_ for plan in plans for id_ in plan.unplaced)
    if placed != Counter(kitchen.made_to_measure.keys()):
        yield f"pieces on slabs: {dict(placed)}"
    for plan in plans:
        lines = [q for q in taken.quantities if (q.item, q.decor) == (plan.stock.code, plan.decor)]
        if sum(q.packs or 0 for q in lines) != len(plan.slabs) and not plan.unplaced:
            yield f"{plan.stock.code}: {len(plan.slabs)} slabs are cut, and others ordered"
        a = plan.areas
        parts = a.pieces + a.cut_outs + a.shaped + a.offcuts + a.waste + a.kerf
        if abs(parts - a.slabs) > 1.0 or min(vars(a).values()) < -1.0:
            yield f"{plan.stock.code}: {a.slabs} mm² are {a}"


def _lengths(taken: Takeoff) -> Iterator[str]:
    """What plinths, strips and rolls are cut from holds it and is what is ordered."""
    for plan in taken.lengths:
        lines = [q for q in taken.quantities if (q.item, q.decor) == (plan.code, plan.decor)]
        if sum(q.packs or 0 for q in lines) != plan.packs:
            yield f"{plan.code}: {plan.packs} lengths are cut, and others ordered"
        opened = sum(not bar.offcut for bar in plan.bars)
        if opened > plan.packs or any(bar.net > bar.length + 1e-3 for bar in plan.bars):
            yield f"{plan.code}: {opened} lengths opened of {plan.packs}, or one holds more than it has"
        left, cut = sum(o.length for o in plan.left), sum(bar.net for bar in plan.bars)
        had = plan.packs * plan.pack + sum(bar.length for bar in plan.bars if bar.offcut)
        if cut + plan.allowance + left > had + 1e-3:
            yield f"{plan.code}: {cut:.1f} cut and {left:.1f} left of {had:.1f}"


def _others(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every part that is no board, top or appliance: once, as long or as large as it is, on its own lines."""
    cut = {p.id for p in sheet_parts(kitchen)} | {length.part.id for length in kitchen.lengths}
    cut |= kitchen.made_to_measure.keys()
    by_part: dict[str, list[Quantity]] = defaultdict(list)
    for q in taken.quantities:
        for id_ in set(q.ids):
            by_part[id_].append(q)
    for part in kitchen.parts:
        if part.id in cut or part.layer is Layer.APPLIANCES or part.id in _along(kitchen):
            continue
        lines = [q for q in by_part[part.id] if _is_own(q, part)]
        amount = sum(c.amount for q in lines for c in q.contributions if c.id == part.id)
        if not lines or not _is_right(kitchen, part, lines[0], amount):
            yield f"{part.id} ({part.material}): {amount:g} on {[q.item for q in lines]}"


def _along(kitchen: Kitchen) -> set[str]:
    """Parts that come with bought carcasses."""
    roles = {Role.LEG: "legs", Role.HANDLE: "handles"}
    comes = {unit.key: unit.ready.comes_with for unit in kitchen.units if unit.ready}
    return {*kitchen.ready_parts, *(p.id for p in kitchen.parts if roles.get(p.role) in comes.get(p.owner, ()))}


def _is_own(quantity: Quantity, part: Part) -> bool:
    """Whether a line is for the part itself, not for what fixes or carries it."""
    words = (part.material, part.role.value)
    code = quantity.item.removeprefix("offcut.")
    return any(is_of(code, word) for word in words)


def _is_right(kitchen: Kitchen, part: Part, line: Quantity, amount: float) -> bool:
    if line.unit == "m":
        return part.length / 1000 - NEAR <= amount <= (part.length + MOST_EXTRA) / 1000 + NEAR
    if line.unit == "m2":
        return part.area / 1e6 - NEAR <= amount <= part.length * part.depth / 1e6 + NEAR
    if part.role is Role.SPLASHBACK:
        (zone,) = (s for s in kitchen.splashbacks if part in s.parts)
        area = zone.on_wall(part)
        return amount == sum(tile.shape.intersection(area).area > 0.01 for tile in zone.tiles)
    return amount == 1


def _edges(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every banded edge of a board that is sawn has its band, every edge of a top in view its strip."""
    bands, strips = Counter[str](), dict[str, float]()
    for q in taken.quantities:
        for c in q.contributions:
            if is_of(q.item.removeprefix("offcut."), "band"):
                bands[c.id] += round(c.amount * 1e3, 3)
            if is_of(q.item.removeprefix("offcut."), "edging"):
                strips[c.id] = strips.get(c.id, 0.0) + c.amount * 1000
    for part in sheet_parts(kitchen):
        sides = [part.along(side) for side in part.banded]
        if not sum(sides) - NEAR <= bands[part.id] <= sum(sides) + MOST_EXTRA * len(sides) + NEAR:
            yield f"{part.id}: edges of {sum(sides):.1f}, band {bands[part.id]:.1f}"
    for length in kitchen.lengths:
        if length.run.stock.material.edges == "sealed":
            for edge in length.part.edges:
                if edge.condition is EdgeCondition.EXPOSED and strips.get(edge.id, 0.0) < edge.length - NEAR:
                    yield f"{edge.id}: in view without a strip"


def _hardware(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Hinges by the height of doors, runners by drawers, pins by loose shelves."""
    comes = {unit.key: unit.ready.comes_with for unit in kitchen.units if unit.ready}
    bought = {unit.key for unit in kitchen.units if unit.family.kind.is_bought}
    wanted = Counter[str]()
    for part in kitchen.parts:
        along = comes.get(part.owner, ())
        if (
            part.role is Role.DOOR
            and part.layer is Layer.FRONTS
            and part.owner not in bought
            and "hinges" not in along
        ):
            wanted["hinge"] += next(n for high, n in HINGES if part.length <= high)
        if part.role is Role.LEAF and "hinges" not in along:
            wanted["hinge.fold"] += next(n for high, n in HINGES if part.length <= high)
        if part.role is Role.DRAWER_FRONT and part.owner not in bought and "runners" not in along:
            wanted["runner"] += 1
    found = Counter[str]()
    for q in taken.quantities:
        word = "runner" if is_of(q.item, "runner") else "hinge" if q.item == "hinge.inset" else q.item
        if word in ("hinge", "hinge.fold", "runner"):
            found[word] += round(q.net)
    if found != wanted:
        yield f"hardware: {dict(wanted)} wanted, {dict(found)} counted"


def _bought_whole(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Appliances, what is let in, and carcasses that are bought: each once, the customer's own never."""
    wanted = Counter((u.key, a.code) for u in kitchen.units for a in u.family.appliances)
    wanted.update((c.key, c.template.code) for c in kitchen.cutouts if not c.own)
    wanted.update((u.key, u.article) for u in kitchen.units if u.ready)
    found = Counter[tuple[str, str]]()
    codes = {code for _, code in wanted}
    for q in taken.quantities:
        if q.item in codes:
            found.update((c.id, q.item) for c in q.contributions for _ in range(round(c.amount)))
    if found != wanted:
        yield f"bought whole: {dict(wanted - found)} missing, {dict(found - wanted)} too many"


def _to_measure(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Every line of what is made to measure has a piece for each part, at its size."""
    articles = articles_of(kitchen, consumables_of(kitchen.catalogue))
    for q in taken.quantities:
        if q.item in articles and articles[q.item].to_size:
            parts = Counter(kitchen.parts_by_id[id_].mark for id_ in q.ids)
            sizes = {kitchen.parts_by_id[id_].mark: kitchen.parts_by_id[id_] for id_ in q.ids}
            if Counter(piece.mark for piece in q.pieces) != parts:
                yield f"{q.item}: pieces {[piece.mark for piece in q.pieces]}"
            for piece in q.pieces:
                part = sizes[piece.mark]
                if (piece.length, piece.width, piece.thickness) != (part.length, part.depth, part.thickness):
                    yield f"{piece.mark}: ordered {piece.size}"


def _packs(kitchen: Kitchen, taken: Takeoff) -> Iterator[str]:
    """Whole packs hold what is needed, none is there for nothing, and shares are the sum; a board that no sheet
    holds is named on its line instead.
    """
    unplaced = {
        (p.board.code, p.decor_code): sum(kitchen.parts_by_id[id_].area for id_ in p.unplaced) / 1e6
        for p in taken.boards
    }
    for plan in taken.boards:
        line = next((q for q in taken.quantities if (q.item, q.decor) == (plan.board.code, plan.decor_code)), None)
        if any(line is None or kitchen.marks[id_] not in line.note for id_ in plan.unplaced):
            yield f"{plan.code}: a board on no sheet is not named"
    for q in taken.quantities:
        if q.packs is None or q.pack is None or q.rule == "extras":
            continue
        if abs(sum(c.amount for c in q.contributions) - q.net) > NEAR * max(1.0, q.net):
            yield f"{q.item}: its shares are not {q.net:g}"
        if not q.by_plan and not (q.packs - 1) * q.pack < q.needed <= q.packs * q.pack * (1 + NEAR) and q.packs > 1:
            yield f"{q.item}: {q.packs} packs of {q.pack:g} for {q.needed:g}"
        laid = q.net - unplaced.get((q.item, q.decor), 0.0)
        if not q.contributions or (q.packs * q.pack * (1 + NEAR) < laid and q.rule != "worktops"):
            yield f"{q.item}: {q.packs} packs of {q.pack:g} for {q.net:g} of {len(q.contributions)}"


def _ordered(taken: Takeoff) -> Iterator[str]:
    """Every line stands on one order, in the same number; wear of tools and the firm's stock on none."""
    made = [line for order in orders(taken) for line in order.lines]
    wanted = [line for line in taken.materials if line.quantity.group != "wear" and not line.by_amount]
    if Counter(map(id, made)) != Counter(map(id, wanted)):
        yield f"{len(wanted)} lines, {len(made)} ordered"


def _stock(taken: Takeoff, stock: Sequence[Offcut]) -> Iterator[str]:
    """No offcut is taken more often than there is of it, and as often as its line says."""
    used, had = Counter(taken.cut.used), Counter({o.id: o.quantity for o in stock})
    if used - had:
        yield f"taken and not there: {dict(used - had)}"
    lines = Counter(
        {q.item.removeprefix("offcut."): q.packs or 0 for q in taken.quantities if q.item.startswith("offcut.")}
    )
    if +lines != used:
        yield f"stock: {dict(used)} cut, {dict(lines)} on lines"
