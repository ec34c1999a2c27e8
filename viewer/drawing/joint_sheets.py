"""Joint sheets: a paper for each join: how the jig is set up, and where bolts and biscuits sit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shapely import LineString

from countersunk.model.checks import Finding
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import ON_LINE
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing import open_findings
from countersunk.viewer.drawing.corner_setout import along_wall, set_out_in_words, set_out_of, set_out_view
from countersunk.viewer.drawing.facts import pilots
from countersunk.viewer.drawing.jig import (
    AS_SQUARE,
    REACH,
    ROUGH,
    face_up,
    fixed_in_words,
    is_routed,
    takes_jig,
    way_of,
)
from countersunk.viewer.drawing.joint import DrawnJoin, corner_of, joint_view, shoulder_view
from countersunk.viewer.drawing.lettering import degrees, lines_of, mm, paragraph
from countersunk.viewer.drawing.paper import MARGIN, heading, sheet
from countersunk.viewer.drawing.piece_tables import slot_sizes
from countersunk.viewer.drawing.setout import Face, Setout, place_of
from countersunk.viewer.drawing.shapes import A3, Box, Line, Mark, Point, Sheet, Text
from countersunk.viewer.drawing.strokes import Stroke

WINDOW: Box = (MARGIN, 86.0, 258.0, 268.0)
CORNER: Box = (MARGIN, 12.0, 108.0, 82.0)
BESIDE = (112.0, 80.0, 228.0)
DETAIL: Box = (262.0, 200.0, A3[0] - MARGIN, 268.0)
TABLE, UNDER_SHOULDER = (264.0, 262.0), 194.0
"""Where the two halves stand, below them the corner with what is said beside it (left edge, top, right edge), the
shoulder, and the table with its top where there is none or one, mm on paper."""

KINDS = {
    "mitre": "mason's mitre", "full mitre": "full mitre, bisected to the corner",
    "butt": "butt with a joint strip", "in line": "butt in line, square",
    "tee": "peninsula on a front edge, with a joint strip",
}  # fmt: skip

BONDED_KINDS = {
    "mitre": "bonded mitre", "full mitre": "bonded full mitre",
    "butt": "bonded butt", "in line": "bonded in line, square",
    "tee": "peninsula bonded to a front edge",
}  # fmt: skip

GLUED_KINDS = {
    "mitre": "mitre of wood, glued", "full mitre": "full mitre of wood, glued",
    "butt": "butt of wood, glued", "in line": "wood in line, square, glued",
    "tee": "peninsula of wood glued to a front edge",
}  # fmt: skip

TURNED = {
    "in line": "a quarter turned, front edges left",
    "full mitre": "as one stands in front of the female, turned until the joint is level",
}
"""How a join is drawn that is not drawn as one stands in front of its female."""

LABELS, FIRST, SECOND = 0.0, 59.0, 103.0
HEIGHT, ROW = 2.3, 4.7
"""The columns of the table from its left edge, height of its words and distance of its rows, mm on paper."""


def joint_sheet(kitchen: Kitchen, join: Join, findings: Sequence[Finding] = ()) -> Sheet:
    """The set-up of a join."""
    scale = joint_scale(kitchen, join)
    corner = corner_of(kitchen, join, scale)
    x0, y0, x1, y1 = corner.shown.bounds
    wx0, wy0, wx1, wy1 = WINDOW
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    views = [joint_view(corner, scale, origin, WINDOW)]
    marks = [*_heading(corner), *_table(corner), *_steps(corner, findings), *_beside(kitchen, corner)]
    if join.kind == "mitre":
        views.append(shoulder_view(corner, 1.0, _shoulder_origin(corner), DETAIL))
        caption = "The shoulder on the female, full size"
        marks.append(Text((DETAIL[0] + 2.0, DETAIL[3] - 5.0), caption, 2.2, bold=True))
    set_out = set_out_of(kitchen, join)
    if set_out is not None:
        views.append(set_out_view(corner, set_out, CORNER))
    return sheet(kitchen, join.id, f"Join {join.id}, {join.place}: set-up", marks, views)


def joint_scale(kitchen: Kitchen, join: Join) -> float:
    """The largest scale at which both halves and the numbers between them fit."""
    x0, y0, x1, y1 = WINDOW
    for scale in (5.0, 10.0):
        left, low, right, high = corner_of(kitchen, join, scale).shown.bounds
        if (right - left) / scale <= x1 - x0 - 10.0 and (high - low) / scale <= y1 - y0 - 6.0:
            return scale
    return 20.0


def _heading(corner: DrawnJoin) -> list[Mark]:
    join = corner.join
    stands = TURNED.get(join.kind, "as one stands in front of the female")
    below = f"Seen from above, decor up, {stands}; halves pulled {mm(corner.apart)} apart."
    if join.stations:
        below += " Slots lie on the underside: B = bolt, b = biscuit, from the front end of the straight side."
    at = "" if join.kind == "in line" else f", corner {degrees(join.angle)}"
    words = f"{join.id}  {kind_in_words(join)}{at}: {join.female} female, {join.male} male"
    return heading(words, below, height=5.0)


def kind_in_words(join: Join) -> str:
    """What a sheet is headed with."""
    return {"seam": BONDED_KINDS, "wood": GLUED_KINDS, "": KINDS}[join.glue][join.kind]


def _shoulder_origin(corner: DrawnJoin) -> Point:
    """The joint's start stands to the side from which the straight side runs."""
    right = list(corner.side(corner.female).coords)[1][0] > 0
    x0, _, x1, _ = DETAIL
    return ((x0 + x1) / 2 + (-8.0 if right else 8.0), 236.0)


