"""Kitchen: the whole model, and `build`, the one pure function that makes it from a document."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from shapely import Point

from countersunk import shared
from countersunk.model.carry import way_in
from countersunk.model.catalogue.catalogue import Catalogue, Stock, catalogue_of
from countersunk.model.catalogue.method import Ready
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.fitted import AsFitted
from countersunk.model.document.keys import ROWS, check_keys
from countersunk.model.document.schema import Document, Island, Peninsula, Run
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import Source, read_file, read_text
from countersunk.model.fit import check_fit
from countersunk.model.fitted.standing import carried
from countersunk.model.fitted.survey import FittedSurvey, survey_fitted
from countersunk.model.geometry.identity import ISLAND_BACK, PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.fronts import DECOR, HANDLE, STYLE, chosen, decors_by_part
from countersunk.model.layout.placing import PlacedRun, PlacedUnit, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.ties import least
from countersunk.model.tops.cutouts import PlacedCutout, bodies, let_in
from countersunk.model.tops.free_ends import end_posts
from countersunk.model.tops.infill import infills
from countersunk.model.tops.joins import Join
from countersunk.model.tops.placed_joins import placed_joins
from countersunk.model.tops.reveals import reveal_pieces
from countersunk.model.tops.slots import slotted, strip
from countersunk.model.tops.splashbacks import PlacedSplashback, lay_splashbacks
from countersunk.model.tops.upstands import lay_upstands
from countersunk.model.tops.waterfalls import mitred, waterfalls
from countersunk.model.tops.worktops import Length, lay_worktops
from countersunk.model.units import unit_parts
from countersunk.model.units.lights import lights
from countersunk.model.units.panels import arms, island_back
from countersunk.model.units.trims import plinths_beyond, trims

ON_TOPS = (Role.UPSTAND, Role.REVEAL)
"""Parts in the decor of the top that they stand on or meet."""


@dataclass(frozen=True)
class Kitchen:
    """Everything that is read from: nothing after `build` changes it.

    Once units were measured as ``fitted``, they stand where they were, as they were made, and tops are cut to them.
    ``plan`` is then the kitchen as planned. ``placed`` is the document by which tops are laid: it says where joins
    go that are placed by stock.
    """

    document: Document
    catalogue: Catalogue
    survey: Survey
    runs: tuple[PlacedRun, ...]
    lengths: tuple[Length, ...]
    joins: tuple[Join, ...]
    cutouts: tuple[PlacedCutout, ...]
    parts: tuple[Part, ...]
    splashbacks: tuple[PlacedSplashback, ...] = ()
    plan: Kitchen | None = None
    fitted: FittedSurvey | None = None
    placed: Document | None = None

    @property
    def planned(self) -> Kitchen:
        """The kitchen as planned, which carcasses are made by: itself where no fitted units were measured."""
        return self.plan or self

    @cached_property
    def cut_here(self) -> Kitchen:
        """The same kitchen with only the tops, joins, cut-outs and upstands that are cut here.

        Those that a mason or fabricator makes to measure are left out. Its plan is this one's, so that papers name
        one kitchen.
        """
        made = {t.id for t in self.lengths if t.run.stock.made_by}
        if not made:
            return self
        away = self.made_to_measure
        return replace(
            self,
            lengths=tuple(t for t in self.lengths if t.id not in made),
            joins=tuple(j for j in self.joins if j.female not in made),
            cutouts=tuple(c for c in self.cutouts if c.length not in made),
            parts=tuple(p for p in self.parts if p.id not in away),
            plan=self.planned,
        )

    @cached_property
    def made_to_measure(self) -> Mapping[str, Stock]:
        """The stock of every part that a mason, fabricator or metalworker makes from slabs, by the part's id: tops,
        what of them goes down to the floor or on into a window, and upstands that are cut from the same slabs.
        """
        upstands = self.catalogue.upstands
        made = {t.key: t.run.stock for t in self.lengths if t.run.stock.made_by}
        down = (p for p in self.parts if p.role is Role.WATERFALL and p.owner in made)
        of_top = (p.id for p in self.parts if p.role is Role.UPSTAND and upstands[p.material].of_top)
        walls = [t.run.stock for t in self.lengths if t.run.wall]
        reveals = {p.id: self.top_at(p) for p in self.parts if p.role is Role.REVEAL}
        return {
            **{t.part.id: t.run.stock for t in self.lengths if t.run.stock.made_by},
            **{part.id: made[part.owner] for part in down},
            **{id_: made[top.key] for id_, top in reveals.items() if top.key in made},
            **{id_: stock for stock in walls[:1] for id_ in of_top},
        }

    @cached_property
    def allowances(self) -> Allowances:
        """Those of the catalogue, with what the document says in their place."""
        return self.catalogue.allowances.with_own(self.document.allowances)

    @property
    def tops_from(self) -> str:
        """What tops are measured by, in words, once units were measured as fitted; nothing before."""
        return f"from readings on the fitted units, of {self.fitted.date}" if self.fitted else ""

    @cached_property
    def units(self) -> tuple[PlacedUnit, ...]:
        """Every unit of every run."""
        return tuple(unit for run in self.runs for unit in run.units)

    @cached_property
    def parts_by_id(self) -> Mapping[str, Part]:
        """Every part by its id."""
        return {part.id: part for part in self.parts}

    @cached_property
    def parts_by_key(self) -> Mapping[PartKey, Part]:
        """Every part by its key."""
        return {part.key: part for part in self.parts}

    @cached_property
    def parts_by_mark(self) -> Mapping[str, Part]:
        """Every part by what people read of its identity today, such as ``A3.door.left``."""
        return {part.mark: part for part in self.parts}

    @cached_property
    def parts_of(self) -> Mapping[str, tuple[Part, ...]]:
        """The parts of each unit, length, sink or hob, by its key."""
        owners: dict[str, list[Part]] = {}
        for part in self.parts:
            owners.setdefault(part.owner, []).append(part)
        return {owner: tuple(parts) for owner, parts in owners.items()}

    @cached_property
    def parts_behind(self) -> Mapping[str, tuple[Part, ...]]:
        """The parts behind anything that lasts, by its key or id: a part, an edge, a join, or what owns parts."""
        edges = {edge.id: (part,) for part in self.parts for edge in part.edges}
        joins = {
            j.key: (self.length(j.female).part, self.length(j.male).part, *self.parts_of.get(j.key, ()))
            for j in self.joins
        }
        return {**edges, **self.parts_of, **joins, **{p.id: (p,) for p in self.parts}}

    @cached_property
    def ready_parts(self) -> Mapping[str, Ready]:
        """The boards that come with a carcass that is bought, by id: nobody saws, bands or joins them."""
        return {
            part.id: unit.ready
            for unit in self.units
            if unit.ready
            for part in self.parts_of.get(unit.key, ())
            if part.material in self.catalogue.boards and part.role is not Role.PLINTH
            if part.layer is not Layer.FRONTS or "fronts" in unit.ready.comes_with
            if (part.role, part.which) != (Role.PANEL, ISLAND_BACK)
        }

    @cached_property
    def owners(self) -> Mapping[str, str]:
        """The key of what owns each part and each edge, by the id of that; an owner's own key by itself."""
        edges = {edge.id: part.owner for part in self.parts for edge in part.edges}
        return {**edges, **{part.id: part.owner for part in self.parts}, **{key: key for key in self.parts_of}}

    @cached_property
    def marks(self) -> Mapping[str, str]:
        """What today's numbering calls everything that has a key, and the parts and edges of it."""
        return {
            **{unit.key: unit.name for unit in self.units},
            **{cutout.key: cutout.id for cutout in self.cutouts},
            **{join.key: join.id for join in self.joins},
            **{edge.id: edge.mark for part in self.parts for edge in part.edges},
            **{part.id: part.mark for part in self.parts},
        }

    def decor_of(self, part: Part) -> str:
        """The code of the decor that a part is in; nothing where it has a look of its own.

        A worktop and what lies on it are in the worktop's. See `model.layout.fronts` for all else.
        """
        if part.role is Role.SPLASHBACK and self.catalogue.splashbacks[part.material].colour:
            return ""
        return self.top_decor_at(part.id) if part.layer is Layer.WORKTOPS else self._faced.get(part.id, "")

    def top_decor_at(self, id_: str) -> str:
        """The code of the decor of the worktop at anything that lasts, by its key or id.

        That is of the row of a length, a unit, a cut-out or the wall of an upstand, else the kitchen's.
        """
        return self._of_tops.get(self.owners.get(id_, id_), self.document.worktop.decor)

    def fronts_at(self, id_: str) -> str:
        """The code of the decor of the fronts at anything that lasts, by its key or id.

        That is a part's own, else that of the unit that it belongs to, else the kitchen's.
        """
        return self._faced.get(id_) or self._of_units.get(self.owners.get(id_, id_), self.document.fronts.decor)

    @cached_property
    def front_decors(self) -> tuple[str, ...]:
        """The code of every decor that fronts are in, each once, that of most parts first."""
        return tuple(code for code, _ in Counter(self._faced.values()).most_common())

    @cached_property
    def _faced(self) -> Mapping[str, str]:
        return decors_by_part(self.runs, self.parts, self.catalogue.boards, self.document.fronts)

    @cached_property
    def _of_tops(self) -> Mapping[str, str]:
        lengths = {length.id: length.run.top for length in self.lengths}
        return {
            **{unit.key: run.top for run in self.runs for unit in run.units},
            **{length.key: length.run.top for length in self.lengths},
            **{join.key: lengths[join.female] for join in self.joins},
            **{cutout.key: lengths[cutout.length] for cutout in self.cutouts},
            **{part.owner: self.top_at(part).run.top for part in self.parts if part.role in ON_TOPS},
        }

    def top_at(self, part: Part) -> Length:
        """The length of worktop that an upstand stands on or a piece in a reveal meets: that nearest its middle."""
        middle = part.outline.centroid
        x, y, _ = part.pose.to_room((middle.x, middle.y, 0.0))
        plans = {length.id: length.part.pose.plan_to_room(length.part.outline) for length in self.lengths}
        return least(self.lengths, key=lambda length: plans[length.id].distance(Point(x, y)))

    @property
    def top_decors(self) -> tuple[str, ...]:
        """The code of every decor that tops are in, each once, in the order of the lengths."""
        return tuple(dict.fromkeys(length.run.top for length in self.lengths))

    @cached_property
    def _of_units(self) -> Mapping[str, str]:
        return {unit.key: unit.fronts for unit in self.units}

    def length(self, id_: str) -> Length:
        """The length of worktop called T1, T2 …. Raises KeyError."""
        return {length.id: length for length in self.lengths}[id_]


