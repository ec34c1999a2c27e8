"""Papers: every sheet of a kitchen, and the folder that they are written to."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from countersunk.model.checks import check
from countersunk.model.files.changeover import changeover
from countersunk.model.files.whole import write_whole
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.plans.cut_plans import CutPlans, cut_plans
from countersunk.takeoff.report.origin import kitchen_origin, origin_of
from countersunk.viewer.drawing.bar_sheets import bar_sheets
from countersunk.viewer.drawing.board_sheets import board_sheets
from countersunk.viewer.drawing.card_sheets import card_sheets
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.elevation import elevation_sheets
from countersunk.viewer.drawing.fitted_sheet import fitted_sheets
from countersunk.viewer.drawing.front_sheets import front_sheets
from countersunk.viewer.drawing.joint_sheets import joint_sheet
from countersunk.viewer.drawing.label_sheets import label_sheets
from countersunk.viewer.drawing.lettering import printable
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.piece_sheets import length_sheets
from countersunk.viewer.drawing.plan import plan_sheet
from countersunk.viewer.drawing.request_sheets import request_sheets
from countersunk.viewer.drawing.scribe_sheets import scribe_sheets, scribed
from countersunk.viewer.drawing.scribe_strip import strip_sheet, strip_sheets, strips
from countersunk.viewer.drawing.shapes import Sheet
from countersunk.viewer.drawing.splashback_sheets import splashback_sheets
from countersunk.viewer.drawing.survey_sheet import survey_sheet
from countersunk.viewer.drawing.svg import svg
from countersunk.viewer.drawing.template import full_size_sheet
from countersunk.viewer.drawing.template_pages import PageSize, template_sheets
from countersunk.viewer.drawing.upstand_sheets import upstand_sheets

Progress = Callable[[str], object]


def sheets(kitchen: Kitchen, plans: CutPlans | None = None) -> Iterator[Sheet]:
    """Every A3 sheet, in the order in which it is needed."""
    findings, here = check(kitchen), kitchen.cut_here
    yield plan_sheet(kitchen)
    yield survey_sheet(kitchen)
    yield from fitted_sheets(kitchen)
    yield from elevation_sheets(kitchen.planned)
    yield from front_sheets(kitchen.planned)
    yield from request_sheets(kitchen)
    for length in here.lengths:
        yield from length_sheets(here, length, findings)
    for join in here.joins:
        yield joint_sheet(here, join, findings)
    yield from scribe_sheets(here)
    yield from upstand_sheets(kitchen)
    yield from splashback_sheets(kitchen)
    yield from card_sheets(kitchen, plans.tops if plans else None)


def cutting_sheets(kitchen: Kitchen, plans: CutPlans | None = None) -> Iterator[Sheet]:
    """Every length and every sheet of board that is taken, with what is cut from it."""
    found = plans or cut_plans(kitchen)
    for bars in found.tops:
        if bars.bars:
            yield from bar_sheets(kitchen, bars)
    for plan in found.boards:
        yield from board_sheets(kitchen.planned, plan)


def labels(kitchen: Kitchen, plans: CutPlans | None = None) -> list[Sheet]:
    """A label for every piece of the cutting plans."""
    found = plans or cut_plans(kitchen)
    return label_sheets(kitchen, found.boards, found.tops)


def templates(kitchen: Kitchen, on: PageSize = "a4") -> Iterator[Sheet]:
    """Every page of the full-size templates and of the strips to scribe by, in pages for a printer."""
    here = kitchen.cut_here
    for cutout in here.cutouts:
        yield from template_sheets(here, cutout, on)
    for strip in strips(here):
        yield from strip_sheets(strip, on)


def has_templates(kitchen: Kitchen) -> bool:
    """Whether anything is printed at full size."""
    return bool(kitchen.cut_here.cutouts or scribed(kitchen.cut_here))


def draw(
    kitchen: Kitchen, folder: Path, progress: Progress | None = None, *, on: PageSize = "a4",
    plans: CutPlans | None = None,
) -> list[Path]:  # fmt: skip
    """Write every sheet as DXF and SVG, drawings.pdf, and full sizes on pages ``on`` A4 or A3 as templates.pdf.

    The folder is changed over as one: sheets of an earlier run that are no longer drawn are removed, what else is
    in it stays, see `model.files.folders`. ``plans`` are what is cut from what, by the invented prices if left out.
    Returns the files, in order.

    >>> from tempfile import TemporaryDirectory
    >>> from countersunk import draw, open_kitchen
    >>> with TemporaryDirectory() as folder:
    ...     papers = draw(open_kitchen("straight"), Path(folder))
    >>> [paper.name for paper in papers if paper.suffix == ".pdf"]
    ['drawings.pdf', 'cutting.pdf', 'labels.pdf', 'templates.pdf']
    """
    files = all_papers(kitchen, progress, on=on, plans=plans)
    said = kitchen.document
    origin = origin_of("draw", said.kitchen, said) if plans else kitchen_origin("draw", kitchen)
    with changeover() as change:
        return change.folder(folder, files, origin)


def draw_survey(kitchen: str, drawn: Sheet, folder: Path) -> list[Path]:
    """Write the sheet of the survey alone, as DXF, SVG and PDF. Returns the files."""
    folder.mkdir(parents=True, exist_ok=True)
    files = {**_files([drawn]), "survey.pdf": pdf([drawn], f"Survey, {printable(kitchen)}")}
    for name, data in files.items():
        write_whole(folder / name, data)
    return [folder / name for name in files]


def papers_zip(kitchen: Kitchen, progress: Progress | None = None, plans: CutPlans | None = None) -> bytes:
    """All papers and drawings in one archive, with the same names as `draw` gives them."""
    with io.BytesIO() as stream:
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, data in all_papers(kitchen, progress, plans=plans).items():
                archive.writestr(name, data)
        return stream.getvalue()


def all_papers(
    kitchen: Kitchen, progress: Progress | None = None, *, on: PageSize = "a4", plans: CutPlans | None = None
) -> dict[str, bytes]:  # fmt: skip
    """Every file that there is to cut from, by its name."""
    report, made = progress or (lambda _: None), []
    if plans is None:
        report("laying out what is cut")
    cuts = plans or cut_plans(kitchen)
    for sheet in sheets(kitchen, cuts):
        report(f"drawing {sheet.title}")
        made.append(sheet)
    here = kitchen.cut_here
    large = [full_size_sheet(here, cutout) for cutout in here.cutouts]
    large += [strip_sheet(strip) for strip in strips(here)]
    report("binding drawings.pdf")
    name = printable(kitchen.document.kitchen)
    files = {**_files((*made, *large)), "drawings.pdf": pdf(made, name)}
    if request := request_pdf(kitchen):
        files["template-request.pdf"] = request
    cutting = list(cutting_sheets(kitchen, cuts))
    if cutting:
        report("binding cutting.pdf and labels.pdf")
        files |= {**_files(cutting), "cutting.pdf": pdf(cutting, f"Cutting plans, {name}")}
        files["labels.pdf"] = labels_pdf(kitchen, cuts)
    if has_templates(kitchen):
        report("binding templates.pdf")
        files["templates.pdf"] = templates_pdf(kitchen, on)
    return files


def drawings_pdf(kitchen: Kitchen, plans: CutPlans | None = None) -> bytes:
    """All A3 sheets as one PDF; the card's lengths are those of ``plans``."""
    return pdf(list(sheets(kitchen, plans)), printable(kitchen.document.kitchen))


