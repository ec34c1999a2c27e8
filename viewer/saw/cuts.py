"""Cuts: every cut of the tops in the order of the card, with its line, what falls off, and what is measured first.

Everything is as seen from the face that is up, from the datum of the length (`viewer.drawing.setout`): x to the
right, y up from the front edge, mm. Tapes are read from the datum along the front edge, or from the front edge
across; so a number is the distance from there, whichever face is up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.facts.setting_out import takes_hole_saw
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import spoken
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Join
from countersunk.model.tops.rows import End
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.viewer.drawing.behind import notches
from countersunk.viewer.drawing.card_step import CutWork
from countersunk.viewer.drawing.jig import ROUGH, face_up, takes_jig
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.piece import free_corners, place_words, shape_words
from countersunk.viewer.drawing.setout import Face, Setout, sex_of
from countersunk.viewer.saw.slips import LikelySlip, rounded, slips

MARK = 1.0
"""How far a mark for a join, a notch or a cut-out may be off, mm (common practice, no source)."""

ENDS = 2.0
"""How far a mark for an end may be off, mm: more, and the card asks for new papers."""

FALLS = 220.0
"""How much of what falls off an end is shown, mm."""

SQUARE = 1.0
"""An end less out of square than this is cut square, and what is nearer to the datum is not measured, mm: no
tape shows it."""


@dataclass(frozen=True)
class TapeReading:
    """What the tape must say before the cut: ``key`` is its name within the cut, ``axis`` the way it lies.

    ``feature`` is the place that is marked, as seen. A mark may be off by ``tolerance``, mm.
    """

    key: str
    what: str
    axis: str
    feature: tuple[float, float]
    value: float
    tolerance: float
    slips: tuple[LikelySlip, ...]


@dataclass(frozen=True)
class SawCut:
    """One cut of a length. ``key`` is its name among the cuts of the length and lasts as the keys in it do."""

    key: str
    work: CutWork
    length: Length
    title: str
    how: str
    face: Face
    line: BaseGeometry
    falls: BaseGeometry
    distances: tuple[TapeReading, ...] = ()

    @property
    def piece(self) -> str:
        """The key of the piece, which lasts."""
        return self.length.part.id


def saw_cuts(kitchen: Kitchen, plans: Sequence[TopPlan] = ()) -> list[SawCut]:
    """Every cut, in the order of the card and within it of the lengths; ``plans`` say what each is cut from."""
    tape = kitchen.document.room.tolerance.wall
    cuts: list[SawCut] = []
    for length in kitchen.lengths:
        cuts += _ends(length, _blank(length, plans), min(ENDS, tape))
    for join in kitchen.joins:
        for id_ in (join.female, join.male):
            cuts += _half(kitchen.length(id_), join, min(MARK, tape))
    for length in kitchen.lengths:
        cuts += _notches(kitchen, length, min(MARK, tape))
    for length in kitchen.lengths:
        cuts += _corners(kitchen, length)
    for cutout in kitchen.cutouts:
        cuts.append(_cut_out(kitchen.length(cutout.length), cutout, min(MARK, tape)))
    return cuts


def _blank(length: Length, plans: Iterable[TopPlan]) -> float | None:
    """How long the stock is that a length is cut from, where a plan says so."""
    return next((b.length for p in plans for b in p.bars if length.id in (piece.id for piece in b.pieces)), None)


def _ends(length: Length, blank: float | None, tolerance: float) -> Iterator[SawCut]:
    """The end away from the datum, cut from the stock; then the datum's own end where a wall makes it slant."""
    setout = Setout(length, Face.UNDERSIDE)
    whole, way, depth = length.part.length, _way(setout), length.run.stock.depth
    own = [LikelySlip(blank - whole, "measured from the wrong end of the stock")] if blank else []
    far, datum = (length.right, length.left) if setout.datum_side == "left" else (length.left, length.right)
    front, back = _slant(setout, far, whole) or (whole, whole)
    found = [_along("over-all", "over all", (way * whole, depth * (back > front)), tolerance, own)]
    if front != back:
        where = "front" if front < back else "back"
        at = (way * min(front, back), depth if where == "back" else 0.0)
        longest = [LikelySlip(whole, "measured where the length is longest"), *own]
        found.append(_along(where, f"along the {where} edge", at, tolerance, longest))
    how = "Underside up, decor down. Hold the length down on both sides of the cut; saw on the side that falls off."
    yield _end(length, "length", f"{length.id}: cut to {mm(whole)}", how, (way * front, way * back), way, found)
    slant = _slant(setout, datum, 0.0)
    if slant:
        front, back = slant
        where, off = ("front", front) if front > back else ("back", back)
        at = (way * off, depth if where == "back" else 0.0)
        corner = "back" if where == "front" else "front"
        wrong = [LikelySlip(0.0, f"slanted the wrong way: nothing comes off at the {corner} edge")]
        found = [_along(where, f"along the {where} edge", at, tolerance, wrong)]
        title = f"{length.id}: slant the datum's end by {mm(off)}"
        keep = (
            "The datum's corner falls off: first draw a line square across the underside through it, and read "
            "every later number from that line."
        )
        keep = keep if where == "front" else "The datum stays."
        yield _end(length, "datum-end", title, f"{how} {keep}", (way * front, way * back), -way, found)