def build(document: Document, catalogue: Catalogue | None = None) -> Kitchen:
    """Return the kitchen of a document: survey, layout, tops, parts, in this order.

    Where its units were measured once they stood, tops are cut to them, and ``planned`` is what was planned.

    Without a ``catalogue``, the one that the document names. Raises InputError for what cannot be built.

    >>> from countersunk import build, open_kitchen
    >>> document = open_kitchen("straight").document
    >>> build(document.model_copy(update={"note": "another note"})).document.note
    'another note'
    """
    catalogue = catalogue or catalogue_of(document)
    check_keys(document)
    _check_codes(document, catalogue)
    way_in(document.access)
    survey = survey_room(document.room)
    runs = place_runs(document, survey, catalogue)
    plan = _topped(document, catalogue, survey, runs, _made(runs, survey))
    check_fit(survey, runs, plan.parts_of, plan.lengths, plan.cutouts)
    return plan if document.fitted is None else _as_fitted(plan, document.fitted)


def _made(runs: tuple[PlacedRun, ...], survey: Survey) -> tuple[Part, ...]:
    """The parts of units and of what runs along them."""
    units = (part for run in runs for unit in run.units for part in unit_parts(unit))
    beyond = plinths_beyond(runs, survey)
    along = (part for run in runs for part in (*trims(run, beyond), *island_back(run), *arms(run), *lights(run)))
    return (*units, *along)


