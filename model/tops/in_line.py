"""In-line joins: a row longer than its stock is made of two or more lengths, end to end.

Where nobody says, the joins go where they do least harm: over a unit that carries them and clear of its sides, away
from sinks and hobs, in as few pieces and as little stock as can be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from shapely import LineString, Polygon, unary_union
from shapely import box as rectangle

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.geometry.profile import lines_of
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import least, most, settled
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS, CLEAR_OF_SIDES, SHORTEST, Band, Pieces, borne
from countersunk.model.tops.joins import REACH, Interval, Joint
from countersunk.model.tops.rows import Stretch

Score = tuple[int, float, float, float]
"""Pieces, stock (mm), nearness to what is cut out (mm), squares of lengths (mm²); the less the better, in turn."""

FAR = 1_000.0
"""A join so far from what is cut out is no better still farther, mm."""


def in_line_joint(run: PlacedRun, at: float, notches: Iterable[Polygon] = (), band: Band = ()) -> Joint:
    """The join across the depth at ``at`` along the run, less ``notches``; the left length is its female.

    ``band`` is where it may lie.
    """
    beyond = run.frame.plan_to_room(rectangle(at, -REACH, at + 2 * REACH, REACH))
    left = across(run, at).difference(unary_union(list(notches)))
    line = run.frame.plan_to_room(most(lines_of(left), key=lambda part: part.length))
    return Joint(
        kind="in line", place=f"in line on {run.name} at {settled(at):.0f}", angle=180.0,
        line=line, male_line=line, male_side=beyond, female_loses=beyond, glue=run.stock.material.glue,
        at=at, band=band,
    )  # fmt: skip


def across(run: PlacedRun, at: float) -> LineString:
    """The whole depth of a top at ``at``, from the front, in the frame of its run."""
    return LineString([(at, run.stock.depth), (at, 0.0)])


def split_points(
    row: Stretch, extent: Interval, notches: Sequence[Interval], document: Document, catalogue: Catalogue
) -> list[float]:
    """Where the top of a row that reaches over ``extent`` is parted, mm along its run; nowhere if it need not be.

    ``notches`` are from where to where it is cut round something. A join keeps away from them if it can.
    Raises InputError where a wish, or every place, leaves a piece longer than the stock or without a unit under it.
    """
    wished = _wished(row, document)
    found = [at for _, at in wished], *best_partings(row, extent, notches, document, catalogue)
    points = next((points for points in found if points), [])
    longest = max(row.run.stock.lengths)
    field = wished[0][0] if wished else f"{row.run.field}.units"
    for low, high in pairwise([extent[0], *points, extent[1]]):
        if high - low > longest + CONTACT:
            raise _too_long(field, high - low, row)
        if points and not any(is_between(u, low, high) for u in row.units):
            raise InputError.at(
                field, found=f"a piece of top from {low:.0f} to {high:.0f} with no unit below its middle",
                allowed="joins that leave a unit under every piece", advice="a join further from the other one",
            )  # fmt: skip
    return points


def best_partings(
    row: Stretch, extent: Interval, notches: Sequence[Interval], document: Document, catalogue: Catalogue
) -> list[list[float]]:
    """The best points well clear of cut-outs, then just clear of them; none where a row is not to be parted.

    Of the fewest pieces, then of the least stock, then furthest from cut-outs and notches, then of pieces as alike
    as can be, which are the lightest to carry; the leftmost of those that are as good.
    """
    if _wished(row, document) or extent[1] - extent[0] <= max(row.run.stock.lengths) + CONTACT:
        return []
    cutouts, found = list(cutout_spans(row, document, catalogue)), list[list[float]]()
    for clear in CLEAR_OF_CUTOUTS:
        points = sorted({x for unit in row.units for x in _candidates(unit, row, extent, cutouts, clear)})
        best = _least(row, extent, points, [*cutouts, *notches])
        found += [best] if best else []
    return found


def allowed(row: Stretch, document: Document, catalogue: Catalogue, clear: float = CLEAR_OF_CUTOUTS[1]) -> Band:
    """Where a join may lie on the row, ``clear`` mm from what is cut out; the lengths that it leaves aside."""
    return borne(row, cutout_spans(row, document, catalogue), clear)


def allowed_beside(points: Sequence[float], extent: Interval, row: Stretch, band: Band) -> list[Band]:
    """The part of the ``band`` where each of the joins at ``points`` may lie while the others stay."""
    stops, pieces = [extent[0], *points, extent[1]], Pieces.of(row)
    return [pieces.between(band, stops[i], stops[i + 2]) for i in range(len(points))]


def is_between(unit: PlacedUnit, low: float, high: float) -> bool:
    """Whether a unit's middle lies between two places of its row; one that lies on a place is to the left of it."""
    return low + CONTACT < (unit.x + unit.right) / 2 <= high + CONTACT


