"""Request sheets: what a mason, fabricator or metalworker templates and makes tops from; no saw cut of ours.

The first sheet has all pieces in their places and what is asked of the job; then each piece has one of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from countersunk.model.checks import worktop
from countersunk.model.checks.finding import Place
from countersunk.model.checks.things import Thing, of_length
from countersunk.model.document.stages import Stage
from countersunk.model.facts.lifting import people_for
from countersunk.model.facts.plans import face
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.cutouts import GROOVES, PlacedCutout
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.counting.slab_quantities import bound
from countersunk.takeoff.measuring.slabs import FINISHED
from countersunk.takeoff.plans.slabs import slab_plans
from countersunk.viewer.drawing.facts import FactGroup, column
from countersunk.viewer.drawing.handling import people
from countersunk.viewer.drawing.lettering import begun, degrees, kg, mm
from countersunk.viewer.drawing.paper import MARGIN, heading, sheet
from countersunk.viewer.drawing.piece import free_corners, piece_view, shape_words
from countersunk.viewer.drawing.piece_sheets import WINDOW, piece_origin, piece_scale
from countersunk.viewer.drawing.piece_tables import FOOT, MIDDLE, RIGHT, TOP, legend
from countersunk.viewer.drawing.plan import plan_view
from countersunk.viewer.drawing.setout import Face, Setout, place_of
from countersunk.viewer.drawing.shapes import A3, Mark, Sheet

LEFT = 238.0
"""Where the words of the first sheet begin, mm on paper."""

HAZARDS = (
    "Stone, engineered stone and porcelain: the dust of cutting and drilling holds silica and destroys lungs. "
    "Nothing is cut, ground or drilled dry on site; wet or drawn off, with a mask that fits, as local law asks.",
    "Slabs break at cut-outs and crush: carried on edge by as many as are listed or by machine, nobody below; "
    "supported along their whole length until they are bonded.",
    "Water, gas and electricity are shut off before work and connected by licensed people only.",
)
"""Common practice of the trade, no source; local codes and makers' sheets go first."""

BEFORE = (
    "Template once units and panels are fixed and level within 2 along and across; the sizes here are from the "
    "survey, for the price and for the slabs: what is templated goes first.",
    "Sinks, hobs and taps, with their sheets, are on site that day.",
)

MOUNTS = {
    "inset": "set on the top",
    "under": "under the top, its edge in view and finished; overhang over the bowl as agreed",
    "flush": "flush: rim let in, rebate and gap by its own sheet",
}


def request_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """The request of each maker; none where all tops are cut here."""
    made = [length for length in kitchen.lengths if length.run.stock.made_by]
    for maker in dict.fromkeys(length.run.stock.made_by for length in made):
        some = [length for length in made if length.run.stock.made_by == maker]
        yield _first(kitchen, maker, some)
        yield from (_of_piece(kitchen, length) for length in some)


def _first(kitchen: Kitchen, maker: str, some: Sequence[Length]) -> Sheet:
    words = f"TEMPLATE REQUEST for the {maker}"
    below = (
        "From above. Each piece named T has a sheet of its own; J are seams, S upstands. A request to template and "
        "to price: no size here is final."
    )
    groups = [
        FactGroup("BEFORE ANYTHING", HAZARDS, True),
        FactGroup("PIECES", tuple(_piece(kitchen, length) for length in some)),
        *_down(kitchen, some),
        *_upstands(kitchen, maker),
        FactGroup("EDGES IN VIEW", tuple(_edges(some))),
        FactGroup("SEAMS", tuple(_seams(kitchen, some))),
        FactGroup("SLABS, as we lay the pieces out", tuple(_slabs(kitchen, maker))),
        FactGroup("WALLS, as surveyed", tuple(_walls(kitchen))),
        FactGroup("WHAT CARRIES THEM", tuple(_carried(kitchen, some))),
        FactGroup("WAY IN", tuple(_way_in(kitchen))),
        FactGroup("WHEN", BEFORE),
    ]
    marks: list[Mark] = [
        *heading(words, below),
        *column([g for g in groups if g.sentences], LEFT, 262.0, A3[0] - MARGIN - 4.0 - LEFT, 262.0 - 46.0),
    ]
    return sheet(kitchen, f"template-request-{maker}", f"Template request, {maker}", marks, [plan_view(kitchen)])