def _slant(setout: Setout, end: End, square: float) -> tuple[float, float] | None:
    """How far from the datum an end against a wall lies in front and behind; None where it is cut square.

    A male end is cut square here, since its joint is cut after it; so is one with a notch in it.
    """
    if end.wall is None or end.sex == "male":
        return None
    corners, depth = _outline(setout).exterior.coords, setout.length.run.stock.depth
    half = setout.length.part.length / 2
    near = [(abs(x), y) for x, y in corners if (abs(x) > half) == (square > half)]
    reach = max if square > half else min
    lines = [reach((x for x, y in near if low <= y <= high), default=square)
             for low, high in ((-1.0, depth / 2), (depth - 1.0, depth + 1.0))]  # fmt: skip
    front, back = lines
    touches = min(abs(front - square), abs(back - square)) < 1.0
    return (front, back) if touches and abs(front - back) > SQUARE else None


def _end(
    length: Length, key: str, title: str, how: str, line: tuple[float, float], off: float, found: list[TapeReading]
) -> SawCut:  # fmt: skip
    """A cut across the depth from ``line`` in front to ``line`` behind; what falls off lies to the side ``off``."""
    (front, back), depth = line, length.run.stock.depth
    beyond = [front + off * FALLS, back + off * FALLS]
    far = max(beyond) if off > 0 else min(beyond)
    if key == "datum-end":
        far = 0.0  # the datum's own corner, and no more
    falls = Polygon([(front, 0.0), (back, depth), (far, depth), (far, 0.0)])
    cut = LineString([(front, 0.0), (back, depth)])
    return SawCut(key, CutWork.LENGTHS, length, title, how, Face.UNDERSIDE, cut, falls, tuple(found))


def _half(length: Length, join: Join, tolerance: float) -> Iterator[SawCut]:
    """A length's half of a join, unless it keeps its factory edge there."""
    sex = sex_of(length, join)
    if sex == "female" and join.kind in ("butt", "tee"):
        return
    setout = Setout(length, Face.UNDERSIDE)
    in_room = join.line if sex == "female" else join.male_line
    line = setout.see_shape(length.part.pose.plan_from_room(in_room))
    outline = _outline(setout)
    box = rectangle(*outline.bounds)
    lost = box.difference(outline)
    parts = [p for p in getattr(lost, "geoms", [lost]) if p.distance(line) < 1.0 and p.area > 1.0]
    falls = Polygon() if not parts else parts[0] if len(parts) == 1 else parts[0].union(parts[-1])
    (start, *between, end), whole = _points(line), length.part.length
    depth = length.run.stock.depth
    found = [_joint_point("front", "along the front edge to where the join begins", start, whole, tolerance)]
    for point in between:
        found.append(_joint_point("shoulder", "along to the inner end of the shoulder", point, whole, tolerance))
    if end[1] > depth - 1.0 and abs(abs(end[0]) - abs(start[0])) > SQUARE:
        found.append(_joint_point("back", "along the back edge to where the join ends", end, whole, tolerance))
    elif end[1] <= depth - 1.0:
        found.append(_across("end", "across, from the front edge to the join, at the end", end, tolerance, [
            LikelySlip(depth - end[1], "measured from the back edge"),
        ]))  # fmt: skip
    found = [distance for distance in found if distance.value > SQUARE]
    how = f"{_how_joined(length, join)} Try it dry."
    title = f"{length.id}: {join.kind} {join.id}, {sex}"
    yield SawCut(f"join.{join.key}", CutWork.JOINS, length, title, how, Face.UNDERSIDE, line, falls, tuple(found))


