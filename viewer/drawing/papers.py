"""Papers: every sheet of a kitchen, and the folder that they are written to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from model.files import write_whole
from model.kitchen import Kitchen
from takeoff.boards import board_plans
from takeoff.quantities import worktop_plans
from takeoff.rules import default_rules
from viewer.drawing.bar_sheets import bar_sheets
from viewer.drawing.board_sheets import board_sheets
from viewer.drawing.card_sheets import card_sheets
from viewer.drawing.dxf import dxf
from viewer.drawing.elevation import elevation_sheets
from viewer.drawing.joint_sheets import joint_sheet
from viewer.drawing.label_sheets import label_sheets
from viewer.drawing.lettering import printable
from viewer.drawing.pdf import pdf
from viewer.drawing.piece_sheets import piece_sheet
from viewer.drawing.plan import plan_sheet
from viewer.drawing.setout import Face
from viewer.drawing.shapes import Sheet
from viewer.drawing.svg import svg
from viewer.drawing.template import template_sheets

Progress = Callable[[str], object]


def sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """Every A3 sheet, in the order in which it is needed."""
    yield plan_sheet(kitchen)
    yield from elevation_sheets(kitchen)
    for length in kitchen.lengths:
        for face in Face:
            yield piece_sheet(kitchen, length, face)
    for join in kitchen.joins:
        yield joint_sheet(kitchen, join)
    yield from card_sheets(kitchen)


def cutting_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """Every length and every sheet of board that is bought, with what is cut from it."""
    for bars in worktop_plans(kitchen, default_rules()):
        yield from bar_sheets(kitchen, bars)
    for plan in board_plans(kitchen):
        yield from board_sheets(kitchen, plan)


def labels(kitchen: Kitchen) -> list[Sheet]:
    """A label for every piece of the cutting plans."""
    return label_sheets(kitchen, board_plans(kitchen), worktop_plans(kitchen, default_rules()))


def templates(kitchen: Kitchen) -> Iterator[Sheet]:
    """Every page of the full-size templates."""
    for cutout in kitchen.cutouts:
        yield from template_sheets(kitchen, cutout)


def draw(kitchen: Kitchen, folder: Path, progress: Progress | None = None) -> list[Path]:
    """Write every sheet as DXF and SVG, and all of them as drawings.pdf. Returns the files, in order."""
    report = progress or (lambda _: None)
    folder.mkdir(parents=True, exist_ok=True)
    name, written, made = printable(kitchen.document.kitchen), [], []
    for sheet in sheets(kitchen):
        report(f"drawing {sheet.title}")
        made.append(sheet)
        written += [
            _written(folder / f"{sheet.name}.dxf", dxf(sheet)),
            _written(folder / f"{sheet.name}.svg", svg(sheet)),
        ]
    report("binding drawings.pdf")
    written.append(_written(folder / "drawings.pdf", pdf(made, name)))
    report("laying boards out on sheets")
    cutting = list(cutting_sheets(kitchen))
    for sheet in cutting:
        written += [
            _written(folder / f"{sheet.name}.dxf", dxf(sheet)),
            _written(folder / f"{sheet.name}.svg", svg(sheet)),
        ]
    if cutting:
        report("binding cutting.pdf and labels.pdf")
        written.append(_written(folder / "cutting.pdf", pdf(cutting, f"Cutting plans, {name}")))
        written.append(_written(folder / "labels.pdf", pdf(labels(kitchen), f"Labels, {name}")))
    full = list(templates(kitchen))
    if full:
        report("binding templates.pdf")
        written.append(_written(folder / "templates.pdf", pdf(full, f"Templates, {name}")))
    return written


def drawings_pdf(kitchen: Kitchen) -> bytes:
    """All A3 sheets as one PDF."""
    return pdf(list(sheets(kitchen)), printable(kitchen.document.kitchen))


def cutting_pdf(kitchen: Kitchen) -> bytes:
    """All cutting plans as one PDF."""
    return pdf(list(cutting_sheets(kitchen)), f"Cutting plans, {printable(kitchen.document.kitchen)}")


def labels_pdf(kitchen: Kitchen) -> bytes:
    """All labels as one PDF."""
    return pdf(labels(kitchen), f"Labels, {printable(kitchen.document.kitchen)}")


def templates_pdf(kitchen: Kitchen) -> bytes:
    """All full-size templates as one PDF, for a kitchen that has cut-outs."""
    return pdf(list(templates(kitchen)), f"Templates, {printable(kitchen.document.kitchen)}")


def _written(path: Path, data: bytes) -> Path:
    write_whole(path, data)
    return path