def _top(join: Join) -> float:
    """The top of the table."""
    return UNDER_SHOULDER if join.kind == "mitre" else TABLE[1]


def _table(corner: DrawnJoin) -> list[Mark]:
    """The settings of both halves side by side."""
    x, y = TABLE[0], _top(corner.join)
    found: list[Mark] = []
    for i, (label, one, other) in enumerate(settings(corner)):
        at, bold = y - i * ROW, i == 0
        found += [
            Text((x + LABELS, at), label, HEIGHT, bold=bold),
            Text((x + FIRST, at), one, HEIGHT, bold=bold),
            Text((x + SECOND, at), other, HEIGHT, bold=bold),
            Line((x, at - 1.6), (A3[0] - MARGIN - 2.0, at - 1.6), Stroke.TABLE),
        ]
    return found


def settings(corner: DrawnJoin) -> list[tuple[str, str, str]]:
    """What is set or marked, for the female and for the male."""
    join, female, male = corner.join, corner.female, corner.male
    rows: list[tuple[str, str, str]] = [
        ("set up", f"{join.female} female", f"{join.male} male"),
        ("seen from above", place_of(female, join), place_of(male, join)),
    ]
    if is_routed(join):
        rows += [
            ("face up while it is routed", _face(female, join), _face(male, join)),
            ("cutter runs from", way_of(female, join), way_of(male, join)),
            ("rough cut first, in the waste", *(mm(ROUGH),) * 2),
        ]
    if join.kind != "in line":
        rows += [("corner as measured", *(degrees(join.angle),) * 2)]
    if takes_jig(join):
        rows += [("jig off square", *jig(join))]
    if join.kind == "mitre":
        shoulder = mm(join.notch / math.sin(math.radians(join.shoulder_angle)))
        rows += [
            ("shoulder to front edge", degrees(join.shoulder_angle), degrees(join.shoulder_angle)),
            ("notch behind front edge", mm(join.notch), mm(join.notch)),
            ("shoulder long", shoulder, shoulder),
        ]
    if join.kind == "full mitre":
        rows += [("cut to front edge", *(degrees(join.shoulder_angle),) * 2)]
    rows += [
        ("straight side long", mm(corner.side(female).length), mm(corner.side(male).length)),
        *_from_datum(corner),
    ]
    if join.stations:
        rows += [("bolts / biscuits", *(f"{join.bolts} / {join.biscuits}",) * 2)]
    return rows


