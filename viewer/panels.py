"""Panels: what the app shows beside the 3D view, from a reading."""

from __future__ import annotations

import html
import json
from collections.abc import Callable
from datetime import date

import pandas as pd
import streamlit as st
from streamlit.elements.lib.mutable_status_container import StatusContainer

from model import checks
from model.checks.finding import Finding, Verdict
from model.checks.rules import where_from
from model.cures import Cure, NoCure, cure
from model.document import Document
from model.part import Part
from takeoff import report
from takeoff.orders import orders, orders_csv
from viewer.drawing.fit_report import fit_report
from viewer.drawing.papers import cutting_pdf, drawings_pdf, labels_pdf, templates_pdf
from viewer.edits import as_yaml
from viewer.labels import part_label
from viewer.quoting.quote import quote_pdf
from viewer.reading import Reading
from viewer.tables import findings_frame, labour_frame, takeoff_frame, totals_rows

Ids = tuple[str, ...]
MONEY = {"Cost": st.column_config.NumberColumn(format="%.2f")}


def headline(reading: Reading) -> None:
    """Whose kitchen it is, how many findings are serious, and the total."""
    findings, totals = reading.findings, reading.takeoff.totals
    serious = sum(f.serious for f in findings)
    short = sum(f.verdict is Verdict.SHORT for f in findings)
    unmeasured = sum(f.verdict is Verdict.NOT_MEASURED for f in findings)
    facts = [
        f"✖ {serious} {'must is' if serious == 1 else 'musts are'} not met" if serious else "✓ no must missed",
        f"▲ {short} {'advice falls' if short == 1 else 'advices fall'} short" if short else "✓ no advice missed",
        *([f"? {unmeasured} not measured"] if unmeasured else []),
        f"{totals.gross:,.2f} {totals.currency}{'' if totals.complete else ', incomplete'}",
    ]
    title = html.escape(reading.kitchen.document.kitchen)
    spans = "".join(f'<span class="fact">{html.escape(fact)}</span>' for fact in facts)
    st.html(f'<div class="headline"><span class="title">{title}</span>{spans}</div>')


def part_line(reading: Reading, picked: str | None) -> None:
    """What the part is that was last clicked in the view."""
    part = reading.kitchen.parts_by_id.get(picked or "")
    if part is None:
        st.caption("Click a part in the view to see what it is.")
        return
    st.markdown(f"**{part.id}**  {part_label(part, reading.kitchen)} ({_size(part)})")


def findings(reading: Reading) -> Finding | None:
    """Every finding; returns the one that is selected."""
    held = where_from(reading.kitchen.document.regions)
    st.html(f'<div class="caution">{html.escape(held)}<br>{html.escape(checks.CAUTION)}</div>')
    row = _selected(findings_frame(reading.findings), "findings")
    return None if row is None else reading.findings[row]


def cured(reading: Reading, finding: Finding | None) -> Document | None:
    """Offers to look for a cure of a finding that is missed; the document with it made, once somebody says so."""
    if finding is None or finding.verdict in (Verdict.MET, Verdict.NOT_MEASURED):
        return None
    key = f"cure-{finding.rule}-{finding.place}"
    if st.button("Look for the smallest change that cures it", icon=":material/healing:", key=key):
        with st.status("Looking for a cure", expanded=False) as status:
            looked = cure(reading.kitchen.document, finding, kitchen=reading.kitchen, report=_labels(status))
            status.update(label=f"{looked.trials} changes tried", state="complete")
        st.session_state["cure"] = looked
    found: Cure | NoCure | None = st.session_state.get("cure")
    if found is None or found.finding != finding:
        return None
    st.markdown(html.escape(found.words))
    if isinstance(found, Cure) and st.button("Make this change", icon=":material/check:", key=f"make-{key}"):
        return found.applied(reading.kitchen.document)
    return None


def _labels(status: StatusContainer) -> Callable[[str], None]:
    return lambda text: status.update(label=text)


