"""DXF: a sheet for any drawing program: R2010, millimetres, layers named after what lines stand for.

Model space holds every view in real size, the first with its datum at (0, 0), dimensions as real dimensions; the
paper itself is a layout with a viewport for each view.
"""

from __future__ import annotations

import io
from typing import Any

from ezdxf import filemanagement
from ezdxf._options import options
from ezdxf.enums import TextEntityAlignment

from countersunk.viewer.drawing.lettering import KNEE, STUB
from countersunk.viewer.drawing.shapes import (
    Arc,
    Circle,
    Line,
    Mark,
    Ordinate,
    Path,
    Point,
    Sheet,
    Span,
    Text,
    View,
)
from countersunk.viewer.drawing.strokes import PENS, Pen, Stroke

options.write_fixed_meta_data_for_testing = True
"""The same sheet is the same bytes: the library writes no date and no number drawn by lot."""

ALIGN = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}
MILLIMETRES = 4
"""The unit's number in the DXF reference ($INSUNITS)."""

BY_BLOCK = 0
"""The parts of a dimension look like the dimension itself: DXF reference, group code 62."""

LEG = (KNEE - STUB) / 4
"""The library bends a leader over the last four of these, mm on paper."""

WEIGHTS = (13, 18, 25, 35, 50, 70, 90)
"""Line weights that DXF knows, hundredths of a millimetre."""


def dxf(sheet: Sheet) -> bytes:
    """The sheet as a DXF file."""
    doc = filemanagement.new("R2010", units=MILLIMETRES)
    doc.header["$PSLTSCALE"] = 0  # dashes are scaled line by line, not by the viewport
    doc.styles.new("letters", dxfattribs={"font": "DejaVuSansMono.ttf"})
    real = [view for view in sheet.views if not view.is_paper]
    for stroke, pen in PENS.items():
        _layer(doc, stroke, pen)
    for view in real:
        _draw(doc, doc.modelspace(), view, _shift(view, real[0]))
    _lay_out(doc, sheet, real)
    _in_order(doc)
    stream = io.StringIO()
    doc.write(stream)
    return stream.getvalue().encode("utf-8")


def _in_order(doc: Any) -> None:
    """The section of classes by name: the library takes them out of sets, which differ from process to process."""
    section = doc.classes
    section.add_required_classes(doc.dxfversion)
    for key in sorted(section.classes):
        section.classes.move_to_end(key)


def _shift(view: View, first: View) -> Point:
    """Where a view's origin lies in model space: as far from the first's as on paper, in the first's scale."""
    return (
        (view.origin[0] - first.origin[0]) * first.scale,
        (view.origin[1] - first.origin[1]) * first.scale,
    )


def _layer(doc: Any, stroke: Stroke, pen: Pen) -> None:
    """A layer of the stroke's name; dashes are millimetres on paper, and each line is told its view's scale."""
    if pen.dash:
        pattern = [d if i % 2 == 0 else -d for i, d in enumerate(pen.dash)]
        doc.linetypes.add(stroke.value, pattern=[sum(pen.dash), *pattern], description=stroke.value)
    red, green, blue = (int(pen.colour[i : i + 2], 16) for i in (1, 3, 5))
    layer = doc.layers.add(stroke.value, linetype=stroke.value if pen.dash else "Continuous")
    if any((red, green, blue)):
        layer.rgb = (red, green, blue)  # ink stays colour 7: black on paper, white on a black screen
    layer.dxf.lineweight = min(WEIGHTS, key=lambda w: abs(w - pen.width * 100))


def _lay_out(doc: Any, sheet: Sheet, real: list[View]) -> None:
    """The paper: title block and tables, and a viewport for each view."""
    paper = doc.layout("Layout1")
    paper.page_setup(size=sheet.size, margins=(0, 0, 0, 0), units="mm")
    for view in sheet.views:
        if view.is_paper:
            _draw(doc, paper, view, view.origin)
    for view in real:
        x0, y0, x1, y1 = view.window
        dx, dy = _shift(view, real[0])
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        seen = tuple((m - o) * view.scale + d for m, o, d in zip(middle, view.origin, (dx, dy), strict=True))
        paper.add_viewport(
            center=middle, size=(x1 - x0, y1 - y0), view_center_point=seen, view_height=(y1 - y0) * view.scale
        )