def _topped(
    document: Document, catalogue: Catalogue, survey: Survey, runs: tuple[PlacedRun, ...], made: tuple[Part, ...]
) -> Kitchen:
    """The kitchen of runs with tops over them; ``made`` are the parts of the runs."""
    placed = placed_joins(runs, survey, document, catalogue)
    laid, joins = lay_worktops(runs, survey, placed, catalogue)
    _check_joined(joins, laid)
    lengths, cutouts = let_in(document, laid, catalogue, [u for run in runs for u in run.units])
    lengths = [mitred(slotted(length, joins), document.worktop.corners) for length in lengths]
    strips = [strip(j, length) for j in joins if j.has_strip for length in lengths if length.id == j.female]
    upstands = lay_upstands(lengths, survey, document, catalogue)
    splashbacks = lay_splashbacks(document, catalogue, survey, runs, lengths, cutouts, upstands)
    parts = [
        *made,
        *(length.part for length in lengths),
        *strips,
        *upstands,
        *(part for splashback in splashbacks for part in splashback.parts),
        *infills(runs, lengths, strips, document.worktop.overhang.front),
        *reveal_pieces(survey, lengths, catalogue.allowances.with_own(document.allowances).notch),
        *waterfalls(lengths, document.worktop.corners),
        *end_posts(document, ((t.stretch, side, end) for t in lengths for side, end in t.ends)),
        *(part for cutout in cutouts for part in bodies(cutout)),
    ]
    return Kitchen(
        document, catalogue, survey, runs, tuple(lengths), tuple(joins), tuple(cutouts), tuple(parts), splashbacks,
        placed=placed,
    )  # fmt: skip