def jig(join: Join) -> tuple[str, str]:
    """How far the jig is turned off square on the female and on the male; all of it is cut on the male."""
    if abs(join.off_square) < AS_SQUARE:
        return ("square", "square")
    return ("square", f"{degrees(abs(join.off_square))}, corner {'wider' if join.off_square > 0 else 'tighter'}")


def _face(length: Length, join: Join) -> str:
    return "decor" if face_up(length, join) is Face.TOP else "underside"


def _from_datum(corner: DrawnJoin) -> Iterator[tuple[str, str, str]]:
    """Every corner of the joint along the front edge of each half, from its own datum, mm."""
    female, male = _places(corner, corner.female), _places(corner, corner.male)
    names = ["joint at the front, from datum", "straight side, from datum", "joint ends, from datum"]
    yield from zip(names if len(female) == 3 else names[::2], female, male, strict=True)


def _places(corner: DrawnJoin, length: Length) -> list[str]:
    """As far as the length itself goes: one that is lowered in between two walls ends short of them."""
    line = corner.join.line if length is corner.female else corner.join.male_line
    setout, part = Setout(length, Face.TOP), length.part
    own = part.pose.plan_from_room(line).intersection(part.outline.buffer(ON_LINE))
    whole = own if isinstance(own, LineString) else part.pose.plan_from_room(line)
    return [mm(abs(setout.see(p)[0])) for p in plan_points(whole)]


def _beside(kitchen: Kitchen, corner: DrawnJoin) -> Iterator[Mark]:
    """What is said beside the corner: how it is set out from the walls, and with a jig fixed at 45°."""
    (x, y, right), height = BESIDE, 2.2
    set_out = set_out_of(kitchen, corner.join)
    from_walls = set_out_in_words(set_out) if set_out else list(along_wall(kitchen, corner.join))
    said = [
        ("Set out from the walls", from_walls),
        ("With a jig fixed at 45°", fixed_in_words(corner.join, corner.female.run.stock.nose)),
    ]
    for title, sentences in said:
        for words, bold in [(title, True), *((s, False) for s in sentences)] if sentences else []:
            yield from paragraph(words, (x, y), right - x, height, pitch=1.6, bold=bold)
            y -= len(lines_of(words, height, right - x)) * 1.6 * height
        y -= 1.8


def _steps(corner: DrawnJoin, findings: Sequence[Finding]) -> list[Mark]:
    """What is to be settled first, then how it is cut, with the cautions where they belong."""
    x, y = TABLE[0], _top(corner.join) - ROW * len(settings(corner)) - 4.0
    found: list[Mark] = []
    open_ = [(f"! Settle first: {words}", True) for words in open_findings.of_join(findings, corner.join)]
    for words, caution in [*open_, *steps(corner)]:
        stroke = Stroke.WARNING if caution else Stroke.TEXT
        lines = lines_of(words, HEIGHT, A3[0] - MARGIN - 3.0 - x)
        found += paragraph(words, (x, y), A3[0] - MARGIN - 3.0 - x, HEIGHT, stroke=stroke, bold=caution)
        y -= len(lines) * 1.65 * HEIGHT + 1.6
    return found


BONDED = [
    ("1 Both from one batch. Rough with the saw, finish with the router along a straight guide: dead straight and "
     "square to the face, no chips. No slots, no sealer.", False),
    ("2 Try it dry, decor faces level; a strip of the top, about 100 wide, is bonded below the seam.", False),
    ("3 Clean both edges as the maker's sheet says; seam adhesive over the whole face, clamped until it is hard.",
     False),
    ("! Adhesive and cleaner: air and gloves, no flame; fine dust drawn off while the seam is sanded.", True),
    ("4 Scraped and sanded flush, then finished with the whole top.", False),
]  # fmt: skip
"""What is done where solid or compact tops meet, as `steps` has it (common practice of the trade, no source)."""