def _draw(doc: Any, space: Any, view: View, shift: Point) -> None:
    """Put a view's marks into a space, its origin at ``shift``, at real size."""
    style = _dimension_style(doc, view.scale)
    for mark in view.marks:
        _add(space, mark, view.scale, shift, style)


def _dimension_style(doc: Any, scale: float) -> str:
    """A style for dimensions seen at ``scale``: letters 2.5 high on paper, real millimetres to the tenth."""
    name = f"dimension {scale:g}"
    if name not in doc.dimstyles:
        values = {
            "dimtxsty": "letters", "dimtxt": 2.5 * scale, "dimlfac": 1.0, "dimdec": 1, "dimzin": 8,
            "dimasz": 1.5 * scale, "dimexo": 1.0 * scale, "dimexe": 1.5 * scale, "dimgap": 0.9 * scale,
            "dimtsz": 1.2 * scale, "dimtad": 1, "dimdsep": ord("."), "dimscale": 1.0,
            "dimclrd": BY_BLOCK, "dimclre": BY_BLOCK, "dimclrt": BY_BLOCK, "dimlwd": -2, "dimlwe": -2,
        }  # fmt: skip
        doc.dimstyles.new(name, dxfattribs=values)
    return name


def _add(space: Any, mark: Mark, scale: float, shift: Point, style: str) -> None:
    def at(point: Point) -> Point:
        return (point[0] + shift[0], point[1] + shift[1])

    match mark:
        case Line():
            space.add_line(at(mark.a), at(mark.b), dxfattribs=_look(mark.stroke, scale))
        case Path():
            _add_path(space, mark, [at(p) for p in mark.points], scale)
        case Circle():
            space.add_circle(at(mark.centre), mark.radius, dxfattribs=_look(mark.stroke, scale))
        case Arc():
            look = _look(mark.stroke, scale)
            space.add_arc(at(mark.centre), mark.radius, mark.start, mark.end, dxfattribs=look)
        case Text():
            _add_text(space, mark, scale, at(mark.at))
        case Ordinate():
            _add_ordinate(space, mark, scale, at, style)
        case Span():
            _add_span(space, mark, scale, at, style)


def _look(stroke: Stroke, scale: float) -> dict[str, Any]:
    return {"layer": stroke.value, "ltscale": scale}


def _add_path(space: Any, mark: Path, points: list[Point], scale: float) -> None:
    space.add_lwpolyline(points, close=mark.closed, dxfattribs=_look(mark.stroke, scale))
    if mark.filled == "ink":
        space.add_hatch(color=7, dxfattribs={"layer": mark.stroke.value}).paths.add_polyline_path(
            points, is_closed=True
        )


def _add_text(space: Any, mark: Text, scale: float, at: Point) -> None:
    attributes = {"layer": mark.stroke.value, "style": "letters", "rotation": mark.turn}
    text = space.add_text(mark.words, height=mark.height * scale, dxfattribs=attributes)
    text.set_placement(at, align=ALIGN[mark.across])


def _add_ordinate(space: Any, mark: Ordinate, scale: float, at: Any, style: str) -> None:
    """``offset`` is from the feature to the end of the leader, as the library wants it."""
    way = STUB * scale
    (fx, fy), (lx, ly) = mark.feature, mark.label
    offset = (lx - fx, ly - fy - way if ly > fy else ly - fy + way)
    if mark.axis == "y":
        offset = (lx - fx - way if lx > fx else lx - fx + way, ly - fy)
    add = space.add_ordinate_x_dim if mark.axis == "x" else space.add_ordinate_y_dim
    add(
        at(mark.feature), offset, origin=at(mark.datum), text=f"<> {mark.mark}".strip(), dimstyle=style,
        override={"dimtxt": mark.height * scale, "dimtad": 0, "dimasz": LEG * scale},
        dxfattribs={"layer": Stroke.DIMENSION.value},
    ).render()  # fmt: skip


def _add_span(space: Any, mark: Span, scale: float, at: Any, style: str) -> None:
    space.add_aligned_dim(
        at(mark.a), at(mark.b), mark.off, text=f"<> {mark.mark}".strip(), dimstyle=style,
        override={"dimtxt": mark.height * scale}, dxfattribs={"layer": Stroke.DIMENSION.value},
    ).render()  # fmt: skip