def _as_fitted(plan: Kitchen, fitted: AsFitted) -> Kitchen:
    """The kitchen with its units where they were fitted, and tops cut to them.

    That units have their places is a fact now: only tops must still find theirs.
    """
    found = survey_fitted(plan.placed or plan.document, fitted, plan.survey, plan.runs)
    made = tuple(carried(_made(plan.runs, plan.survey), plan.runs, found.runs))
    kitchen = _topped(found.document, plan.catalogue, found.survey, found.runs, made)
    check_fit(found.survey, (), kitchen.parts_of, kitchen.lengths, kitchen.cutouts)
    return replace(kitchen, document=plan.document, plan=plan, fitted=found)


def open_kitchen(file: Path | str, catalogue: Catalogue | None = None) -> Kitchen:
    """Return the kitchen of a file, or of the demo of that name, read and built.

    Without a ``catalogue``, by the one that the file names: of the program, or a folder beside the file.

    Raises InputError with file and line for what cannot be read or built.

    >>> from countersunk import open_kitchen
    >>> kitchen = open_kitchen("corner")
    >>> len(kitchen.units), [length.id for length in kitchen.lengths]
    (13, ['T1', 'T2'])
    """
    path = kitchen_path(file)
    return _built(*read_file(path, Document), catalogue, path.parent)


def kitchen_path(file: Path | str) -> Path:
    """Return the path itself, or that of the demo kitchen of that name where there is no such file."""
    path, demo = Path(file), shared.KITCHENS / f"{file}.yaml"
    return demo if not path.exists() and demo.exists() else path


def read_kitchen(raw: bytes, file: str, catalogue: Catalogue | None = None) -> Kitchen:
    """The same from the bytes of an uploaded file named ``file``."""
    return _built(*read_text(raw, Document, file), catalogue)


def _built(document: Document, source: Source, catalogue: Catalogue | None, beside: Path | None = None) -> Kitchen:
    with source.locating():
        return build(document, catalogue or catalogue_of(document, beside))


def _rows(document: Document) -> Iterator[tuple[str, int, Run | Island | Peninsula]]:
    for kind in ROWS:
        yield from ((kind, i, row) for i, row in enumerate(getattr(document, kind)))


def _check_joined(joins: Iterable[Join], lengths: Iterable[Length]) -> None:
    """Raises InputError for a join of two tops in different decors."""
    by_id = {length.id: length.run for length in lengths}
    for join in joins:
        one, other = by_id[join.female], by_id[join.male]
        if one.top != other.top:
            raise InputError.at(
                f"{other.field}.top",
                found=f"a top in {other.top} that is joined to one in {one.top}",
                allowed="one decor for tops that are joined",
                advice=f"leave it out, or choose the same for {one.name}",
            )
        if (one.stock.slab, one.stock.core) != (other.stock.slab, other.stock.core) and (
            one.stock.slab or other.stock.slab
        ):
            raise InputError.at(
                f"{other.field}.stock",
                found=f"a top of {other.stock.code} that is joined to one of {one.stock.code}",
                allowed="slabs of one kind for tops that are joined",
                advice=f"the same for {one.name} and {other.name}, or a gap between them",
            )


def _check_codes(document: Document, catalogue: Catalogue) -> None:
    known = {
        use: [d.code for d in catalogue.decors.values() if d.use == use]
        for use in ("worktop", "front", "paint", "floor")
    }
    known |= {"style": list(catalogue.styles), "handle": list(catalogue.handles), "lights": list(catalogue.lights)}
    known |= {"arms": list(catalogue.arms)}
    wanted = [
        ("worktop", "worktop.decor", document.worktop.decor),
        *(("worktop", f"{kind}[{i}].top", row.top) for kind, i, row in _rows(document) if row.top),
        *(("lights", f"runs[{i}].lights", run.lights) for i, run in enumerate(document.runs) if run.lights),
        *(
            ("arms", f"{kind}[{i}].arms", row.arms)
            for kind, i, row in _rows(document)
            if not isinstance(row, Run) and row.arms
        ),
        *(("front", *at) for at in chosen(document, DECOR)),
        *(
            (use, f"finishes.{field}", code)
            for use, field, code in (
                ("paint", "walls", document.finishes.walls),
                ("floor", "floor", document.finishes.floor),
            )
            if code is not None
        ),
        *(("style", *at) for at in chosen(document, STYLE)),
        *(("handle", *at) for at in chosen(document, HANDLE)),
    ]
    wrong = [InputError.unknown(field, code, known[use]) for use, field, code in wanted if code not in known[use]]
    if wrong:
        problems = [problem for error in wrong for problem in error.problems]
        raise InputError(problems, sum(error.more for error in wrong))
