"""Actuals form: after a job what it took, typed beside what was planned, and the figures to plan with next."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

import pandas as pd
import streamlit as st

from countersunk.takeoff.counting.labour import default_labour
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report import actuals
from countersunk.takeoff.report.actuals import Actuals, Spent
from countersunk.viewer.app.places.downloads import offer

TOOK = "Took"
MOST = 99_999.0
TITLES = {"hours": "Hours of all people together", "packs": "Packs used, 0.5 for half of one"}


def show(takeoff: Takeoff) -> None:
    """Two tables to type into, extra trips, and what follows from them."""
    st.caption("Type what you know, leave the rest empty. A figure moves only as far as so many jobs bear out.")
    typed: list[tuple[str, str, float]] = []
    for kind, title in TITLES.items():
        st.markdown(f"#### {title}")
        lines = [line for line in actuals.planned_lines(takeoff) if line[0] == kind]
        table = pd.DataFrame(
            {"Code": code, "What": what, "Planned": float(planned), TOOK: None} for _, code, what, planned in lines
        )
        table[TOOK] = pd.Series([None] * len(table), dtype="Float64")
        edited = st.data_editor(
            table, hide_index=True, width="stretch", disabled=["Code", "What", "Planned"], key=f"took-{kind}",
            column_config={
                "Planned": st.column_config.NumberColumn(format="%.2f"),
                TOOK: st.column_config.NumberColumn(min_value=0.0, max_value=MOST, format="%.2f"),
            },
        )  # fmt: skip
        typed += [(kind, row["Code"], row[TOOK]) for _, row in edited.iterrows() if pd.notna(row[TOOK])]
    trips = st.number_input("Trips beyond those planned", min_value=0, max_value=100, step=1, key="took-trips")
    spent = spent_on(typed, int(trips or 0))
    if spent.hours or spent.packs or spent.trips:
        _told(takeoff, actuals.compare_actuals(takeoff, spent, default_labour()))


def spent_on(typed: Iterable[tuple[str, str, float]], trips: int) -> Spent:
    """What was typed as it was spent, to a thousandth."""
    both: dict[str, dict[str, Decimal]] = {"hours": {}, "packs": {}}
    for kind, code, took in typed:
        both[kind][code] = Decimal(f"{float(took):.3f}")
    return Spent(both["hours"], both["packs"], Decimal(trips))


def _told(takeoff: Takeoff, found: Actuals) -> None:
    """Each line beside the plan, new figures with how sure they are, and the files that keep them."""
    st.markdown("#### What it took")
    st.dataframe(pd.DataFrame(cost_rows(takeoff, found)), hide_index=True, width="stretch", alt="What it took")
    st.markdown("#### What to plan with next")
    for lesson in (lesson for lesson in found.lessons if lesson.is_odd):
        st.warning(f"{lesson.code}: {lesson.words}", icon=":material/warning:")
    st.dataframe(pd.DataFrame(lesson_rows(found)), hide_index=True, width="stretch", alt="What to plan with next")
    st.caption(f"{actuals.METHOD}.")
    rules = actuals.learned(default_labour(), found)
    offer("Labour table with the new minutes (YAML)", lambda: actuals.labour_yaml(rules), "labour.yaml")
    terms = actuals.learned_terms(takeoff.terms, found)
    offer("Terms with the new allowances (YAML)", lambda: actuals.terms_yaml(terms), "terms.yaml")


def cost_rows(takeoff: Takeoff, found: Actuals) -> list[dict[str, str]]:
    """Every line with what it cost more, and the sum."""
    money = takeoff.money
    rows = [
        {
            "What": line.description,
            "Planned": f"{line.planned.normalize():f}",
            "Took": f"{line.spent.normalize():f}",
            f"More, {found.currency}": "no price" if line.more is None else money.signed(line.more),
        }
        for line in found.lines
    ]
    return [*rows, {"What": "Together", f"More, {found.currency}": money.signed(found.more)}]


def lesson_rows(found: Actuals) -> list[dict[str, str]]:
    """Every figure as it was, what it rests on, and as it should be."""
    rows = []
    for x in found.lessons:
        unit = "min" if x.kind == "minutes" else "%"
        old, measured, new = (f"{value:.4g} {unit}" for value in (x.old, x.measured, x.new))
        sure = f"{x.certainty:.0f} %: {x.words}"
        rows.append({"Of": x.code, "Now": old, "From": x.basis, "This job": measured, "New": new, "How sure": sure})
    return rows
