"""Facts: everything about a length in words, in groups that are never parted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from countersunk.model.checks import Finding
from countersunk.model.facts.setting_out import DRILL, takes_hole_saw
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.bands import in_words
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Join
from countersunk.model.tops.slots import PILOT, screws_along
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing import open_findings
from countersunk.viewer.drawing.behind import notch_in_words, notches, scribe_in_words, scribe_of
from countersunk.viewer.drawing.handling import handling, people
from countersunk.viewer.drawing.jig import takes_jig
from countersunk.viewer.drawing.lettering import degrees, kg, lines_of, mm
from countersunk.viewer.drawing.piece import free_corners, place_words, shape_words
from countersunk.viewer.drawing.setout import Face, Setout, place_of, sex_of
from countersunk.viewer.drawing.shapes import Mark, Text
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.template import how_to_cut

HEIGHT, PITCH = 2.3, 3.8
"""Height and distance of lines where there is room, mm on paper."""

TIGHTEST = 0.82
"""Lines are drawn together to this share of that, no further."""

GAP = 0.5
"""Before a group, as a share of a line."""


@dataclass(frozen=True)
class FactGroup:
    """A heading with its sentences; ``warns`` of what must be settled first."""

    title: str
    sentences: tuple[str, ...]
    warns: bool = False

    def lines(self, width: float) -> list[tuple[str, bool]]:
        """Its lines, the heading bold, folded to ``width`` mm on paper."""
        return [(self.title, True), *((line, False) for s in self.sentences for line in _folded(s, width))]

    def rows(self, width: float) -> float:
        """How many lines it takes, the gap before it among them."""
        return len(self.lines(width)) + GAP


def groups(kitchen: Kitchen, length: Length, findings: Sequence[Finding] = ()) -> list[FactGroup]:
    """What is open, then size, stock and weight, joins, notches, scribe lines, cut-outs."""
    open_ = open_findings.of_length(kitchen, findings, length)
    joins = [j for j in kitchen.joins if length.id in (j.female, j.male)]
    scribe = scribe_of(kitchen, length)
    found = [FactGroup("SETTLE BEFORE YOU CUT, see the fit report", tuple(open_), True)] if open_ else []
    found += [FactGroup("LENGTH " + length.id, tuple(_about(kitchen, length)))]
    found += [FactGroup(f"JOIN {j.id}, {j.place}", tuple(_join(length, j))) for j in joins]
    found += [FactGroup("NOTCH", tuple(notch_in_words(kitchen, length, n))) for n in notches(kitchen, length)]
    found += (
        [FactGroup(f"BACK against wall {scribe.wall}", tuple(scribe_in_words(length, scribe)))] if scribe else []
    )
    return found + [
        FactGroup(f"CUT-OUT {c.id}", tuple(_cutout(length, c))) for c in kitchen.cutouts if c.length == length.id
    ]


def parted(all_groups: Sequence[FactGroup], width: float, room: float) -> tuple[list[FactGroup], list[FactGroup]]:
    """The groups that have ``room`` (mm) on the sheet itself, and those for a sheet more, which is then named."""
    most = room / (PITCH * TIGHTEST)
    heights = list(accumulate(group.rows(width) for group in all_groups))
    if heights[-1] <= most:
        return list(all_groups), []
    fit = sum(height <= most - 1.0 - GAP for height in heights)
    return list(all_groups[:fit]), list(all_groups[fit:])


def column(some: Sequence[FactGroup], x: float, top: float, width: float, room: float) -> list[Mark]:
    """Groups one below the other, drawn together where that is needed."""
    pitch = min(PITCH, room / (sum(g.rows(width) for g in some) or 1.0))
    height, y = min(HEIGHT, pitch * 0.6), top
    found: list[Mark] = []
    for group in some:
        stroke = Stroke.WARNING if group.warns else Stroke.TEXT
        for words, bold in group.lines(width):
            found.append(Text((x, y), words, height, bold=bold, stroke=stroke))
            y -= pitch
        y -= GAP * pitch
    return found


def _folded(sentence: str, width: float) -> list[str]:
    first, *rest = lines_of(sentence, HEIGHT, width)
    return [first, *("  " + line for line in rest)]


def _about(kitchen: Kitchen, length: Length) -> list[str]:
    stock, lifted, part = length.run.stock, handling(length), length.part
    decor = kitchen.catalogue.decors[length.run.top].name
    edges = "front and back" if stock.both_edges else "front"
    nose = f"nose radius {mm(stock.nose)}" if stock.nose else "square"
    shaped = [f"{place_words(w)} {shape_words(w)}" for w in free_corners(kitchen, length)]
    gap = length.left.gap + length.right.gap
    lowered = [
        f"Between two walls: cut {mm(gap)} shorter than they are apart, so that it can be lowered in tilted "
        f"({mm(kitchen.allowances.lowering)} of it allowance)"
    ]
    spare = f"{mm(lifted.spare)} to spare" if lifted.spare > 0.05 else "nothing to spare: check both ends first"
    return [
        f"{mm(part.length)} x {mm(stock.depth)} x {mm(stock.thickness)}; {stock.name}, decor {decor}",
        f"Factory edges: {edges}, {nose}. Decor runs along the length. {_where_datum(length)}",
        f"Alone it takes a blank {mm(lifted.blank)} long, {spare}; what is bought for all lengths: cutting.pdf",
        f"Weight cut {kg(lifted.weight)} (what is left of it, at {stock.density:g} kg/m³): {people(lifted.people)} "
        f"to lift it; such a blank {kg(lifted.blank_weight)}: {people(lifted.blank_people)} "
        f"({kg(lifted.each)} each to plan by, revised NIOSH lifting equation; not a safe limit)",
        *(["Free corners, seen from above: " + "; ".join(shaped)] if shaped else []),
        *(lowered if gap else []),
    ]


def _where_datum(length: Length) -> str:
    """Whether the datum stays on the length."""
    setout = Setout(length, Face.TOP)
    if any(abs(x) + abs(y) < 0.05 for x, y in map(setout.see, plan_points(length.part.outline.exterior))):
        return "The datum is a corner of the cut length."
    return "The datum lies in the waste: mark everything before the first cut."


def _join(length: Length, join: Join) -> list[str]:
    """The jig's settings and the hardware of a join, as this length has them."""
    sex, place = sex_of(length, join), place_of(length, join)
    other = join.male if sex == "female" else join.female
    head = f"{join.kind}: {length.id} is the {sex.upper()}, {place.upper()} seen from above; other half {other}"
    angle = (
        "Square across the whole depth" if join.kind == "in line" else f"Corner as measured {degrees(join.angle)}"
    )
    if join.kind == "full mitre":
        angle += f"; straight from front to back at {degrees(join.shoulder_angle)} to the front edge, no notch"
    if takes_jig(join):
        turned = sex == "male" and abs(join.off_square) >= 0.005
        jig = f"{degrees(abs(join.off_square))} off square" if turned else "square"
        angle += f"; jig {jig} on this half; shoulder {degrees(join.shoulder_angle)}, notch {mm(join.notch)}"
    band = f"May lie at {in_words(join.band)} along {length.run.name}, while other joins stay"
    screws = [pilots(join)] if join.has_strip and sex == "male" else []
    return [
        head,
        angle,
        f"Joint {mm(join.length)} long: {join.hardware}; set-up on sheet {join.id}",
        *screws,
        *([band] if join.kind == "in line" else []),
    ]


