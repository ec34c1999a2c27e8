"""Card fitting: the second half of the order of work: seal, set in, fix, finish, hand over.

Common practice of the trade, no source. Makers' sheets and local codes go first.
"""

from __future__ import annotations

from collections.abc import Iterable

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.measuring.measures import raw_edges
from countersunk.viewer.drawing.card_step import Step
from countersunk.viewer.drawing.handling import Lifted, lifted, people
from countersunk.viewer.drawing.lettering import kg, mm
from countersunk.viewer.drawing.upstand import upstands

SHORT_OF_FACE = 5.0
"""A screw from below ends this far under the decor at least, mm (common practice, no source)."""


def sealing(kitchen: Kitchen) -> Iterable[Step]:
    """From the raw edge to the edge that is done, and what is set into the top before it is turned."""
    yield from _sealed(kitchen)
    yield from _taped(kitchen)
    yield from _sinks(kitchen)
    yield from _exposed(kitchen)


def _sealed(kitchen: Kitchen) -> Iterable[Step]:
    raw = [f"{t.id} {metres / 1000:.2f} m" for t, metres in raw_lengths(kitchen) if metres]
    if raw:
        what = f"Two coats, dabbed into the fibres, each dried: {', '.join(raw)}."
        where = "Ends, joins, notches, cut-outs and backs; the factory edge is sealed already."
        caution = "Sealer and cleaner: open windows, no flame or spark, gloves; read the sheet on the tin."
        yield Step("Seal every raw edge", (f"{what} {where}",), (caution,))


def _taped(kitchen: Kitchen) -> Iterable[Step]:
    heat = _listed((t for t in kitchen.lengths if _has(t, "heat")), EdgeCondition.CUTOUT_HEAT)
    edge = "dry sealed edge" if any(raw_edges(kitchen)) else "smoothed edge, as the makers of top and hob say"
    if heat:
        yield Step("Heat tape at the hob", (f"Aluminium tape over the {edge}, overlap 50: {heat}",))


def _sinks(kitchen: Kitchen) -> Iterable[Step]:
    how = {
        "inset": "Bead of sealant under the rim, clamps tightened from the middle outwards.",
        "under": "Under the top: fixings and sealant as the makers of sink and top say.",
    }
    mounts = {c.template.mount for c in kitchen.cutouts if c.template.kind == "sink"}
    if mounts:
        yield Step("Set the sink", tuple(words for mount, words in how.items() if mount in mounts))


RAGS = "Rags with oil can catch fire by themselves: lay them flat outdoors to dry, or in water in a closed tin."


def _exposed(kitchen: Kitchen) -> Iterable[Step]:
    """Bare ends: polished where the stock stands water, else with an edging strip."""
    bare = [t for t in kitchen.lengths if _has(t, "exposed")]
    polished, edged, oiled = (
        _listed((t for t in bare if t.run.stock.material.edges == finish), EdgeCondition.EXPOSED)
        for finish in ("polished", "sealed", "oiled")
    )
    if oiled:
        yield Step("Oil the exposed edges", (f"Sanded along the grain, end grain once more: {oiled}.",), (RAGS,))
    if polished:
        yield Step("Polish the exposed edges", (f"As the maker's sheet says: {polished}.",))
    if edged:
        how = "Sealed edge dry; contact adhesive on both faces; wait until touch dry; press; trim; file flush,"
        caution = "Contact adhesive: open windows, no flame or spark, no smoking, gloves."
        yield Step("Edging strips on exposed ends", (f"{edged}. {how} strokes towards the top.",), (caution,))


def raw_lengths(kitchen: Kitchen) -> list[tuple[Length, float]]:
    """Millimetres of raw edge of each length, from the same measure as the sealer that is ordered."""
    raw = {share.id for share in raw_edges(kitchen)}
    return [(t, sum(e.length for e in t.part.edges if e.id in raw)) for t in kitchen.lengths]


def _listed(lengths: Iterable[Length], *conditions: EdgeCondition) -> str:
    """Each length with the metres of its edges of these conditions."""
    metres = {t.id: sum(e.length for e in t.part.edges if e.condition in conditions) / 1000 for t in lengths}
    return ", ".join(f"{id_} {length:.2f} m" for id_, length in metres.items())