def _piece(kitchen: Kitchen, length: Length) -> str:
    part, stock = length.part, length.run.stock
    size = f"{mm(part.length)} x {mm(part.depth)} x {mm(stock.thickness)}"
    lift = people(people_for(length.mass, part.length, face(length)))
    decor = kitchen.catalogue.decors[length.run.top].name
    return f"{length.id}: {size}, {stock.name}, {decor}; {kg(length.mass)}, {lift}"


def _upstands(kitchen: Kitchen, maker: str) -> Iterator[FactGroup]:
    made = kitchen.made_to_measure
    beside = [p for p in kitchen.parts if p.role in (Role.UPSTAND, Role.REVEAL) and p.id in made]
    pieces = [p for p in beside if made[p.id].made_by == maker]
    holes = {p.id: f", {len(p.outline.interiors)} holes" for p in pieces if p.outline.interiors}
    sizes = (f"{p.mark} {mm(p.length)} x {mm(p.depth)}{holes.get(p.id, '')}" for p in pieces)
    if pieces:
        words = f"{'; '.join(sizes)}: S upstands, upper edge and free ends finished; R in the reveal of a window"
        yield FactGroup("FROM THE SAME SLABS", (words,))


def _down(kitchen: Kitchen, some: Sequence[Length]) -> Iterator[FactGroup]:
    sentences = tuple(words for length in some for words in _ends(kitchen, length))
    if sentences:
        yield FactGroup("ENDS TO THE FLOOR", sentences)


def _ends(kitchen: Kitchen, length: Length) -> Iterator[str]:
    for part in kitchen.parts_of[length.key]:
        if part.role is Role.WATERFALL:
            size = f"{mm(part.length)} high x {mm(part.depth)} x {mm(part.thickness)}"
            joint = "mitred at 45°, veins run on" if part.pockets else "butted under it"
            weight = solids.volume(part) * length.run.stock.density * 1e-9
            yield f"{length.id} {part.which.at[0]}: {size}, {joint}; {kg(weight)}; foot on the finished floor"


def _edges(some: Sequence[Length]) -> Iterator[str]:
    metres = {t.id: sum(e.length for e in t.part.edges if e.condition in FINISHED) / 1000 for t in some}
    pieces = ", ".join(f"{id_} {length:.2f} m" for id_, length in metres.items())
    yield f"{sum(metres.values()):.2f} m finished as the face is: {pieces}"


def _seams(kitchen: Kitchen, some: Sequence[Length]) -> Iterator[str]:
    ids = {length.id for length in some}
    for join in (j for j in kitchen.joins if j.female in ids):
        yield f"{join.id}, {join.place}: {_seam(join)}, {mm(join.length)} long, {join.female} to {join.male}"


def _seam(join: Join) -> str:
    if join.kind == "full mitre":
        return f"both on the bisector of {degrees(join.angle)}"
    return "square, end to end" if join.kind == "in line" else "butt, the first runs through"


def _slabs(kitchen: Kitchen, maker: str) -> Iterator[str]:
    for plan in slab_plans(kitchen):
        if plan.stock.made_by == maker and plan.stock.slab:
            length, width = plan.stock.slab
            vein = ", all along the slab" if plan.stock.veined else ""
            count = f"{len(plan.slabs)} of {mm(length)} x {mm(width)}{vein}"
            yield f"{plan.stock.name}, {kitchen.catalogue.decors[plan.decor].name}: {count}; {bound(plan)}"


def _walls(kitchen: Kitchen) -> Iterator[str]:
    walls = kitchen.survey.walls
    yield ", ".join(
        f"{w.name} {mm(w.length)}" + (f" then {degrees(w.corner)}" if w.corner is not None else "") for w in walls
    )
    bowed = [wall.name for wall in kitchen.document.room.walls if wall.bow is not None]
    if bowed:
        yield f"Not straight: {', '.join(bowed)}, see the sheet of the survey"


