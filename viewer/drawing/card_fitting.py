"""Card fitting: the second half of the order of work: seal, set in, fix, finish, hand over.

Common practice of the trade, no source. Makers' sheets and local codes go first.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.kitchen import Kitchen
from model.part import EdgeCondition
from model.worktops import Length
from takeoff.measures import raw_edges
from viewer.drawing.card_step import Step
from viewer.drawing.lettering import mm
from viewer.drawing.upstand import upstands

SHORT_OF_FACE = 5.0
"""A screw from below ends this far under the decor at least, mm (common practice, no source)."""


def sealing(kitchen: Kitchen) -> Iterable[Step]:
    """From the raw edge to the edge that is done, and what is set into the top before it is turned."""
    raw = [f"{t.id} {metres / 1000:.2f} m" for t, metres in raw_lengths(kitchen) if metres]
    if raw:
        yield Step(
            "Seal every raw edge",
            (
                f"Two coats, dabbed into the fibres, each dried: {', '.join(raw)}. Ends, joins, notches, "
                "cut-outs and "
                "backs; the factory edge is sealed already.",
            ),
            ("Sealer and cleaner: open windows, no flame or spark, gloves; read the sheet on the tin.",),
        )
    heat = [f"{t.id} {_metres(t, [EdgeCondition.CUTOUT_HEAT])}" for t in kitchen.lengths if _has(t, "heat")]
    if heat:
        yield Step(
            "Heat tape at the hob", (f"Aluminium tape over the dry sealed edge, overlap 50: {', '.join(heat)}",)
        )
    mounts = [c.template.mount for c in kitchen.cutouts if c.template.kind == "sink"]
    inset = (
        ["Bead of sealant under the rim, clamps tightened from the middle outwards."] if "inset" in mounts else []
    )
    under = ["Under the top: fixings and sealant as the makers of sink and top say."] if "under" in mounts else []
    if mounts:
        yield Step("Set the sink", (*inset, *under))
    bare = [t for t in kitchen.lengths if _has(t, "exposed")]
    exposed = [f"{t.id} {_metres(t, [EdgeCondition.EXPOSED])}" for t in bare if t.run.stock.core == "particleboard"]
    polished = [
        f"{t.id} {_metres(t, [EdgeCondition.EXPOSED])}" for t in bare if t.run.stock.core != "particleboard"
    ]
    if polished:
        yield Step("Polish the exposed edges", (f"As the maker's sheet says: {', '.join(polished)}.",))
    if exposed:
        yield Step(
            "Edging strips on exposed ends",
            (
                f"{', '.join(exposed)}. Sealed edge dry; contact adhesive on both faces; wait until touch "
                "dry; press; "
                "trim; file flush, strokes towards the top.",
            ),
            ("Contact adhesive: open windows, no flame or spark, no smoking, gloves.",),
        )


def raw_lengths(kitchen: Kitchen) -> list[tuple[Length, float]]:
    """Millimetres of raw edge of each length, from the same measure as the sealer that is ordered."""
    raw = {share.id for share in raw_edges(kitchen)}
    return [(t, sum(e.length for e in t.part.edges if e.id in raw)) for t in kitchen.lengths]


def _metres(length: Length, conditions: list[EdgeCondition]) -> str:
    return f"{sum(e.length for e in length.part.edges if e.condition in conditions) / 1000:.2f} m"


def _has(length: Length, word: str) -> bool:
    return any(e.condition.value.endswith(word) for e in length.part.edges)


def fitting(kitchen: Kitchen) -> Iterable[Step]:
    """From the drilled rail to the bead of silicone."""
    if not kitchen.lengths:
        return
    board = kitchen.catalogue.unit_boards.carcass.thickness
    longest = {
        f"{mm(board)} + {mm(t)} - {mm(SHORT_OF_FACE)} = {mm(board + t - SHORT_OF_FACE)}"
        for t in sorted({length.run.stock.thickness for length in kitchen.lengths})
    }
    yield Step(
        "Drill the fixing rails",
        (f"About every 350; no screw longer than rail + top - {mm(SHORT_OF_FACE)}: {', '.join(sorted(longest))}.",),
    )
    females = [j.female for j in kitchen.joins]
    order = sorted(kitchen.lengths, key=lambda t: (t.id not in females, t.id))
    yield Step(
        "Turn and lower the lengths",
        (
            f"In this order: {', '.join(t.id for t in order)}. Align to wall and corner. Mitre and in line: "
            "compound "
            "and biscuits, drawn together with the bolts from the front, wiped off. Butt and tee: pushed up to the "
            "strip in sealant. Then screw down from below.",
            *_lowered(kitchen),
        ),
        ("Turning a long top: as many people as listed, one gives the word; mind cut-outs, where it breaks.",),
    )
    yield from _standing(kitchen)
    walled = [t for t in kitchen.lengths if _has(t, "wall") or _has(t, "unit")]
    if walled:
        beads = ", ".join(f"{t.id} {_metres(t, [EdgeCondition.WALL, EdgeCondition.TALL])}" for t in walled)
        yield Step("Silicone", (f"At wall and tall units, on the top side only, after fitting: {beads}.",))


def _lowered(kitchen: Kitchen) -> list[str]:
    """The tops that are tilted in between two walls."""
    tight = [(t.id, t.left.gap + t.right.gap) for t in kitchen.lengths]
    told = [f"{id_} {mm(gap)} short" for id_, gap in tight if gap]
    return [f"Between two walls, tilted and lowered in: {', '.join(told)}."] if told else []


def _standing(kitchen: Kitchen) -> Iterable[Step]:
    """Upstands, once the tops are fixed."""
    pieces = upstands(kitchen)
    if not pieces:
        return
    listed = ", ".join(f"{p.part.id} wall {p.wall.name} {mm(p.part.length)}" for p in pieces)
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
    if small:
        yield Step(
            "Tap, switch and socket",
            (
                f"{', '.join(small)}: sealed edge dry, seal under the collar, nut from below, hand tight and a "
                "quarter turn.",
            ),
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