def check_in_line(document: Document, rows: Iterable[Stretch]) -> None:
    """Raises InputError for a wished join that lies on no top."""
    found = {id(wish) for row in rows for wish in document.worktop.in_line if _is_on(wish.run, wish.at, row)}
    for i, wish in enumerate(document.worktop.in_line):
        if id(wish) not in found:
            known = ", ".join(f"{r.run.name} from {r.left:.0f} to {r.right:.0f}" for r in rows)
            raise InputError.at(
                f"worktop.in_line[{i}].at",
                found=f"{wish.at:g} on '{wish.run}'",
                allowed=f"a place on a top: {known}",
            )


def _is_on(run: str, at: float, row: Stretch) -> bool:
    return run == row.run.name and row.left < at < row.right


def _wished(row: Stretch, document: Document) -> list[tuple[str, float]]:
    """Field and place of each join that the document wants on the row, from left to right."""
    wishes = [(f"worktop.in_line[{i}].at", w) for i, w in enumerate(document.worktop.in_line)]
    on_row = [(field, w.at) for field, w in wishes if _is_on(w.run, w.at, row)]
    return sorted(on_row, key=lambda wish: wish[1])


def _too_long(field: str, length: float, row: Stretch) -> InputError:
    return InputError.at(
        field,
        found=f"a worktop {length:.0f} long in one piece",
        allowed=f"at most {max(row.run.stock.lengths):g}, the longest of {row.run.stock.code}",
        advice="a stock that is sold longer, a join over a unit between, or fewer units",
    )


def cutout_spans(row: Stretch, document: Document, catalogue: Catalogue) -> Iterator[Interval]:
    """From where to where each line to cut lies along the row, as far as the document is right about it."""
    units = {unit.key: unit for unit in row.units}
    for wish in document.cutouts:
        unit, template = units.get(wish.over), catalogue.templates.get(wish.template or "")
        line = template.line if template else wish.line
        if unit and line:
            middle, half = unit.x + unit.width / 2 + wish.shift, line[0] / 2
            yield (middle - half, middle + half)


def _candidates(
    unit: PlacedUnit, row: Stretch, extent: Interval, cutouts: list[Interval], clear: float
) -> Iterator[float]:
    """Places over a unit: its middle, where it begins and ends to be clear, and where a whole stock length ends."""
    low, high = unit.x + CLEAR_OF_SIDES, unit.right - CLEAR_OF_SIDES
    if not unit.family.kind.bears_join or low > high:
        return
    whole = [extent[0] + s for s in row.run.stock.lengths] + [extent[1] - s for s in row.run.stock.lengths]
    edges = [x for a, b in cutouts for x in (a - clear, b + clear)]
    for x in (low, (low + high) / 2, high, *whole, *edges):
        if low <= x <= high and all(_distance(x, span) >= clear - CONTACT for span in cutouts):
            yield x


def _distance(x: float, span: Interval) -> float:
    return max(span[0] - x, x - span[1], 0.0)


def _least(row: Stretch, extent: Interval, points: list[float], cut: list[Interval]) -> list[float] | None:
    """The shortest way from one end to the other over ``points``, each piece no longer than the stock."""
    stops = [extent[0], *points, extent[1]]
    ways: dict[float, tuple[Score, list[float]]] = {extent[0]: ((0, 0.0, 0.0, 0.0), [])}
    for stop in stops[1:]:
        steps = [
            (_more(score, bought, _nearness(stop, cut), stop - start), [*way, stop])
            for start, (score, way) in ways.items()
            if (bought := stock_for(row, stop - start)) and stop - start >= SHORTEST - CONTACT
        ]
        if steps:
            ways[stop] = least(steps, key=lambda step: (*step[0], *step[1]))
    found = ways.get(extent[1])
    return found[1][:-1] if found else None


def _more(score: Score, bought: float, near: float, length: float) -> Score:
    """The score with one piece more."""
    pieces, stock, nearness, unlike = score
    return pieces + 1, stock + bought, nearness + near, unlike + length**2


def stock_for(row: Stretch, length: float) -> float:
    """The shortest stock that gives a piece; 0 where none does."""
    return min((s for s in row.run.stock.lengths if s >= length - CONTACT), default=0.0)


def parted_score(stops: Sequence[float], cut: Sequence[Interval]) -> tuple[float, float]:
    """How good the joins at ``stops``, after the first, are among those that buy the same; the less the better."""
    joins = sum(_nearness(x, list(cut)) for x in stops[1:])
    return joins, sum((b - a) ** 2 for a, b in pairwise(stops))


def _nearness(x: float, cut: list[Interval]) -> float:
    """What a join at ``x`` costs in closeness to what is cut out: least where it is `FAR` away or more."""
    return -min([FAR, *(_distance(x, span) for span in cut)])
