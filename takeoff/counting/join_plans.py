"""Join plans: every way to place the joins of a kitchen's tops, what speaks against some, and what the others cost.

A plan says for each corner which top runs through and how the other meets it, and for each row of units longer than
its stock where the top is parted in line, in as few pieces as can be; other rows are parted only where no plan can
be carried in otherwise. A join in line may lie anywhere in its bands (`model.tops.bands`). Along them
the price changes only where a piece grows past a length that is sold, so these places stand for all: the ends of
bands, sides and middles of units, where stock lengths end, and where the program itself would part the row. Of a
row with several joins, each set of lengths that may be bought is tried with its best places.

Each is built and priced as a whole kitchen; what cannot be built or carried in, or is not borne, is kept with the
reason. The others are ranked by their total price; of those that cost the same the program's own comes first, then
what keeps further from cut-outs, then the one whose heaviest piece is lighter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from itertools import product
from typing import Any

from countersunk.model.carry import passes
from countersunk.model.catalogue.catalogue import Catalogue, catalogue_of
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.facts.plans import overlap, unit_plan
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.layout.placing import PlacedRun, PlacedUnit, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.ties import least, ranked, rounded_up, settled
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS, CLEAR_OF_SIDES, SHORTEST, Band, Pieces, contains
from countersunk.model.tops.in_line import allowed, cutout_spans, parted_score, split_points, stock_for
from countersunk.model.tops.joins import Interval, Join
from countersunk.model.tops.rows import Stretch, shared_corners, stretches
from countersunk.model.tops.worktops import extents
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.stock.prices import PriceBook

MOST = 300
"""No more plans than this are tried; who has more corners pins some of them."""

NEAR_SINK = 300.0
"""A sink this near to a join hangs its weight on it, mm (common practice, no source)."""

Progress = Callable[[int, int], object]
Way = tuple[tuple[float, ...], float]
"""What is bought so far, sorted, and how far it reaches along the run, mm."""

Choice = tuple[tuple[CornerJoin, ...], tuple[InLineJoin, ...]]


@dataclass(frozen=True)
class PlannedLength:
    """A length of a plan: its measure along the run, mm, and its mass, kg."""

    id: str
    length: float
    mass: float


@dataclass(frozen=True)
class JoinPlan:
    """One way to place the joins. ``reasons`` are why it cannot be; ``notes`` what to know of it.

    ``total`` is the price of the whole kitchen without tax, None where it cannot be. ``own`` says that the program
    would do so by itself. ``bands`` are where each join in line may lie while the others stay, in their order.
    """

    corners: tuple[CornerJoin, ...]
    in_line: tuple[InLineJoin, ...]
    reasons: tuple[str, ...]
    notes: tuple[str, ...] = ()
    total: Decimal | None = None
    pieces: tuple[PlannedLength, ...] = ()
    own: bool = False
    bands: tuple[Band, ...] = ()

    @property
    def admissible(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.reasons

    @property
    def words(self) -> str:
        """The plan in words."""
        corners = [f"corner {c.corner}: {_joined(c)}" for c in self.corners]
        parted = [f"{j.run} parted at {settled(j.at):.0f}" for j in self.in_line]
        return "; ".join([*corners, *parted]) or "no joins"


def _joined(corner: CornerJoin) -> str:
    return "full mitre" if corner.kind == "full-mitre" else f"{corner.female} runs through, {corner.kind}"


def join_plans(
    document: Document,
    catalogue: Catalogue | None = None,
    prices: PriceBook | None = None,
    progress: Progress | None = None,
) -> list[JoinPlan]:
    """Every plan, the admissible ones first, the cheapest at the top.

    Raises InputError for a kitchen that cannot be laid out, or that has more than `MOST` plans.
    """
    catalogue = catalogue or catalogue_of(document)
    survey = survey_room(document.room)
    site = _Site(document, catalogue, survey, place_runs(document, survey, catalogue))
    plans = [*site.all_tried(smaller=False, prices=prices, progress=progress), *site.out_of_place()]
    if document.access and not any(plan.admissible for plan in plans):
        plans += site.all_tried(smaller=True, prices=prices, progress=progress)
    return ranked(_once(plans), key=_rank, tie=lambda plan: plan.words)


def unpinned(document: Document) -> Document:
    """The document without its joins, so that every way is open again."""
    return edited(document, {"worktop.joins": None, "worktop.in_line": None})


def pinned(document: Document, plan: JoinPlan) -> Document:
    """The document with the plan's joins in place of its own; a join at the same place keeps its key."""
    top = document.worktop
    keys = {wish.corner: wish.key for wish in top.joins} | {(wish.run, wish.at): wish.key for wish in top.in_line}
    joins = tuple(_keyed(join, keys.get(join.corner)) for join in plan.corners)
    in_line = tuple(_keyed(join, keys.get((join.run, join.at))) for join in plan.in_line)
    return edited(document, {"worktop.joins": joins or None, "worktop.in_line": in_line or None})