def pilots(join: Join) -> str:
    """Where the strip's screws go into the male's end."""
    at = ", ".join(mm(x) for x in screws_along(join.male_line.length))
    size = f"{mm(PILOT[0])} x {mm(PILOT[1])}"
    return f"Pilot holes {size} deep in the male's end, at half the thickness, from the front: {at}"


def _cutout(length: Length, cutout: PlacedCutout) -> list[str]:
    t = cutout.template
    x, y = Setout(length, Face.TOP).see((cutout.line.centroid.x, cutout.line.centroid.y))
    middle = f"middle at {mm(abs(x))} from the datum, {mm(y)} from the front edge"
    if takes_hole_saw(t):
        return [f"{t.name}: hole {mm(t.line[0])}, {middle}", f"{how_to_cut(t)} 1:1 template {cutout.id}"]
    covered = f"Rim {mm(t.rim[0])} x {mm(t.rim[1])} covers the line: do not cut to it."
    return [
        f"{t.name}: line to cut {mm(t.line[0])} x {mm(t.line[1])}, corner radius {mm(t.radius)}; {middle}",
        f"{how_to_cut(t) if t.mount == 'under' else covered} The maker's own sheet goes first.",
        f"Starter holes drill {mm(DRILL)}, from the decor face, wholly inside the line; 1:1 template {cutout.id}",
    ]
