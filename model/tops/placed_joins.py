"""Placed joins: where the joins go of a kitchen whose file wants them by stock and does not say where.

Every open corner is tried both ways round and every row that is longer than its stock is parted at its best place,
well clear of what is cut out and just clear of it. Each way is laid. Those count first that a fitter would make and
that can be carried in; of these the one with the fewest joins in line, then none near a cut-out, then the least
stock, then pieces as alike as can be. Only lengths that are sold are compared: prices change daily, and a kitchen
does not change with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.errors import InputError
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey import Survey
from countersunk.model.ties import ranked
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS
from countersunk.model.tops.cutouts import PlacedCutout, let_in
from countersunk.model.tops.in_line import best_partings, stock_for
from countersunk.model.tops.join_limits import near_cutouts, objections
from countersunk.model.tops.joins import Interval, Join
from countersunk.model.tops.rows import SharedCorner, Stretch, shared_corners, stretches
from countersunk.model.tops.worktops import Length, extents, lay_worktops

MOST = 64
"""No more ways than this are laid: six corners."""

Need = tuple[int, bool, float]
"""Joins in line, whether any join is near a cut-out, and stock (mm); the less the better, in turn."""


@dataclass(frozen=True)
class _Way:
    """One way to place the joins: the document that says so, and the tops laid by it."""

    document: Document
    catalogue: Catalogue
    lengths: tuple[Length, ...]
    joins: tuple[Join, ...]
    cutouts: tuple[PlacedCutout, ...]

    @property
    def order(self) -> tuple[float, ...]:
        """The less the better, in turn: what it needs, then how unlike the pieces are."""
        unlike = sum(length.part.length**2 for length in self.lengths)
        return (*need_of(self.lengths, self.joins, self.cutouts), unlike)

    @property
    def can_be(self) -> bool:
        """Whether a fitter would do it, and its pieces can be carried in."""
        allowances = self.catalogue.allowances.with_own(self.document.allowances)
        return not any(objections(self.lengths, self.joins, self.cutouts, self.document.access, allowances))


def placed_joins(runs: tuple[PlacedRun, ...], survey: Survey, document: Document, catalogue: Catalogue) -> Document:
    """Return the document with a place for every join, if it wants them by stock; otherwise as it is.

    As it is, too, where no way can be laid: laying it then says why.
    """
    if document.worktop.joins_by != "stock":
        return document
    wished = islice(_wishes(runs, survey, document, catalogue), MOST)
    laid = (_laid(runs, survey, one, catalogue) for one in wished)
    ways = ranked((way for way in laid if way is not None), key=lambda way: way.order)
    best = next((way for way in ways if way.can_be), ways[0] if ways else None)
    return best.document if best else document


def need_of(lengths: Sequence[Length], joins: Iterable[Join], cutouts: Iterable[PlacedCutout]) -> Need:
    """What the joins of tops need, by which they are placed: see `Need`."""
    some, cut = tuple(joins), tuple(cutouts)
    near = any(away < CLEAR_OF_CUTOUTS[0] for join in some for _, away in near_cutouts(join, cut))
    stock = sum(stock_for(length.stretch, length.part.length) for length in lengths)
    return sum(join.kind == "in line" for join in some), near, stock


def _wishes(
    runs: tuple[PlacedRun, ...], survey: Survey, document: Document, catalogue: Catalogue
) -> Iterator[Document]:
    """The document with every way to place its joins, those of the walls' order first."""
    shared = shared_corners(stretches(runs), survey, document)
    for corners in product(*(_ways(corner) for corner in shared)):
        turned = _saying(document, corners, document.worktop.in_line)
        try:
            rows = extents(runs, survey, turned, catalogue)
        except InputError:
            continue
        for parts in product(*(_partings(*row, turned, catalogue) for row in rows)):
            added = (join for part in parts for join in part)
            yield _saying(document, corners, (*document.worktop.in_line, *added))


def _ways(shared: SharedCorner) -> list[CornerJoin]:
    """A corner with either wall's top running through, unless the file says which; a full mitre is one way."""
    corner = shared.corner
    open_ = corner.wish.female is None and corner.kind != "full-mitre"
    females = (corner.left.name, corner.right.name) if open_ else (corner.female.name,)
    return [corner.wish.model_copy(update={"female": female, "kind": corner.kind}) for female in females]


def _partings(
    row: Stretch, extent: Interval, notched: Sequence[Interval], document: Document, catalogue: Catalogue
) -> list[tuple[InLineJoin, ...]]:
    """The joins in line of a row that has none in the file, in each way worth trying; none where it needs none."""
    ways = best_partings(row, extent, notched, document, catalogue) or [[]]
    return [tuple(InLineJoin(run=row.run.name, at=x) for x in points) for points in ways]


def _saying(document: Document, corners: tuple[CornerJoin, ...], in_line: tuple[InLineJoin, ...]) -> Document:
    top = document.worktop.model_copy(update={"joins": corners, "in_line": in_line})
    return document.model_copy(update={"worktop": top})


def _laid(
    runs: tuple[PlacedRun, ...], survey: Survey, document: Document, catalogue: Catalogue
) -> _Way | None:  # fmt: skip
    """A way with what it needs; None where it cannot be laid."""
    try:
        laid, joins = lay_worktops(runs, survey, document, catalogue)
        lengths, cutouts = let_in(document, laid, catalogue, [unit for run in runs for unit in run.units])
    except InputError:
        return None
    return _Way(document, catalogue, tuple(lengths), tuple(joins), tuple(cutouts))