def _keyed(join: CornerJoin | InLineJoin, key: str | None) -> dict[str, Any]:
    plain = join.model_dump(exclude_none=True, exclude={"key"})
    return {**plain, "key": key} if key else plain


def _rank(plan: JoinPlan) -> tuple[bool, float, bool, int, float, int]:
    heaviest = max((p.mass for p in plan.pieces), default=0.0)
    total = plan.total if plan.total is not None else Decimal(0)
    return (not plan.admissible, float(total), not plan.own, len(plan.notes), heaviest, len(plan.in_line))


def _once(plans: Sequence[JoinPlan]) -> list[JoinPlan]:
    """Each plan once, by what it says."""
    return list({plan.words: plan for plan in reversed(plans)}.values())


@dataclass(frozen=True)
class _Row:
    """A row to part: what its top reaches over, where it is notched, and where a join may lie, mm along its run."""

    stretch: Stretch
    extent: Interval
    notched: Sequence[Interval]
    document: Document
    catalogue: Catalogue

    @property
    def needed(self) -> int:
        """How many joins its stock asks for."""
        return max(0, rounded_up((self.extent[1] - self.extent[0]) / self.pieces.longest) - 1)

    @cached_property
    def pieces(self) -> Pieces:
        """What its pieces must be."""
        return Pieces.of(self.stretch)

    @cached_property
    def allowed(self) -> Band:
        """Where it bears a join."""
        return allowed(self.stretch, self.document, self.catalogue)

    def own(self) -> tuple[float, ...]:
        """Where the program parts it by itself; nowhere where it finds no place."""
        try:
            return tuple(split_points(self.stretch, self.extent, self.notched, self.document, self.catalogue))
        except InputError:
            return ()

    @property
    def landmarks(self) -> list[float]:
        """Sides between units, and their middles."""
        units = self.stretch.units
        return sorted([*(u.x for u in units[1:]), *((u.x + u.right) / 2 for u in units)])

    def places(self) -> list[float]:
        """Ends of bands, sides and middles of units, ends of stock with its trim and without, the program's own."""
        better = allowed(self.stretch, self.document, self.catalogue, CLEAR_OF_CUTOUTS[0])
        trim = default_rules().saw.trim
        sold = [length - off for length in self.stretch.run.stock.lengths for off in (0.0, trim)]
        found = [x for band in (self.allowed, better) for span in band for x in span]
        found += [x for length in sold for x in (self.extent[0] + length, self.extent[1] - length)]
        near = {
            settled(x): x for x in (*found, *self.landmarks, *self.own()) if self.extent[0] < x < self.extent[1]
        }
        return sorted(near.values())

    def partings(self, count: int) -> list[tuple[float, ...]]:
        """The ways to part it by so many joins: of one join every place, of more the best of all that buy the same.

        Those are best that the program would take, by `parted_score`. Exact, piece by piece from the left.
        """
        bands, places = self.pieces.bands(self.allowed, self.extent, count), self.places()
        steps = [*([x for x in places if contains(band, x)] for band in bands), [self.extent[1]]]
        cut = [*cutout_spans(self.stretch, self.document, self.catalogue), *self.notched]
        ways: dict[Way, tuple[float, ...]] = {((), self.extent[0]): ()}
        for step in steps:
            longer: dict[Way, list[tuple[float, ...]]] = {}
            for (bought, start), points in ways.items():
                for x in step:
                    stock = stock_for(self.stretch, x - start) if settled(x - start) >= SHORTEST else 0.0
                    if stock:
                        longer.setdefault((tuple(sorted((*bought, stock))), x), []).append((*points, x))
            ways = {way: least(found, key=lambda points: self._score(points, cut)) for way, found in longer.items()}
        return [(x,) for x in steps[0]] if count == 1 else [points[:-1] for points in ways.values()]

    def _score(self, points: Sequence[float], cut: Sequence[Interval]) -> tuple[float, ...]:
        return (*parted_score((self.extent[0], *points), cut), *points)

    def against(self, x: float) -> list[str]:
        """What speaks against one join at a place outside the bands."""
        low, high, longest = *self.extent, self.pieces.longest
        found = [f"a worktop {p:.0f} long in one piece" for p in (x - low, high - x) if p > longest]
        found += [f"a piece {p:.0f} long; at least {SHORTEST:g}" for p in (x - low, high - x) if p < SHORTEST]
        for a, b in ((low, x), (x, high)):
            if not any(a + CONTACT < m <= b + CONTACT for m in self.pieces.middles):
                found.append(f"a piece from {a:.0f} to {b:.0f} over the middle of no unit")
        for unit in (u for u in self.stretch.units if u.x <= x <= u.right):
            side = min(x - unit.x, unit.right - x)
            if not unit.family.kind.bears_join:
                found.append(f"over {unit.name}, {unit.family.name}, which does not bear it")
            elif side < CLEAR_OF_SIDES:
                found.append(f"{side:.0f} from the side of {unit.name}; at least {CLEAR_OF_SIDES:g}")
        for a, b in cutout_spans(self.stretch, self.document, self.catalogue):
            away = max(a - x, x - b, 0.0)
            if away < CLEAR_OF_CUTOUTS[1]:
                found.append(f"{away:.0f} from a line to cut, {a:.0f} to {b:.0f}; at least {CLEAR_OF_CUTOUTS[1]:g}")
        return found