def _has(length: Length, word: str) -> bool:
    return any(e.condition.value.endswith(word) for e in length.part.edges)


def fitting(kitchen: Kitchen) -> Iterable[Step]:
    """From the drilled rail to the tops in place."""
    if kitchen.lengths:
        yield from _drilled(kitchen)
        yield _laid(kitchen)


def _drilled(kitchen: Kitchen) -> Iterable[Step]:
    screwed = [length for length in kitchen.lengths if not length.run.stock.material.bedded]
    if not screwed:
        return
    board = kitchen.catalogue.unit_boards.carcass.thickness
    longest = {
        f"{mm(board)} + {mm(t)} - {mm(SHORT_OF_FACE)} = {mm(board + t - SHORT_OF_FACE)}"
        for t in {length.run.stock.thickness for length in screwed}
    }
    limit = f"no screw longer than rail + top - {mm(SHORT_OF_FACE)}: {', '.join(sorted(longest))}"
    yield Step("Drill the fixing rails", (f"About every 350; {limit}.",))


DRAWN_TOGETHER: tuple[tuple[set[str], str], ...] = (
    (
        {"mitre", "full mitre", "in line"},
        "Mitre and in line: compound and biscuits, drawn together with the bolts from the front, wiped off. ",
    ),
    ({"butt", "tee"}, "Butt and tee: pushed up to the strip in sealant. "),
    (
        {"bonded"},
        "Bonded: seam adhesive over the whole face, a strip of the top below the seam, clamped as the maker's "
        "sheet says until it is hard, sanded flush. ",
    ),
)
"""How two lengths become one, by how the join is made (common practice of the trade, no source)."""


def _laid(kitchen: Kitchen) -> Step:
    females, makings = [j.female for j in kitchen.joins], {j.making for j in kitchen.joins}
    order = sorted(kitchen.lengths, key=lambda t: (t.id not in females, t.id))
    how = (
        f"{_in_order(order)}Align to wall and corner. "
        f"{''.join(words for those, words in DRAWN_TOGETHER if those & makings)}{_held(kitchen)}"
    )
    caution = (
        "Turning a long top: as many people as listed, one gives the word; hold it on edge, and mind cut-outs, "
        "where it breaks."
    )
    weights = (_weight(length, lifted(kitchen, length)) for length in order)
    return Step("Turn and lower the lengths", (how, f"{'; '.join(weights)}.", *_lowered(kitchen)), (caution,))


def _in_order(order: list[Length]) -> str:
    """Which length goes first, where there are several."""
    return f"In this order: {', '.join(t.id for t in order)}. " if len(order) > 1 else ""


def _weight(length: Length, what: Lifted) -> str:
    sink = ""
    if what.whole > what.cut:
        sink = f", {kg(what.whole)} with the sink in ({kg(what.whole - what.cut)}, see its maker's sheet)"
    return f"{length.id} {kg(what.cut)}{sink}: {people(what.people)}"


def _held(kitchen: Kitchen) -> str:
    """How the lengths are held to the rails, where they are not all held alike by their numbers."""
    bedded = [length.id for length in kitchen.lengths if length.run.stock.material.bedded]
    fixed = [length for length in kitchen.lengths if not length.run.stock.material.bedded]
    screwed = [length.id for length in fixed if length.run.stock.material.moves is None]
    slotted = [length.id for length in fixed if length.run.stock.material.moves is not None]
    both = len([some for some in (bedded, screwed, slotted) if some]) > 1
    ways = (
        (screwed, "Then screw down from below"),
        (
            slotted,
            "Then screw down from below through slots across the grain (or holes of 8 for a screw of 4), "
            "tight at the front and just snug behind, so that the wood can move",
        ),
        (bedded, "In dabs of silicone on the rails, about every 300, and no screw into the top"),
    )
    return " ".join(way + (f": {', '.join(those)}." if both else ".") for those, way in ways if those)