def _carried(kitchen: Kitchen, some: Sequence[Length]) -> Iterator[str]:
    about = {of_length(length): length.id for length in some}
    yield from _places(worktop.unsupported_gap(kitchen), about, "{id}: spans {value} over an appliance")
    yield from _places(worktop.back_overhang(kitchen), about, "{id}: {value} past the back of its units")
    yield from _places(worktop.end_overhang(kitchen), about, "{id}: {value} past an end")
    yield "Else on base units, on their rails and sides; brackets or a sub-board as the maker's sheet asks"


def _places(places: Iterator[Place], about: dict[Thing, str], words: str) -> Iterator[str]:
    for place in places:
        if place.where.subject in about and place.value and place.value > 20.0:
            yield words.format(id=about[place.where.subject], value=mm(place.value))


def _way_in(kitchen: Kitchen) -> Iterator[str]:
    stages = [words for stage in kitchen.document.access for words in _stage(stage)]
    yield ", ".join(stages) if stages else "not measured: look before you price"


def _stage(stage: Stage) -> Iterator[str]:
    for kind, said in stage:
        if said is not None:
            sizes = (f"{name} {mm(value)}" for name, value in said if isinstance(value, float) and name != "wall")
            yield f"{kind} {' '.join(sizes)}"


def _of_piece(kitchen: Kitchen, length: Length) -> Sheet:
    setout, scale = Setout(length, Face.TOP), piece_scale(length)
    below = (
        "Seen from above as one stands in front of it: front edge below. Numbers are from the DATUM, along the "
        "front edge and from it. Sizes are as surveyed; what is templated goes first."
    )
    cutouts = [c for c in kitchen.cutouts if c.length == length.id]
    groups = [
        FactGroup(f"PIECE {length.id}", tuple(_about(kitchen, length))),
        *(FactGroup(f"SEAM {j.id}", (f"{begun(_seam(j))}, {place_of(length, j)}, {mm(j.length)} long",))
          for j in kitchen.joins if length.id in (j.female, j.male)),
        *(FactGroup(f"CUT-OUT {c.id}", tuple(_cutout(setout, c))) for c in cutouts),
    ]  # fmt: skip
    view = piece_view(kitchen, setout, scale, piece_origin(setout, scale), WINDOW)
    marks = [
        *heading(f"{length.id}  TEMPLATE REQUEST", below),
        *legend(kitchen, length, Face.TOP),
        *column(groups, MIDDLE, TOP - 3.0, RIGHT - MIDDLE, TOP - FOOT),
    ]
    return sheet(kitchen, f"template-request-{length.id}", f"Template request, {length.id}", marks, [view])


def _about(kitchen: Kitchen, length: Length) -> Iterator[str]:
    yield _piece(kitchen, length)
    yield from _ends(kitchen, length)
    corners = [f"{w.edge} {w.end} corner {shape_words(w)}" for w in free_corners(kitchen, length)]
    if corners:
        yield f"Seen from above: {', '.join(corners)}"
    if length.run.wall:
        yield f"Its back is at wall {length.run.wall}; face {mm(face(length))} above the floor"


def _cutout(setout: Setout, cutout: PlacedCutout) -> Iterator[str]:
    t = cutout.template
    x, y = setout.see((cutout.line.centroid.x, cutout.line.centroid.y))
    size = f"hole {mm(t.line[0])}" if t.diameter else f"line {mm(t.line[0])} x {mm(t.line[1])} R{mm(t.radius)}"
    yield f"{t.name}: {size}, middle {mm(abs(x))} from the datum, {mm(y)} from the front"
    if t.kind in ("sink", "hob"):
        rim = "" if t.mount == "under" else f", rim {mm(t.rim[0])} x {mm(t.rim[1])}, {mm(t.rim_height)} high"
        mass = f", {kg(t.mass)}" if t.mass else ""
        yield f"{begun(MOUNTS[t.mount])}{rim}, hangs {mm(t.depth)} below the face{mass}. Its own sheet goes first."
    if cutout.grooves:
        number, long, wide, deep, apart = GROOVES
        yield (
            f"Grooves on the {cutout.drainer}: {number} of {mm(wide)} wide, {mm(long)} long, {mm(apart)} apart, "
            f"falling to {mm(deep)} deep at the sink"
        )
