"""Card: the order of work with this kitchen's own numbers, each caution at the step where it matters.

The order and the cautions are common practice of the trade, no source. Makers' sheets and local codes go first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from model.kitchen import Kitchen
from model.marks import DRILL
from model.part import EdgeCondition
from model.worktops import Length
from takeoff.measures import raw_edges
from viewer.drawing.handling import A_PERSON, handling
from viewer.drawing.lettering import degrees, mm
from viewer.drawing.setout import place_of

SHORT_OF_FACE = 5.0
"""A screw from below ends this far under the decor at least, mm (common practice, no source)."""


@dataclass(frozen=True)
class Step:
    """What is done, the numbers that it takes, and what can hurt somebody while it is done."""

    title: str
    lines: tuple[str, ...]
    cautions: tuple[str, ...] = ()


def steps(kitchen: Kitchen) -> list[Step]:
    """Every step that this kitchen takes, in order."""
    return [
        *_before(kitchen), *_cutting(kitchen), *_joining(kitchen), *_cutting_out(kitchen), *_sealing(kitchen),
        *_fitting(kitchen), *_connecting(kitchen),
    ]  # fmt: skip


def _before(kitchen: Kitchen) -> Iterable[Step]:
    walls = ", ".join(
        f"{w.name} {mm(w.length)}" + (f" then {degrees(w.corner)}" if w.corner is not None else "")
        for w in kitchen.survey.walls
    )
    yield Step(
        "Measure twice before anything is cut",
        (
            f"Walls and corners that these papers are made for: {walls}.",
            "From the wall to where each end will be, with its overhang; on the second leg of a corner allow "
            "for the "
            "depth of the first. Where it differs by more than 2 mm, change the kitchen file and print again.",
        ),
    )
    yield Step(
        "Check the blanks",
        (
            *(_blank(length) for length in kitchen.lengths),
            "Decor, batch, faces and noses without fault. The film stays on. Take the edging strip out of "
            "the packing "
            "and keep it.",
        ),
        (
            f"Lifting: people as listed, {A_PERSON:g} kg each to plan by, which is not a safe limit; gloves, since "
            "cut laminate is sharp.",
        ),
    )


def _blank(length: Length) -> str:
    h = handling(length)
    return f"{length.id}: {length.run.stock.name}, blank {mm(h.blank)}, {h.blank_weight:.1f} kg, {h.people} people"


def _cutting(kitchen: Kitchen) -> Iterable[Step]:
    yield Step(
        "Mark and cut to length",
        (
            *(
                f"{t.id}: {mm(t.part.length)} over all, from the datum on sheet {t.id}-underside"
                for t in kitchen.lengths
            ),
            "Tell decor side and underside apart before the first mark. Teeth enter through the decor and "
            "never leave "
            "through it: hand saw decor up; jigsaw and circular saw decor down, along a guide rail.",
        ),
        (
            "Saw: eyes, ears and lungs protected, dust drawn off; blade clear of cable and body; the length "
            "held down "
            "on both sides of the cut.",
        ),
    )


def _joining(kitchen: Kitchen) -> Iterable[Step]:
    if not kitchen.joins:
        return
    lines = []
    for j in kitchen.joins:
        female, male = (place_of(kitchen.length(i), j) for i in (j.female, j.male))
        lines.append(
            f"{j.id}, {j.kind} at {degrees(j.angle)}: {j.female} female {female}, {j.male} male {male}; "
            f"{j.hardware}"
        )
    yield Step(
        "Cut the joins",
        (
            *lines,
            "Female first with the jig clamped: rough with the jigsaw, finish with the router; then the male; then "
            "the slots of a mitre from the underside. Set-up is on the sheet of each join. Try it dry.",
        ),
        ("Router: eyes, ears and lungs protected, dust drawn off, several shallow passes; unplug before the "
         "cutter is "
         "changed.",),
    )  # fmt: skip


def _cutting_out(kitchen: Kitchen) -> Iterable[Step]:
    if not kitchen.cutouts:
        return
    lines = [
        f"{c.id}: line {mm(c.template.line[0])} x {mm(c.template.line[1])}, corners R{mm(c.template.radius)}"
        for c in kitchen.cutouts
    ]
    yield Step(
        "Cut the cut-outs",
        (
            *lines,
            f"Mark on the underside from the sheet or the 1:1 template; drill the starter holes ({mm(DRILL)}) "
            "from the "
            "decor face; jigsaw from the underside along the LINE TO CUT, never the rim. Compare with the "
            "appliance's "
            "own sheet first. Carry the waste so that it does not break out, and cut the last side last.",
        ),
        ("Jigsaw: eyes, ears and lungs protected; nothing and nobody below the cut; the cable behind you.",),
    )
    yield Step("Smooth and dust", ("Every raw edge, arrises eased on the underside only.",))


def _sealing(kitchen: Kitchen) -> Iterable[Step]:
    raw = [f"{t.id} {metres / 1000:.2f} m" for t, metres in raw_lengths(kitchen)]
    yield Step(
        "Seal every raw edge",
        (
            f"Two coats, dabbed into the fibres, each dried: {', '.join(raw)}. Ends, joins, cut-outs and "
            "backs; the "
            "factory edge is sealed already.",
        ),
        ("Sealer and cleaner: open windows, no flame or spark, gloves; read the sheet on the tin.",),
    )
    heat = [f"{t.id} {_metres(t, [EdgeCondition.CUTOUT_HEAT])}" for t in kitchen.lengths if _has(t, "heat")]
    if heat:
        yield Step(
            "Heat tape at the hob", (f"Aluminium tape over the dry sealed edge, overlap 50: {', '.join(heat)}",)
        )
    if any(c.template.kind == "sink" for c in kitchen.cutouts):
        yield Step("Set the sink", ("Bead of sealant under the rim, clamps tightened from the middle outwards.",))
    exposed = [f"{t.id} {_metres(t, [EdgeCondition.EXPOSED])}" for t in kitchen.lengths if _has(t, "exposed")]
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


def _fitting(kitchen: Kitchen) -> Iterable[Step]:
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
            f"In this order: {', '.join(t.id for t in order)}. Align to wall and corner. A mitre: compound "
            "and biscuits, drawn together with the bolts from the front, wiped off. A butt: pushed up to its strip "
            "in sealant. Then screw down from below.",
        ),
        ("Turning a long top: as many people as listed, one gives the word; mind cut-outs, where it breaks.",),
    )
    walled = [t for t in kitchen.lengths if _has(t, "wall") or _has(t, "unit")]
    if walled:
        beads = ", ".join(f"{t.id} {_metres(t, [EdgeCondition.WALL, EdgeCondition.TALL])}" for t in walled)
        yield Step("Silicone", (f"At wall and tall units, on the top side only, after fitting: {beads}.",))


def _connecting(kitchen: Kitchen) -> Iterable[Step]:
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