@dataclass(frozen=True)
class _Site:
    """A document with its room and runs, whose joins are to be placed."""

    document: Document
    catalogue: Catalogue
    survey: Survey
    runs: tuple[PlacedRun, ...]

    def all_tried(self, *, smaller: bool, prices: PriceBook | None, progress: Progress | None) -> list[JoinPlan]:
        """Every plan that nothing speaks against beforehand; ``smaller`` parts every row once more than it needs.

        Raises InputError for more than `MOST`.
        """
        choices = list(self._choices(smaller))
        if len(choices) > MOST:
            raise InputError.at(
                "worktop.joins",
                found=f"{len(choices)} ways to place the joins",
                allowed=f"at most {MOST}",
                advice="pin some: say female and kind of a corner, or where a row is parted, in the file",
            )
        own, plans = JoinPlan(*self.own(), ()).words, []
        for i, choice in enumerate(choices, start=1):
            plan = _tried(self.document, self.catalogue, prices, *choice)
            plans.append(replace(plan, own=plan.words == own))
            if progress:
                progress(i, len(choices))
        return plans

    def out_of_place(self) -> Iterator[JoinPlan]:
        """Sides and middles of units where the one join of a row must not lie, with why, for its own corners."""
        corners, _ = self.own()
        for row in self._rows(corners) or ():
            if row.needed == 1 and not self._wished(row.stretch):
                (band,) = row.pieces.bands(row.allowed, row.extent, 1)
                for x in (x for x in row.landmarks if not contains(band, x)):
                    yield JoinPlan(corners, (self._join(row, x),), tuple(row.against(x)))

    def own(self) -> Choice:
        """What the program does by itself, as far as the document leaves it open."""
        shared = shared_corners(stretches(self.runs), self.survey, self.document)
        corners = tuple(
            s.corner.wish.model_copy(update={"female": s.corner.female.name, "kind": s.corner.kind}) for s in shared
        )
        rows = self._rows(corners) or ()
        return corners, tuple(self._join(row, x) for row in rows for x in row.own())

    def _choices(self, smaller: bool) -> Iterator[Choice]:
        """Every corner either way round with every join, and every row whole or parted."""
        shared = shared_corners(stretches(self.runs), self.survey, unpinned(self.document))
        wished = {wish.corner: wish for wish in self.document.worktop.joins}
        for corners in product(*(_ways(s.corner.name, wished) for s in shared)):
            rows = self._rows(corners)
            if rows is None:
                yield corners, self.document.worktop.in_line  # built all the same, for the reason
            else:
                for parts in product(*(self._partings(row, smaller) for row in rows)):
                    yield corners, tuple(join for part in parts for join in part)

    def _rows(self, corners: tuple[CornerJoin, ...]) -> list[_Row] | None:
        """Every row as it is with these corners; None where they leave no one piece."""
        document = pinned(self.document, JoinPlan(corners, self.document.worktop.in_line, ()))
        try:
            found = extents(self.runs, self.survey, document, self.catalogue)
        except InputError:
            return None
        return [_Row(*one, document, self.catalogue) for one in found]

    def _partings(self, row: _Row, smaller: bool) -> list[tuple[InLineJoin, ...]]:
        """The row whole, or parted as the file asks or in every way; as the program does where there is none."""
        wishes = self._wished(row.stretch)
        if wishes:
            return [wishes]
        ways = [points for n in {row.needed, row.needed + smaller} for points in row.partings(n)]
        every = dict.fromkeys([*ways, row.own()] if row.needed else ways)
        return [tuple(self._join(row, x) for x in points) for points in every]

    def _wished(self, row: Stretch) -> tuple[InLineJoin, ...]:
        wishes = self.document.worktop.in_line
        return tuple(w for w in wishes if w.run == row.run.name and row.left < w.at < row.right)

    def _join(self, row: _Row, x: float) -> InLineJoin:
        return InLineJoin(run=row.stretch.run.name, at=x)


