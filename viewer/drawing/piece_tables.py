"""Piece tables: what stands below a length on its sheets: edges and their work, other lines, section."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import box as rectangle

from countersunk.model.facts.setting_out import DRILL, marks
from countersunk.model.geometry.part import Edge, EdgeCondition
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.joins import BISCUIT, BOLT_CHANNEL, BOLT_POCKET
from countersunk.model.tops.slots import MarkKind, bolt_depth
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.behind import scribe_of
from countersunk.viewer.drawing.conditions import LETTERS, TO_MEASURE, by_condition, work
from countersunk.viewer.drawing.lettering import lines_of, mm
from countersunk.viewer.drawing.piece import balloon, is_shaped
from countersunk.viewer.drawing.setout import Face
from countersunk.viewer.drawing.shapes import Line, Mark, Path, Span, Text, View
from countersunk.viewer.drawing.strokes import EDGES, Stroke

LEFT, MIDDLE, RIGHT, TOP, FOOT = 13.0, 216.0, 407.0, 120.0, 43.0
"""The two columns of tables, from LEFT and from MIDDLE, and how far down they may go, mm on paper."""

SMALL = 2.3
PITCH = 3.8
UNDER_EDGES = 3.4
TODO = 66.0
"""Height and distance of lines in the legend, the gap before lines that are no edges, where work stands, mm."""

FINISH = {
    "sealed": ": every raw edge gets two coats, each dried",
    "polished": "",
    "oiled": ": oiled before fitting, as every face is, underside and end grain too",
}


def legend(kitchen: Kitchen, length: Length, face: Face) -> list[Mark]:
    """Letter, line, condition, extent and work of every kind of edge of the length, and the other lines."""
    edges, todo = by_condition(length.part.edges), _todo(kitchen, length)
    others, pitch = _other_lines(kitchen, length, face), _pitch(kitchen, length)
    finish, made = FINISH[length.run.stock.material.edges], bool(length.run.stock.made_by)
    found: list[Mark] = [Text((LEFT, TOP - 3.0), f"EDGES{finish}", 2.5, bold=True)]
    y = TOP - 6.5
    for condition, some in edges.items():
        named = "front edge" if made and condition is EdgeCondition.FACTORY else condition.value
        found += _condition(condition, named, some, todo[condition], y, pitch)
        y -= (max(2, len(todo[condition])) + 0.16) * pitch
    for i, (stroke, words) in enumerate(others):
        at = y - UNDER_EDGES - i * 1.1 * pitch
        found += [
            Line((LEFT + 7.5, at + 0.8), (LEFT + 26.5, at + 0.8), stroke),
            Text((LEFT + 29.0, at), words, SMALL),
        ]
    return found


def _todo(kitchen: Kitchen, length: Length) -> dict[EdgeCondition, list[str]]:
    """The work that each kind of edge of the length takes, in lines."""
    joins, finish = [j for j in kitchen.joins if length.id in (j.female, j.male)], length.run.stock.material.edges
    wide, made = MIDDLE - LEFT - TODO - 4.0, bool(length.run.stock.made_by)
    return {
        c: lines_of(TO_MEASURE[c] if made else work(c, joins, finish), SMALL, wide)
        for c in by_condition(length.part.edges)
    }


def _rows(kitchen: Kitchen, length: Length) -> float:
    """How many lines the legend takes: both faces have as many."""
    others = len(_other_lines(kitchen, length, Face.UNDERSIDE))
    return sum(max(2.0, len(lines)) + 0.16 for lines in _todo(kitchen, length).values()) + 1.1 * others + 0.4


def _pitch(kitchen: Kitchen, length: Length) -> float:
    """From one line of the legend to the next, mm on paper."""
    return min(PITCH, (TOP - 6.5 - FOOT) / _rows(kitchen, length))


def legend_foot(kitchen: Kitchen, length: Length) -> float:
    """How far down the paper the legend goes, mm from its lower edge."""
    return TOP - 6.5 - _rows(kitchen, length) * _pitch(kitchen, length) - UNDER_EDGES


def _condition(
    condition: EdgeCondition, named: str, edges: list[Edge], todo: list[str], y: float, pitch: float
) -> Iterator[Mark]:  # fmt: skip
    """One kind of edge, from ``y`` down."""
    centre = y - max(2, len(todo)) * pitch / 2 + 0.5
    extent = f"{len(edges)}: {mm(sum(e.length for e in edges))}"
    yield from balloon(LETTERS[condition], (LEFT + 3.0, centre), 1.0)
    yield Line((LEFT + 7.5, centre), (LEFT + 26.5, centre), EDGES[condition])
    yield Text((LEFT + 29.0, y - 2.6), named, SMALL, bold=True)
    yield Text((LEFT + 29.0, y - 2.6 - pitch), extent, SMALL)
    yield from (Text((LEFT + TODO, y - 2.6 - i * pitch), line, SMALL) for i, line in enumerate(todo))


def _other_lines(kitchen: Kitchen, length: Length, face: Face) -> list[tuple[Stroke, str]]:
    """The lines that are no edges, in one row each."""
    kinds = {m.kind for m in marks(kitchen, length)}
    slot = Stroke.SLOT if face is Face.UNDERSIDE else Stroke.HIDDEN
    rows = [(Stroke.BLANK, "blank, squared; the datum is its corner")] if is_shaped(length) else []
    if length.run.stock.made_by:
        rim, groove = (
            (Stroke.RIM, "what a rim covers, or lies in"),
            (Stroke.HIDDEN, "grooves that fall to the sink"),
        )
        cutouts = [c for c in kitchen.cutouts if c.length == length.id]
        rows += [*([rim] if cutouts else []), *([groove] if any(c.grooves for c in cutouts) else [])]
    if MarkKind.STARTER in kinds:
        rows += [(Stroke.RIM, f"rim, do not cut      ø = middle of a starter hole, drill {mm(DRILL)}")]
    if MarkKind.HOLE in kinds:
        rows += [(Stroke.CENTRE, "middle of a round hole; ø with its diameter: hole saw")]
    if MarkKind.BOLT in kinds:
        rows += [(slot, "slots from below      B = bolt, b = biscuit, middle at the joint")]
    if MarkKind.SCREW in kinds:
        rows += [(slot, "p = pilot hole for a screw of the joint strip, in the end at half the thickness")]
    if scribe_of(kitchen, length):
        rows += [(Stroke.UNIT, "face of the wall behind the back")]
    return rows


def section_view(length: Length) -> View:
    """The real section across the depth at 1:5, back to the left, decor up."""
    stock, scale = length.run.stock, 5.0
    profile = length.part.section or rectangle(0.0, 0.0, stock.depth, stock.thickness)
    d, t = stock.depth, stock.thickness
    words = f"section, back left, decor up; {'nose R' + mm(stock.nose) if stock.nose else 'square edge'}"
    marks: list[Mark] = [
        Path(tuple(plan_points(profile.exterior)[:-1]), Stroke.OUTLINE, closed=True),
        Span((0.0, 0.0), (d, 0.0), -5.0 * scale, height=2.0),
        Span((d, t), (d, 0.0), 5.0 * scale, height=2.0),
        Text((0.0, t + 2.5 * scale), words, SMALL),
    ]
    return View("section", scale, (LEFT + 2.0, 26.0), (11.0, 11.0, 225.0, 42.0), tuple(marks))


def slot_sizes(thickness: float) -> str:
    """How large the slots are in a top of that thickness (mm), in words."""
    (w, reach), (wide, long), deep = BOLT_CHANNEL, BOLT_POCKET, mm(bolt_depth(thickness))
    return (
        f"bolt: channel {mm(w)} wide to {mm(reach)} from the joint, pocket {mm(wide)} x {mm(long)} at its end, "
        f"both {deep} deep; biscuit No. 20: {mm(BISCUIT[0])} long, {mm(BISCUIT[1])} into the edge, at half the "
        f"thickness, {mm(thickness / 2)} from the decor face on both halves"
    )
