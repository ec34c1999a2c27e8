"""Fit: what the fitter checks and cuts from: findings with their cures, drawings, papers to take along."""

from __future__ import annotations

import html
import json
from collections.abc import Callable
from functools import partial

import streamlit as st
from streamlit.elements.lib.mutable_status_container import StatusContainer

from countersunk.model import checks
from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.checks.rules import where_from
from countersunk.model.cures import QUICK, Cure, NoCure, cure
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.plans.cut_plans import CutPlans
from countersunk.viewer.app.checking import cures_of, findings_rows
from countersunk.viewer.app.places import beside
from countersunk.viewer.app.places.choosing import framed, one_of, row_chosen
from countersunk.viewer.app.places.downloads import Step, made_when_asked, offer
from countersunk.viewer.app.places.drawn import show_sheet
from countersunk.viewer.app.places.names import FIT
from countersunk.viewer.app.places.planned import cuts
from countersunk.viewer.app.reading import KitchenReading
from countersunk.viewer.app.session import Desk, plain, told_at
from countersunk.viewer.drawing.card_sheets import card_sheets
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.fit_panel import numbers
from countersunk.viewer.drawing.fit_report import fit_report
from countersunk.viewer.drawing.joint_sheets import joint_sheet
from countersunk.viewer.drawing.papers import (
    drawings_pdf,
    has_templates,
    labels_pdf,
    papers_zip,
    sheets,
    templates_pdf,
)
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.request_sheets import request_sheets
from countersunk.viewer.drawing.scribe_sheets import met_panels, scribe_sheets, scribed
from countersunk.viewer.drawing.shapes import Sheet
from countersunk.viewer.drawing.svg import svg
from countersunk.viewer.saw.measured import as_cut_words, measured
from countersunk.viewer.saw.page import saw_html

WHERE, AT_SAW = "cure", "saw"
GRAVE = (Verdict.NOT_MET, Verdict.SHORT, Verdict.WATCH)
"""What a cure can be looked for."""


def show(desk: Desk) -> None:
    """One of the three views."""
    chosen = one_of("What to look at", FIT, "fit")
    desk.at(f"Fit {chosen}")
    st.subheader(chosen)
    {"Findings": _findings, "Drawings": _drawings}.get(chosen, _papers)(desk)


def _findings(desk: Desk) -> None:
    held = where_from(desk.document.regions)
    st.html(f'<div class="caution">{html.escape(held)}<br>{html.escape(checks.CAUTION)}</div>')
    told_at(WHERE, desk)
    listed, picture = st.container(key="fit-findings").columns([7, 5], gap="medium")
    with listed:
        finding = _chosen(desk.reading)
        if finding:
            _detail(desk, finding)
    with picture:
        beside.view(desk, finding=finding)


def _chosen(reading: KitchenReading) -> Finding | None:
    """Every finding, the most serious first; the one that is selected."""
    columns = ["Verdict", "Measured", "Limit", "Question", "Where", "Margin"]
    frame = framed(findings_rows(reading.findings), columns)
    at = row_chosen(frame, "findings", "Findings, the most serious first")
    if at is None:
        st.caption("Select a line to see the parts and what would help.")
    return None if at is None else reading.findings[at]


def _detail(desk: Desk, finding: Finding) -> None:
    """Its numbers, what would help, where the rule is from, and the cure that was looked for."""
    st.markdown(f"**{plain(finding.question)}** {plain(finding.place)}")
    st.markdown(plain(numbers(finding)))
    if finding.advice:
        st.markdown(plain(f"What would help: {finding.advice}"))
    st.caption(plain(f"{finding.severity}; {finding.source}"))
    if finding.verdict in GRAVE:
        words = "Look for the smallest change that cures it"
        st.button(words, icon=":material/healing:", key="look", on_click=_ask, args=[finding])
        if found := _cure(desk, finding):
            _offer(desk, found)


def _ask(finding: Finding) -> None:
    st.session_state["cure-asked"] = finding


def _cure(desk: Desk, finding: Finding) -> Cure | NoCure | None:
    """The cure of a finding, looked for once in a kitchen, when somebody asks."""
    if st.session_state.get("cure-asked") != finding:
        return None
    held = st.session_state.get("cure")
    if held is None or held[0] != desk.document or held[1].finding != finding:
        with st.status("Looking for a cure", expanded=False) as status:
            looked = cure(desk.document, finding, kitchen=desk.reading.kitchen, report=_labels(status))
            status.update(label=f"{looked.trials} changes tried", state="complete")
        st.session_state["cure"] = (desk.document, looked)
    found: Cure | NoCure = st.session_state["cure"][1]
    return found


def _labels(status: StatusContainer) -> Callable[[str], None]:
    return lambda text: status.update(label=text)