GLUED = [
    ("1 Rough with the saw, finish with the router along a straight guide: dead straight and square to the face. "
     "No oil on the joint.", False),
    ("2 Slots from the underside: {slots}.", False),
    ("3 Try it dry, faces level, grain as on the plan. In the butt of a corner the biscuits stay dry, and each "
     "bolt has room to move in its channel.", False),
    ("4 Water-resistant glue on both edges. In the butt of a corner only over the front third: behind it one "
     "length moves across its grain and the other does not. Drawn together by the bolts until it is hard.", False),
    ("! Glue and oil: air and gloves; oily rags can catch fire by themselves, so dry them flat outdoors.", True),
    ("5 Sanded flush along the grain, then oiled with the whole top.", False),
]  # fmt: skip
"""What is done where tops of wood meet (common practice of the trade, no source)."""


def steps(corner: DrawnJoin) -> list[tuple[str, bool]]:
    """What is done, and whether it is a caution. Common practice of the trade, no source."""
    join = corner.join
    wear = "! Saw and router: eyes, ears and lungs protected, dust drawn off, cable and hands clear of the blade."
    if join.bonded:
        slots = slot_sizes(corner.female.part.thickness)
        done = GLUED if join.glue == "wood" else BONDED
        return [(wear, True), *((words.format(slots=slots), caution) for words, caution in done)]
    if join.has_strip:
        return [(wear, True), *_with_strip(join)]
    return [(wear, True), *((f"{i} {words}", False) for i, words in enumerate(_routed(corner), 1))]


def _with_strip(join: Join) -> list[tuple[str, bool]]:
    return [
        (
            f"1 The female keeps its factory edge. Saw the male's end at {degrees(join.angle)} along a rail, decor "
            "down; seal it twice.",
            False,
        ),
        (
            f"2 {pilots(join)}. Screw the joint strip on in sealant, flush with the decor; its web keeps the "
            "two apart.",
            False,
        ),
        ("3 Try it dry; then sealant at the female's edge, push together, wipe off.", False),
    ]


def _routed(corner: DrawnJoin) -> list[str]:
    """How a mitre or a join in line is cut."""
    join, thickness = corner.join, corner.female.part.thickness
    feed = (
        "Router in several passes, fed from left to right as you face the guide, so that the cut holds it there. "
        "The cutter enters through the front edge and never leaves through it: clamp waste where it leaves."
    )
    rough = f"Rough cut of both halves first, {mm(ROUGH)} mm outside the line: jigsaw, decor down, fine teeth."
    slots = f"Slots from the underside: {slot_sizes(thickness)}."
    dry = "Try it dry, decor faces level; then seal both halves twice, compound, biscuits, bolts from below."
    faces = " and ".join(
        f"{length.id} with the {_face(length, join)} up" for length in (corner.female, corner.male)
    )
    if join.kind == "in line":
        batch = "Both halves from one decor batch; lay them end to end, compare figure and nose before cutting."
        guide = f"Guide clamped square across the whole depth: {faces}."
        return [batch, rough, f"{guide} {feed}", slots, dry]
    if join.kind == "full mitre":
        at = f"{degrees(join.shoulder_angle)} to the front edge"
        guide = f"Straight guide clamped from the front edge to the back at {at}, no jig: {faces}."
        return [
            rough,
            f"{guide} {feed}",
            "The tip at the back is sharp: waste under it, carry it flat.",
            slots,
            dry,
        ]
    jig = f"Female first, jig square; then the male, jig turned as above, all of it on this half: {faces}."
    if abs(join.off_square) < AS_SQUARE:
        jig = f"Female first, then the male, jig square on both: {faces}."
    far = f" Past {degrees(REACH)} jigs do not turn (quoted): cut a guide to the angle."
    return [rough, f"{jig}{far if abs(join.off_square) > REACH else ''}", feed, slots, dry]