def cutting_pdf(kitchen: Kitchen, plans: CutPlans | None = None) -> bytes:
    """All cutting plans as one PDF."""
    return pdf(list(cutting_sheets(kitchen, plans)), f"Cutting plans, {printable(kitchen.document.kitchen)}")


def labels_pdf(kitchen: Kitchen, plans: CutPlans | None = None) -> bytes:
    """All labels as one PDF."""
    return pdf(labels(kitchen, plans), f"Labels, {printable(kitchen.document.kitchen)}")


def templates_pdf(kitchen: Kitchen, on: PageSize = "a4") -> bytes:
    """All full-size templates and strips as one PDF, for a kitchen that has any."""
    return pdf(list(templates(kitchen, on)), f"Templates, {printable(kitchen.document.kitchen)}")


def request_pdf(kitchen: Kitchen) -> bytes | None:
    """What a mason or another maker of tops templates and works from; None where all tops are cut here."""
    some = list(request_sheets(kitchen))
    return pdf(some, f"Template request, {printable(kitchen.document.kitchen)}") if some else None


def _files(some: Iterable[Sheet]) -> dict[str, bytes]:
    """Every sheet as DXF and SVG, by the name of its file."""
    return {f"{s.name}.{kind}": data for s in some for kind, data in (("dxf", dxf(s)), ("svg", svg(s)))}
