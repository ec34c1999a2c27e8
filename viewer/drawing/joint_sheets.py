"""Joint sheets: a paper for each join: how the jig is set up, and where bolts and biscuits sit."""

from __future__ import annotations

import math
from collections.abc import Sequence

from countersunk.model.checks import Finding
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing import settle
from countersunk.viewer.drawing.facts import pilots
from countersunk.viewer.drawing.joint import DrawnJoin, corner_of, joint_view, shoulder_view
from countersunk.viewer.drawing.lettering import degrees, lines_of, mm, paragraph
from countersunk.viewer.drawing.paper import MARGIN, heading, sheet
from countersunk.viewer.drawing.piece_tables import slot_sizes
from countersunk.viewer.drawing.setout import Face, Setout, place_of
from countersunk.viewer.drawing.shapes import A3, Box, Line, Mark, Point, Sheet, Text
from countersunk.viewer.drawing.strokes import Stroke

WINDOW: Box = (MARGIN, 44.0, 258.0, 268.0)
DETAIL: Box = (262.0, 196.0, A3[0] - MARGIN, 268.0)
TABLE = (264.0, 190.0)
"""Where the two halves, the shoulder and the table stand, mm on paper."""

KINDS = {
    "mitre": "mason's mitre", "butt": "butt with a joint strip", "in line": "butt in line, square",
    "tee": "peninsula on a front edge, with a joint strip",
}  # fmt: skip

BONDED_KINDS = {
    "mitre": "bonded mitre", "butt": "bonded butt", "in line": "bonded in line, square",
    "tee": "peninsula bonded to a front edge",
}  # fmt: skip

LABELS, FIRST, SECOND = 0.0, 60.0, 100.0
HEIGHT, ROW = 2.3, 5.2
"""The columns of the table from its left edge, height of its words and distance of its rows, mm on paper."""


def joint_sheet(kitchen: Kitchen, join: Join, findings: Sequence[Finding] = ()) -> Sheet:
    """The set-up of a join."""
    scale = joint_scale(kitchen, join)
    corner = corner_of(kitchen, join, scale)
    x0, y0, x1, y1 = corner.shown.bounds
    wx0, wy0, wx1, wy1 = WINDOW
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    views = [joint_view(corner, scale, origin, WINDOW)]
    marks = [*_heading(corner), *_table(corner), *_steps(corner, findings)]
    if join.kind == "mitre":
        views.append(shoulder_view(corner, 1.0, _shoulder_origin(corner), DETAIL))
        caption = "The shoulder on the female, full size"
        marks.append(Text((DETAIL[0] + 2.0, DETAIL[3] - 5.0), caption, 2.2, bold=True))
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
    stands = (
        "a quarter turned, front edges left" if join.kind == "in line" else "as one stands in front of the female"
    )
    below = f"Seen from above, decor up, {stands}; halves pulled {mm(corner.apart)} apart."
    if join.stations:
        below += " Slots lie on the underside: B = bolt, b = biscuit, from the front end of the straight side."
    at = "" if join.kind == "in line" else f", corner {degrees(join.angle)}"
    words = f"{join.id}  {kind_in_words(join)}{at}: {join.female} female, {join.male} male"
    return heading(words, below, height=5.0)


def kind_in_words(join: Join) -> str:
    """What a sheet is headed with."""
    return (BONDED_KINDS if join.bonded else KINDS)[join.kind]


def _shoulder_origin(corner: DrawnJoin) -> Point:
    """The joint's start stands to the side from which the straight side runs."""
    right = list(corner.side(corner.female).coords)[1][0] > 0
    x0, _, x1, _ = DETAIL
    return ((x0 + x1) / 2 + (-8.0 if right else 8.0), 236.0)


def _table(corner: DrawnJoin) -> list[Mark]:
    """The settings of both halves side by side."""
    x, y = TABLE
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
    if join.kind != "in line":
        rows += [("corner as measured", *(degrees(join.angle),) * 2)]
    rows += [("jig off square", *jig(join))]
    if join.kind == "mitre":
        shoulder = mm(join.notch / math.sin(math.radians(join.shoulder_angle)))
        rows += [
            ("shoulder to front edge", degrees(join.shoulder_angle), degrees(join.shoulder_angle)),
            ("notch behind front edge", mm(join.notch), mm(join.notch)),
            ("shoulder long", shoulder, shoulder),
        ]
    rows += [
        ("straight side long", mm(corner.side(female).length), mm(corner.side(male).length)),
        ("joint at the front, from datum", mm(_front_end(corner, female)), mm(_front_end(corner, male))),
    ]
    if join.stations:
        rows += [("bolts / biscuits", *(f"{join.bolts} / {join.biscuits}",) * 2)]
    return rows


def jig(join: Join) -> tuple[str, str]:
    """How far the jig is turned off square on the female and on the male; all of it is cut on the male."""
    if abs(join.off_square) < 0.005:
        return ("square", "square")
    return ("square", f"{degrees(abs(join.off_square))}, corner {'wider' if join.off_square > 0 else 'tighter'}")


def _front_end(corner: DrawnJoin, length: Length) -> float:
    """Where the joint leaves the front edge, from the length's own datum, mm."""
    line = corner.join.line if length is corner.female else corner.join.male_line
    x, y = length.part.pose.plan_from_room(line).coords[0]
    return abs(Setout(length, Face.TOP).see((x, y))[0])


def _steps(corner: DrawnJoin, findings: Sequence[Finding]) -> list[Mark]:
    """What is to be settled first, then how it is cut, with the cautions where they belong."""
    x, y = TABLE[0], TABLE[1] - ROW * len(settings(corner)) - 4.0
    found: list[Mark] = []
    open_ = [(f"! Settle first: {words}", True) for words in settle.of_join(findings, corner.join)]
    for words, caution in [*open_, *steps(corner.join)]:
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


def steps(join: Join) -> list[tuple[str, bool]]:
    """What is done, and whether it is a caution. Common practice of the trade, no source."""
    wear = "! Saw and router: eyes, ears and lungs protected, dust drawn off, cable and hands clear of the blade."
    slots = f"3 Slots from the underside: {slot_sizes()}."
    if join.bonded:
        return [(wear, True), *BONDED]
    dry = "4 Try it dry, decor faces level; then seal both halves twice, compound, biscuits, bolts from the front."
    if join.kind == "in line":
        return [
            (wear, True),
            ("1 Both halves square across the whole depth, jig or rail clamped square: rough with the saw, finish "
             "with the router in several passes. The cutter enters through the post-formed edge and never leaves "
             "through it.", False),
            ("2 Both from one decor batch; lay them end to end, compare figure and nose before cutting.", False),
            (slots, False), (dry, False),
        ]  # fmt: skip
    if join.has_strip:
        return [
            (wear, True),
            (
                f"1 The female keeps its factory edge. Cut the male's end at {degrees(join.angle)}; seal it twice.",
                False,
            ),
            (
                f"2 {pilots(join)}. Screw the joint strip on in sealant, flush with the decor; its web keeps the "
                "two apart.",
                False,
            ),
            ("3 Try it dry; then sealant at the female's edge, push together, wipe off.", False),
        ]
    return [
        (wear, True),
        ("1 Female first, jig clamped square: rough with the jigsaw, finish with the router in several passes. The "
         "cutter enters through the post-formed edge and never leaves through it.", False),
        ("2 Male: jig turned as above, all of it on this half. A router jig reaches about 3° off square (quoted); "
         "beyond that cut a guide to the angle.", False),
        (slots, False), (dry, False),
    ]  # fmt: skip