def takeoff(reading: Reading) -> Ids:
    """Every line, labour and totals; returns the ids of the parts behind the selected line."""
    taken = reading.takeoff
    for text in taken.missing:
        st.warning(f"No cost in the total: {text}", icon=":material/price_change:")
    if not taken.boards:
        words = "Boards are counted by their area. Lay them out on sheets"
        st.button(words, key="lay-out", on_click=_lay_out, args=[reading], icon=":material/dashboard:")
    row = _selected(takeoff_frame(taken), "takeoff")
    left, right = st.columns([2, 1], gap="large")
    with left:
        st.subheader("Labour")
        st.dataframe(labour_frame(taken), hide_index=True, width="stretch", column_config=MONEY)
    with right:
        st.subheader("Totals")
        st.table(pd.DataFrame(totals_rows(taken), columns=["", "Amount"]).set_index(""))
        st.caption(taken.price_note)
    lines = "<br>".join(html.escape(text) for text in taken.cautions)
    st.html(f'<div class="caution">{lines}</div>')
    return () if row is None else parts_behind(reading, taken.quantities[row].ids)


def _lay_out(reading: Reading) -> None:
    """Ask for the boards of this kitchen to be laid out; another edit puts the estimate back."""
    st.session_state["laid_out"] = reading.kitchen.document


def parts_behind(reading: Reading, ids: Ids) -> Ids:
    """The ids of the parts behind units, edges, joins and cut-outs: the view lights up parts and nothing else."""
    parts = (part for id_ in ids for part in reading.kitchen.parts_behind.get(id_, ()))
    return tuple(dict.fromkeys(part.id for part in parts))


def files(reading: Reading) -> None:
    """Everything to take away; each is made only when somebody asks for it."""
    for label, made, name in _downloads(reading):
        st.download_button(label, made, name, on_click="ignore", icon=":material/download:", key=f"file-{name}")


def _downloads(reading: Reading) -> list[tuple[str, Callable[[], bytes], str]]:
    kitchen, taken = reading.kitchen, reading.takeoff
    full_size = ("Full-size templates (PDF)", lambda: templates_pdf(kitchen), "templates.pdf")
    to_sign = ("Quote to sign (PDF)", lambda: quote_pdf(kitchen, taken, date.today()), "quote.pdf")
    return [
        ("Kitchen file (YAML)", lambda: as_yaml(kitchen.document), "kitchen.yaml"),
        ("Papers to cut from (PDF)", lambda: drawings_pdf(kitchen), "drawings.pdf"),
        *([full_size] if kitchen.cutouts else []),
        ("Cutting plans (PDF)", lambda: cutting_pdf(kitchen), "cutting.pdf"),
        ("Labels of all pieces (PDF)", lambda: labels_pdf(kitchen), "labels.pdf"),
        ("Fit report (PDF)", lambda: _fit_report(reading), "fit-report.pdf"),
        *([to_sign] if taken.totals.complete else []),
        ("Orders by supplier (CSV)", lambda: orders_csv(orders(taken), taken.totals.currency), "orders.csv"),
        ("3D model (glTF)", lambda: reading.glb, "kitchen.glb"),
        ("Takeoff as workbook (XLSX)", lambda: report.xlsx_bytes(taken), "takeoff.xlsx"),
        ("Takeoff as table (CSV)", lambda: report.csv_bytes(taken), "takeoff.csv"),
        ("Findings (JSON)", lambda: _findings_json(reading), "findings.json"),
    ]


def _fit_report(reading: Reading) -> bytes:
    """Every finding drawn; cures are looked for one by one, where somebody asks."""
    held = where_from(reading.kitchen.document.regions)
    return fit_report(reading.kitchen, reading.findings, {}, held)


def _findings_json(reading: Reading) -> bytes:
    found = {"caution": checks.CAUTION, "findings": checks.as_json(reading.findings)}
    return json.dumps(found, indent=2, ensure_ascii=False).encode()


def _selected(frame: pd.DataFrame, key: str) -> int | None:
    """Show a table in which one row can be chosen; the row's position, if one is."""
    event = st.dataframe(
        frame,
        hide_index=True,
        width="stretch",
        on_select="rerun",
        selection_mode="single-row",
        column_config=MONEY,
        key=key,
    )
    rows = event["selection"]["rows"]
    return int(rows[0]) if rows and rows[0] < len(frame) else None


def _size(part: Part) -> str:
    return f"{part.length:.0f} × {part.depth:.0f} × {part.thickness:g} mm"