def _how_joined(length: Length, join: Join) -> str:
    """With what a half is cut, which face is up for each, and where the sheet of the join goes on."""
    if join.has_strip:
        return f"Underside up. Saw on the line along a guide rail; sheet {join.id} has the holes for the strip."
    rough = f"Underside up for the rough cut, {mm(ROUGH)} outside the line."
    if join.bonded:
        return f"{rough} The router finishes it along a straight guide, as sheet {join.id} says."
    up = "DECOR" if face_up(length, join) is Face.TOP else "UNDERSIDE"
    guide = "jig" if takes_jig(join) else "guide"
    return (
        f"{rough} Then the router along the {guide} with the {up} UP, set as on sheet {join.id}; its cutter enters "
        "through the front edge."
    )


def _joint_point(key: str, what: str, at: tuple[float, float], whole: float, tolerance: float) -> TapeReading:
    own = [LikelySlip(whole - abs(at[0]), "measured from the wrong end"), LikelySlip(whole, "the length over all")]
    return _along(key, what, at, tolerance, own)


def _notches(kitchen: Kitchen, length: Length, tolerance: float) -> Iterator[SawCut]:
    setout = Setout(length, Face.UNDERSIDE)
    for number, (obstacle, lost) in enumerate(notches(kitchen, length), start=1):
        gone = setout.see_shape(lost)
        x0, y0, x1, y1 = gone.bounds
        near, far = sorted((x0, x1), key=abs)
        whole, depth = length.part.length, length.run.stock.depth
        found = [
            *_two_sides(near, far, (y0 + y1) / 2, whole, tolerance, []),
            _across("front", "across, from the front edge to the notch", (near, y0), tolerance,
                    [LikelySlip(depth - y0, "measured from the back edge")]),
        ]  # fmt: skip
        title = f"{length.id}: notch round the {spoken(obstacle.kind)}"
        how = (
            "Drill the inside corners first; jigsaw from the underside. Carry it flat: the tongue beside it breaks."
        )
        key = f"notch.{number}"
        yield SawCut(key, CutWork.NOTCHES, length, title, how, Face.UNDERSIDE, gone.exterior, gone, tuple(found))


def _corners(kitchen: Kitchen, length: Length) -> Iterator[SawCut]:
    setout = Setout(length, Face.UNDERSIDE)
    outline = _outline(setout)
    box = rectangle(*outline.bounds)
    for wish in free_corners(kitchen, length):
        x0, y0, x1, y1 = length.part.outline.bounds
        at = setout.see((x0 if wish.end == "left" else x1, y1 if wish.edge == "front" else y0))
        reach = wish.radius or wish.clip or wish.bow or 0.0
        whole = wish.bow is not None or wish.edge == "both"
        low, high = (outline.bounds[1], outline.bounds[3]) if whole else (at[1] - reach, at[1] + reach)
        square = rectangle(at[0] - reach, low, at[0] + reach, high)
        falls = box.difference(outline).intersection(square)
        line = outline.exterior.intersection(square.buffer(-0.01))
        title = f"{length.id}: {place_words(wish)} seen from above, {shape_words(wish)}"
        how = "Rough with the jigsaw from the underside, finish with the router along a guide."
        key = f"corner.{wish.edge}-{wish.end}"
        yield SawCut(key, CutWork.CORNERS, length, title, how, Face.UNDERSIDE, line, falls)