def _ways(corner: str, wished: dict[str, CornerJoin]) -> list[CornerJoin]:
    """A corner's five ways; only those that the document leaves open, if it says some of it.

    The halves of a full mitre are alike: it is one way, whichever is called the female.
    """
    wish = wished.get(corner, CornerJoin(corner=corner))
    females = [wish.female] if wish.female else corner.split("-")
    kinds = [wish.kind] if wish.kind else ["mitre", "butt", *([] if wish.notch else ["full-mitre"])]
    ways = [(kind, female) for kind in kinds for female in (females[:1] if kind == "full-mitre" else females)]
    return [wish.model_copy(update={"female": female, "kind": kind}) for kind, female in ways]


def _tried(
    document: Document,
    catalogue: Catalogue,
    prices: PriceBook | None,
    corners: tuple[CornerJoin, ...],
    in_line: tuple[InLineJoin, ...],
) -> JoinPlan:
    """The plan with what speaks against it, or with its price."""
    plan = JoinPlan(corners, in_line, ())
    try:
        kitchen = build(pinned(document, plan), catalogue)
    except InputError as error:
        return JoinPlan(corners, in_line, tuple(p.found for p in error.problems))
    reasons = (*_not_carried(kitchen), *(why for join in kitchen.joins for why in _against(join, kitchen)))
    pieces = tuple(PlannedLength(t.id, t.part.length, t.mass) for t in kitchen.lengths)
    notes = tuple(note for join in kitchen.joins for note in _to_know(join, kitchen))
    total = None if reasons else take_off(kitchen, prices).totals.net
    places = {
        (kitchen.length(j.female).run.name, settled(j.at)): j.band for j in kitchen.joins if j.kind == "in line"
    }
    bands = tuple(places[join.run, settled(join.at)] for join in in_line)
    return JoinPlan(corners, in_line, tuple(reasons), notes, total, pieces, bands=bands)


