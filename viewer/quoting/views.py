"""Views: the price without tax once more, trade by trade and place by place; each adds up to the same sum."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal

from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedRun
from countersunk.model.tolerance import FIT
from countersunk.model.tops.splashbacks import AGAINST
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.measuring.rules import Trade
from countersunk.takeoff.stock.money import NOTHING, cents

TRADES: dict[Trade, str] = {
    "units": "Units and fronts",
    "worktops": "Worktops",
    "walls": "Tiles, wall panels, paint and floor",
    "appliances": "Sink, hob, appliances",
    "site": "Survey, delivery, travel, clearing up",
}
"""What a customer reads for each."""

EVERYWHERE = "The whole room"
"""Where what belongs to no place of the room stands, such as travel."""

Money = dict[str, Decimal]


def by_trade(takeoff: Takeoff) -> dict[str, tuple[Decimal, Decimal]]:
    """What is supplied and what is done of each trade, without tax."""
    supplied, done = (dict.fromkeys(TRADES, NOTHING) for _ in range(2))
    for line in takeoff.materials:
        if line.charge:
            supplied[line.quantity.for_trade] += line.charge.net
    for work in takeoff.labour:
        if work.charge:
            done[work.work.trade] += work.charge.net
    both = {name: (supplied[trade], done[trade]) for trade, name in TRADES.items()}
    return {name: sums for name, sums in both.items() if any(sums)}


def by_place(kitchen: Kitchen, takeoff: Takeoff) -> Money:
    """What stands at each wall and on each island, without tax; every line parted by what it is counted from."""
    at, sums = places(kitchen), dict[str, Decimal]()
    for money, shares in _lines(takeoff):
        for place, part in parted(money, ((at.get(id_, EVERYWHERE), share) for id_, share in shares)).items():
            sums[place] = sums.get(place, NOTHING) + part
    order = [*dict.fromkeys(at.values()), EVERYWHERE]
    return {place: sums[place] for place in order if sums.get(place)}


def parted(money: Decimal, shares: Iterable[tuple[str, float]]) -> Money:
    """A sum by shares, in cents that add up to it; all of it everywhere where nothing has a share.

    >>> parted(Decimal("10.00"), [("A", 1.0), ("B", 1.0), ("A", 1.0)])
    {'A': Decimal('6.67'), 'B': Decimal('3.33')}
    """
    sums: dict[str, float] = {}
    for name, share in shares:
        sums[name] = sums.get(name, 0.0) + share
    whole = sum(sums.values())
    if whole <= 0.0:
        return {EVERYWHERE: money}
    found, reached, given = Money(), 0.0, NOTHING
    for name, share in sums.items():
        reached += share
        now = cents(money * Decimal(repr(reached / whole)))
        found[name] = now - given
        given = now
    return found


def places(kitchen: Kitchen) -> Mapping[str, str]:
    """The wall or island at which everything stands that a line may be counted from, by its id or key."""
    found: dict[str, str] = {}
    for run in kitchen.runs:
        found |= dict.fromkeys((unit.key for unit in run.units), _called(run))
    for length in kitchen.lengths:
        place = _called(length.run)
        edges = (edge.id for edge in length.part.edges)
        found |= dict.fromkeys((length.key, *edges), place)
        found |= dict.fromkeys((c.key for c in kitchen.cutouts if c.length == length.id), place)
        found |= dict.fromkeys((j.key for j in kitchen.joins if j.female == length.id), place)
    used = {run.wall for run in kitchen.runs} | {splashback.wall.name for splashback in kitchen.splashbacks}
    for wall in kitchen.survey.walls:
        found[wall.name] = f"Wall {wall.name}" if wall.name in used else EVERYWHERE
    for splashback in kitchen.splashbacks:
        found |= dict.fromkeys((part.id for part in splashback.parts), f"Wall {splashback.wall.name}")
    for part in kitchen.parts:
        owner = kitchen.owners.get(part.id, part.owner)
        found.setdefault(part.id, found.get(owner) or _at_wall(kitchen, part))
    return found


def _at_wall(kitchen: Kitchen, part: Part) -> str:
    """The wall along which something lies that belongs to no row, such as an upstand."""
    for wall in kitchen.survey.walls:
        along = sum(a * b for a, b in zip(wall.frame.x, part.pose.x, strict=True))
        if along > 1 - FIT and abs(wall.frame.from_room(part.pose.origin)[1]) < AGAINST:
            return f"Wall {wall.name}"
    return EVERYWHERE


def _called(run: PlacedRun) -> str:
    if run.wall:
        return f"Wall {run.wall}"
    return f"{run.free.capitalize()} {run.name}".strip() if run.free else EVERYWHERE


def _lines(takeoff: Takeoff) -> Iterator[tuple[Decimal, list[tuple[str, float]]]]:
    """The money of each line and what it is counted from."""
    for line in takeoff.materials:
        if line.charge:
            yield line.charge.net, [(c.id, c.amount) for c in line.quantity.contributions]
    for work in takeoff.labour:
        if work.charge:
            ids, shares = work.work.ids, work.work.shares
            yield work.charge.net, list(zip(ids, shares or (1.0,) * len(ids), strict=True))