def _offer(desk: Desk, found: Cure | NoCure) -> None:
    st.markdown(plain(found.words[:1].upper() + found.words[1:]))
    if isinstance(found, Cure):
        make = partial(desk.do, WHERE, found.applied, f"cured: {found.words}")
        st.button("Make this change", icon=":material/check:", key="make", on_click=make, type="primary")


def _drawings(desk: Desk) -> None:
    """One sheet of the papers on the screen: plan, walls, both faces of every length, joins, the card."""
    found = {sheet.name: sheet for sheet in sheets(desk.reading.kitchen)}
    names = list(found)
    first = next((i for i, name in enumerate(names) if name.startswith("T")), 0)
    name = st.selectbox("Drawing", names, first, format_func=lambda n: found[n].title, key=desk.key("drawing"))
    show_sheet(found[name], f"{found[name].title}, scale {found[name].scale}")
    with st.container(horizontal=True):
        offer("This drawing (SVG)", lambda: svg(found[name]), f"{name}.svg")
        offer("This drawing (DXF)", lambda: dxf(found[name]), f"{name}.dxf")
    st.caption("On paper: the same sheets in their true scale, under Papers to take along.")


def _papers(desk: Desk) -> None:
    """Everything to take to the workshop and to the site; each is made only when somebody asks for it."""
    kitchen, taken = desk.reading.kitchen, desk.reading.takeoff
    plans = CutPlans(taken.plans, taken.boards)
    st.caption("Measure again on site before the first cut. Makers' sheets and local codes go first.")
    offer("All drawings to cut from (PDF)", lambda: drawings_pdf(kitchen, plans), "drawings.pdf")
    here = kitchen.cut_here
    if here is not kitchen:
        request = lambda: _bound("Template request", list(request_sheets(kitchen)))  # noqa: E731
        offer("Template request for tops made to measure (PDF)", request, "template-request.pdf")
    if here.joins:
        offer("Join sheets (PDF)", lambda: _bound("Joins", _joins(here)), "joins.pdf")
    if scribed(here) or met_panels(here):
        offer("Scribe sheets (PDF)", lambda: _bound("Scribe", list(scribe_sheets(here))), "scribe.pdf")
    if has_templates(kitchen):
        offer("Full-size templates and scribe strips (PDF)", lambda: templates_pdf(kitchen), "templates.pdf")
    offer("Cutting and fitting card (PDF)", lambda: _bound("Card", card_sheets(kitchen, plans.tops)), "card.pdf")
    offer("Page for a phone at the saw (HTML)", lambda: saw_html(kitchen, plans.tops), "saw.html")
    zipped = lambda step: papers_zip(kitchen, step, cuts(desk))  # noqa: E731
    made_when_asked(desk, "All papers and drawings, DXF and SVG too (ZIP)", zipped, "papers.zip")
    offer("Findings (JSON)", lambda: _findings_json(desk.reading), "findings.json")
    made_when_asked(desk, "Fit report (PDF)", partial(_report, desk), "fit-report.pdf")
    made_when_asked(desk, "Labels of all pieces (PDF)", lambda _: labels_pdf(kitchen, cuts(desk)), "labels.pdf")
    _readings(desk)


def _readings(desk: Desk) -> None:
    """What was read at the saw: a file of the page's taken in, and every reading that the kitchen has."""
    told_at(AT_SAW, desk)
    upload = st.file_uploader("What the phone saved at the saw (JSON, up to 1 MB)", type=["json"], key="saw-upload")
    if upload is not None:
        take = partial(_take, desk, upload.getvalue(), upload.name)
        st.button("Take these readings in, as cut", icon=":material/straighten:", key="saw-take", on_click=take)
    for line in as_cut_words(desk.reading.kitchen):
        st.markdown(plain(line))


def _take(desk: Desk, raw: bytes, name: str) -> None:
    kitchen = desk.reading.kitchen

    def taken(now: Document) -> Document:
        return now.model_copy(update={"as_cut": measured(raw, name, kitchen).as_cut})

    desk.do(AT_SAW, taken, "took in what was read at the saw")


def _report(desk: Desk, step: Step) -> bytes:
    """The fit report, with the cures that are soon found."""
    reading, regions = desk.reading, desk.document.regions
    rules = checks.default_rules().within(regions)
    cures = cures_of(reading.kitchen, reading.findings, rules, step, QUICK)
    words = {finding: found.words for finding, found in cures.items()}
    step("drawing the fit report")
    return fit_report(reading.kitchen, reading.findings, words, where_from(regions))


def _joins(kitchen: Kitchen) -> list[Sheet]:
    return [joint_sheet(kitchen, join) for join in kitchen.joins]


def _bound(title: str, found: list[Sheet]) -> bytes:
    return pdf(found, title)


def _findings_json(reading: KitchenReading) -> bytes:
    found = {"caution": checks.CAUTION, "findings": checks.as_json(reading.findings)}
    return json.dumps(found, indent=2, ensure_ascii=False).encode()