def _not_carried(kitchen: Kitchen) -> Iterator[str]:
    """The pieces that cannot be brought in."""
    if kitchen.document.access:
        for length in kitchen.lengths:
            part = length.part
            passage = passes(part.outline, part.thickness, kitchen.document.access, kitchen.allowances)
            if not passage.ok:
                size = settled(part.length)
                yield f"{length.id}, {size:.0f} long, cannot be carried in: {passage.sentence}"


def _against(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """What no fitter would do: a join over an appliance, over nothing, hard by a cut-out, or for a short piece."""
    under = [u for id_ in (join.female, join.male) for u in kitchen.length(id_).stretch.units]
    band = join.line.buffer(1.0)
    if join.kind == "in line":
        borne = [u for u in under if overlap(unit_plan(u), band)]
        for unit in borne:
            if not unit.family.kind.bears_join:
                yield f"{join.id} lies over {unit.name}, {unit.family.name}, which does not bear it"
            elif (side := _from_side(join, unit)) < CLEAR_OF_SIDES:
                yield f"{join.id} lies {side:.0f} from the side of {unit.name}; at least {CLEAR_OF_SIDES:g}"
        if not borne:
            yield f"{join.id} lies over no unit that bears it"
        yield from (f"{short}, in line with another; at least {SHORTEST:g}" for short in _short(join, kitchen))
    for name, distance in _cutouts_near(join, kitchen):
        if distance < CLEAR_OF_CUTOUTS[1]:
            yield f"{join.id} lies {distance:.0f} from the line of {name}; at least {CLEAR_OF_CUTOUTS[1]:g}"


def _from_side(join: Join, unit: PlacedUnit) -> float:
    """From the nearer side of a unit to a join over it, mm; to one in line."""
    return settled(min(abs(join.at - unit.x), abs(unit.right - join.at)))


def _short(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """The pieces at a join that are hard to hold, to cut and to bear."""
    lengths = {id_: settled(kitchen.length(id_).part.length) for id_ in (join.female, join.male)}
    yield from (f"{id_} is {length:.0f} long" for id_, length in lengths.items() if length < SHORTEST)


def _to_know(join: Join, kitchen: Kitchen) -> Iterator[str]:
    if join.kind != "in line":
        yield from (f"{short}: see whether the unit below holds it" for short in _short(join, kitchen))
    sinks = {c.name for c in kitchen.cutouts if c.template.kind == "sink"}
    for name, distance in _cutouts_near(join, kitchen):
        if CLEAR_OF_CUTOUTS[1] <= distance < CLEAR_OF_CUTOUTS[0]:
            why = ", and the sink's weight hangs beside it" if name in sinks and distance < NEAR_SINK else ""
            yield f"{join.id} lies {distance:.0f} from {name}; {CLEAR_OF_CUTOUTS[0]:g} is often asked{why}"


def _cutouts_near(join: Join, kitchen: Kitchen) -> Iterator[tuple[str, float]]:
    """Every cut-out of either half with its distance from the joint, mm."""
    for cutout in kitchen.cutouts:
        if cutout.length in (join.female, join.male):
            yield cutout.name, settled(cutout.line_in_room.distance(join.line))