def beads(kitchen: Kitchen) -> Iterable[Step]:
    """The silicone, once all stands on and at the tops."""
    walled = (t for t in kitchen.lengths if _has(t, "wall") or _has(t, "unit"))
    beads = _listed(walled, EdgeCondition.WALL, EdgeCondition.TALL)
    if beads:
        yield Step("Silicone", (f"At wall and tall units, on the top side only, after fitting: {beads}.",))


def _lowered(kitchen: Kitchen) -> list[str]:
    """The tops that are tilted in between two walls."""
    tight = [(t.id, t.left.gap + t.right.gap) for t in kitchen.lengths]
    told = [f"{id_} {mm(gap)} short" for id_, gap in tight if gap]
    return [f"Between two walls, tilted and lowered in: {', '.join(told)}."] if told else []


def ends_to_floor(kitchen: Kitchen) -> Iterable[Step]:
    """The ends of tops cut here that go down to the floor."""
    down = [p for p in kitchen.parts if p.role is Role.WATERFALL]
    if down:
        listed = ", ".join(f"{p.mark} {mm(p.length)} x {mm(p.depth)}" for p in down)
        yield Step(
            "Ends down to the floor",
            (
                f"Bought to size: {listed}. Tried dry, plumb at the unit's side, foot scribed to the floor; "
                "glued to the top as the maker's sheet says, clamped square, screwed from inside the unit.",
            ),
            ("Two people; nothing leans on it until it is hard.",),
        )


def made_to_measure(kitchen: Kitchen) -> Iterable[Step]:
    """What is made ready for whoever makes tops to measure, and who lifts them."""
    made = [t for t in kitchen.lengths if t.run.stock.made_by]
    if not made:
        return
    makers = " and ".join(dict.fromkeys(f"the {t.run.stock.made_by}" for t in made))
    weights = "; ".join(_weight(t, lifted(kitchen, t)) for t in made)
    yield Step(
        f"Tops made by {makers}",
        (
            "Units fixed, level along and across within 2, tied to each other and the wall; sinks and hobs on "
            f"site with their sheets. Then {makers} template, from template-request.pdf, and fit.",
            f"{weights}.",
        ),
        ("Stone, porcelain and engineered stone are never cut, ground or drilled dry here: silica dust. Slabs are "
         "carried on edge, with nobody below them.",),
    )  # fmt: skip


def standing(kitchen: Kitchen) -> Iterable[Step]:
    """Upstands, once the tops are fixed."""
    pieces = upstands(kitchen)
    if not pieces:
        return
    listed = ", ".join(f"{p.part.mark} wall {p.wall.name} {mm(p.part.length)}" for p in pieces)
    yield Step(
        "Upstands",
        (
            f"Once the tops are fixed; measure each stretch again, then cut: {listed} (sheet upstands). Sawn "
            "ends and "
            "holes sealed; try dry; adhesive on the back, a thin bead of silicone at the foot; press on, wipe off. "
            "When it holds, silicone at the top edge and where ends meet.",
        ),
        (
            "Cables and pipes in the wall: glue, do not screw. Behind a hob only what makers' sheets and local "
            "codes "
            "allow. Adhesive: open windows, no flame or spark, gloves.",
        ),
    )


def connecting(kitchen: Kitchen) -> Iterable[Step]:
    """What is let in, by those who may, and the handing over."""
    small = [f"{c.name} in {c.length}" for c in kitchen.cutouts if c.template.kind in ("tap", "switch", "socket")]
    edge = "sealed edge dry" if any(raw_edges(kitchen)) else "edge clean and dry"
    if small:
        yield Step(
            "Tap, switch and socket",
            (f"{', '.join(small)}: {edge}, seal under the collar, nut from below, hand tight and a quarter turn.",),
            ("Not connected here: see the next step.",),
        )
    if kitchen.cutouts:
        yield Step(
            "Appliances and sink are connected",
            (
                "By licensed people, by the makers' sheets and local codes, which go before everything on these "
                "papers.",
            ),
            ("Water, waste, gas and electricity are shut off before work and connected by licensed people only.",),
        )
    yield Step(
        "Clean and hand over",
        (
            "Take the film off, clean, show the user: hot pans and knives never on the surface, water wiped up "
            "at joins.",
        ),
    )