def _cut_out(length: Length, cutout: PlacedCutout, tolerance: float) -> SawCut:
    drilled = takes_hole_saw(cutout.template)
    face = Face.TOP if drilled else Face.UNDERSIDE
    setout = Setout(length, face)
    line, rim = (setout.see_shape(Polygon(shape.exterior)) for shape in (cutout.line, cutout.rim))
    whole, depth = length.part.length, length.run.stock.depth
    if drilled:
        x, y = line.centroid.x, line.centroid.y
        found = [
            _along("middle", "along the front edge to the middle of the hole", (x, y), tolerance,
                   [LikelySlip(whole - abs(x), "measured from the wrong end")]),
            _across("front", "across, from the front edge to the middle", (x, y), tolerance,
                    [LikelySlip(depth - y, "measured from the back edge")]),
        ]  # fmt: skip
        how = "Decor face up, on a board. Hole saw about the middle; no jigsaw."
    else:
        x0, y0, x1, y1 = line.bounds
        near, far = sorted((x0, x1), key=abs)
        rims = sorted((rim.bounds[0], rim.bounds[2]), key=abs)
        found = [
            *_two_sides(near, far, (y0 + y1) / 2, whole, tolerance, rims),
            _across("front", "across, from the front edge to the line", ((x0 + x1) / 2, y0), tolerance, [
                LikelySlip(rim.bounds[1], "that is the rim, not the line to cut"),
                LikelySlip(depth - y1, "measured from the back edge: the cut-out is mirrored front to back"),
                LikelySlip(depth - y0, "measured from the back edge"),
            ]),
        ]  # fmt: skip
        how = (
            "Starter holes from the decor face, then jigsaw from the underside along the line to cut, never the "
            "rim. Carry the waste; cut the last side last."
        )
    title = f"{length.id}: {cutout.name}"
    key = f"cut-out.{cutout.key}"
    return SawCut(key, CutWork.CUT_OUTS, length, title, how, face, line.exterior, line, tuple(found))


def _two_sides(
    near: float, far: float, y: float, whole: float, tolerance: float, rims: Sequence[float]
) -> Iterator[TapeReading]:
    """Both sides of an opening, from the datum along the front edge."""
    sides = (("near", "near side", near, far), ("far", "far side", far, near))
    for number, (key, side, x, other) in enumerate(sides):
        own = [
            *([LikelySlip(abs(rims[number]), "that is the rim, not the line to cut")] if rims else []),
            LikelySlip(whole - abs(other), "set out mirrored: the other face is up, or from the wrong end"),
            LikelySlip(whole - abs(x), "measured from the wrong end"),
            LikelySlip(abs(other), f"that is the {'far' if key == 'near' else 'near'} side of the opening"),
        ]
        yield _along(key, f"along the front edge to the {side}", (x, y), tolerance, own)


def _along(
    key: str, what: str, at: tuple[float, float], tolerance: float, own: Iterable[LikelySlip]
) -> TapeReading:
    return _distance(key, what, "x", at, abs(at[0]), tolerance, own)


def _across(
    key: str, what: str, at: tuple[float, float], tolerance: float, own: Iterable[LikelySlip]
) -> TapeReading:
    return _distance(key, what, "y", at, at[1], tolerance, own)


def _distance(
    key: str, what: str, axis: str, at: tuple[float, float], value: float, tolerance: float,
    own: Iterable[LikelySlip],
) -> TapeReading:  # fmt: skip
    return TapeReading(key, what, axis, at, rounded(value), tolerance, slips(value, tolerance, own))


def _outline(setout: Setout) -> Polygon:
    return Polygon(setout.see_shape(setout.length.part.outline).exterior)


def _way(setout: Setout) -> float:
    """The way in which numbers grow: +1 to the right."""
    return 1.0 if setout.on_paper == "left" else -1.0


def _points(line: LineString) -> list[tuple[float, float]]:
    return [(x, y) for x, y in line.coords]
