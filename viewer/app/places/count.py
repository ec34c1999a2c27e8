"""Count: what the estimator counts, prices and orders; cutting plans and quote only when somebody asks."""

from __future__ import annotations

import html
from datetime import date
from functools import partial

import pandas as pd
import streamlit as st

from countersunk.takeoff.report import report
from countersunk.takeoff.report.orders import orders, orders_csv
from countersunk.viewer.app.places import actuals_form, beside, priced
from countersunk.viewer.app.places.choosing import MONEY, framed, one_of, row_chosen
from countersunk.viewer.app.places.downloads import Step, made_when_asked, offer
from countersunk.viewer.app.places.drawn import show_sheet
from countersunk.viewer.app.places.names import COUNT
from countersunk.viewer.app.places.options import offered, priced_option
from countersunk.viewer.app.places.planned import counted, cuts, lay_out
from countersunk.viewer.app.reading import KitchenReading, parts_behind
from countersunk.viewer.app.session import Desk, plain
from countersunk.viewer.app.tables import labour_rows, material_rows, totals_rows
from countersunk.viewer.drawing.paper import imprint, reference
from countersunk.viewer.drawing.papers import cutting_pdf, cutting_sheets
from countersunk.viewer.drawing.shapes import Sheet
from countersunk.viewer.quoting.customer import Job
from countersunk.viewer.quoting.quote import quote_pdf
from countersunk.viewer.quoting.typeset import typeset
from countersunk.viewer.quoting.van import van_data
from countersunk.viewer.quoting.workshop import file_of, orders_data, to_measure_data

TRADES = {
    "worktop": "Worktop", "boards": "Boards and bands", "hardware": "Fittings and screws",
    "appliances": "Sink, hob, appliances", "site": "Done by others on site", "wear": "Wear of tools",
}  # fmt: skip


def show(desk: Desk) -> None:
    """One of the views."""
    chosen = one_of("What to count", COUNT, "count")
    desk.at(f"Count {chosen}")
    st.subheader(chosen)
    reading = counted(desk)
    for text in reading.takeoff.missing:
        st.warning(f"No cost in the total: {plain(text)}", icon=":material/price_change:")
    match chosen:
        case "Takeoff":
            _takeoff(desk, reading)
        case "Cutting plans":
            _plans(desk)
        case "Prices":
            priced.show(desk)
        case "What it took":
            actuals_form.show(reading.takeoff)
        case _:
            _papers(desk, reading)


def _takeoff(desk: Desk, reading: KitchenReading) -> None:
    left, right = st.container(key="count-takeoff").columns([7, 5], gap="medium")
    with left:
        how = st.segmented_control(
            "Ordered by", ("Trade", "Unit and place"), default="Trade", key="takeoff-by", required=True
        )
        lit = _by_trade(reading) if how == "Trade" else _by_place(reading)
        st.markdown("#### Labour")
        work = framed(labour_rows(reading.takeoff))
        st.dataframe(work, hide_index=True, width="stretch", column_config=MONEY, alt="Labour")
        st.markdown("#### Totals")
        st.table(pd.DataFrame(totals_rows(reading.takeoff), columns=["", "Amount"]).set_index(""))
        st.caption(plain(reading.takeoff.price_note))
    with right:
        beside.view(desk, parts_behind(reading, lit), height=520)
    lines = "<br>".join(html.escape(text) for text in reading.takeoff.cautions)
    st.html(f'<div class="caution">{lines}</div>')


def _by_trade(reading: KitchenReading) -> tuple[str, ...]:
    """The lines of a trade, or of all; the ids behind the one that is chosen."""
    found = [
        name for code, name in TRADES.items() if any(m.quantity.group == code for m in reading.takeoff.materials)
    ]
    trade = st.selectbox("Trade", ["All trades", *found], key="trade")
    frame, lines = framed(material_rows(reading.takeoff)), reading.takeoff.materials
    kept = [i for i, line in enumerate(lines) if trade in ("All trades", TRADES[line.quantity.group])]
    shown = frame.iloc[kept]
    cost = sum(line.charge.cost for line in (lines[i] for i in kept) if line.charge)
    at = row_chosen(shown, "takeoff", "Takeoff, a line for each article")
    st.caption(f"{len(kept)} lines, {cost:,.2f} {reading.takeoff.totals.currency} without tax and mark-up. "
               "Select a line: the parts behind it light up.")  # fmt: skip
    if at is None:
        return ()
    chosen = lines[kept[at]].quantity
    st.markdown(f"**{plain(chosen.description)}** {plain(chosen.formula)}")
    st.caption(plain(chosen.source))
    return chosen.ids


def _by_place(reading: KitchenReading) -> tuple[str, ...]:
    """What each unit, length, join and cut-out brings: packs are bought for all of them, so it has no price."""
    places, marks = by_place(reading), reading.kitchen.marks
    said = {**marks, **{unit.key: f"{unit.name}, {unit.family.name}" for unit in reading.kitchen.units}}
    place = st.selectbox(
        "Unit or place", list(places), format_func=lambda key: said.get(key, key), key="takeoff-place"
    )
    frame = pd.DataFrame(
        [{"Item": name, "Measured": round(amount, 3), "Unit": unit} for name, unit, amount in places[place]]
    )
    st.dataframe(frame, hide_index=True, width="stretch", alt=f"What {marks.get(place, place)} takes")
    st.caption("Measured net. Packs are ordered for the whole kitchen, so money stands in the list by trade.")
    return (place,)


def by_place(reading: KitchenReading) -> dict[str, list[tuple[str, str, float]]]:
    """Item, unit and measured amount by the key of what they are for, a unit or a length, in order of marks."""
    kitchen = reading.kitchen
    found: dict[str, dict[tuple[str, str], float]] = {}
    for line in reading.takeoff.materials:
        for share in line.quantity.contributions:
            items = found.setdefault(kitchen.owners.get(share.id, share.id), {})
            key = (line.quantity.description, line.quantity.unit)
            items[key] = items.get(key, 0.0) + share.amount
    return {
        place: [(name, unit, amount) for (name, unit), amount in items.items()]
        for place, items in sorted(found.items(), key=lambda item: kitchen.marks.get(item[0], item[0]))
    }


def _plans(desk: Desk) -> None:
    """Every length and sheet with its cuts, once somebody asks; they take some seconds."""
    held = st.session_state.get("plans")
    if held is None or held[0] != desk.asked:
        st.caption("Lengths of worktop and sheets of board, each with its cuts in order. This takes some seconds.")
        if st.button("Lay out and draw", icon=":material/dashboard:", key="lay-out"):
            _lay_out(desk)
            st.rerun()
        return
    found: dict[str, Sheet] = {sheet.name: sheet for sheet in held[1]}
    name = st.selectbox("Plan", list(found), format_func=lambda n: found[n].title, key=desk.key("plan"))
    if name:
        show_sheet(found[name], f"{found[name].title}, scale {found[name].scale}")
    offer("Cutting plans (PDF)", lambda: cutting_pdf(desk.reading.kitchen, cuts(desk)), "cutting.pdf")


def _lay_out(desk: Desk) -> None:
    """The plans that are drawn, one after the other, with what is being done."""
    with st.status("Laying boards out on sheets", expanded=False) as status:
        lay_out(desk)
        found = []
        for sheet in cutting_sheets(desk.reading.kitchen, cuts(desk)):
            status.update(label=f"drawing {sheet.title}")
            found.append(sheet)
    st.session_state["plans"] = (desk.asked, found)


def _papers(desk: Desk, reading: KitchenReading) -> None:
    """The quote to sign, orders by supplier, the van list, and the workbook behind them."""
    names = list(offered(desk.document, desk.catalogue))
    customer = st.text_area("Customer, a line each of name and address", max_chars=300, key="customer")
    chosen = tuple(st.multiselect("Shown as choices on the quote", names, max_selections=4, key=desk.key("quoted")))
    lines = tuple(line.strip() for line in (customer or "").splitlines() if line.strip())[:6]
    job, taken = Job(lines, date.today()), reading.takeoff
    if taken.totals.complete:
        made_when_asked(
            desk, "Quote to sign (PDF)", lambda step: _quote(desk, job, chosen, step), "quote.pdf", (job, chosen)
        )
    else:
        st.warning("A quote needs a price for every line: see Prices.", icon=":material/price_change:")
    found, told = orders(taken), reference(reading.kitchen)
    offer("Takeoff as workbook (XLSX)", lambda: report.xlsx_bytes(taken), "takeoff.xlsx")
    offer("Takeoff as table (CSV)", lambda: report.csv_bytes(taken), "takeoff.csv")
    offer("Orders by supplier (CSV)", lambda: orders_csv(found, taken.money), "orders.csv")
    offer(
        "Orders by supplier (PDF)",
        lambda: typeset("orders", orders_data(taken, found, job, told, imprint(reading.kitchen))),
        "orders.pdf",
    )
    for order in found:
        drawn = to_measure_data(taken, order, job, told, imprint(reading.kitchen))
        if drawn:
            offer(
                f"Drawings for {order.supplier}, made to measure (PDF)",
                partial(typeset, "to-measure", drawn),
                file_of(order.supplier),
            )
    van = lambda: typeset("van-list", van_data(reading.kitchen, taken, job, told))  # noqa: E731
    offer("Van list (PDF)", van, "van-list.pdf")
    offer("3D model (glTF)", lambda: reading.scene.glb, "kitchen.glb")


def _quote(desk: Desk, job: Job, chosen: tuple[str, ...], step: Step) -> bytes:
    step("counting sheets of board")
    lay_out(desk)
    reading = counted(desk)
    options = [priced_option(*desk.asked, name, on_sheets=True) for name in chosen]
    step("setting the quote")
    return quote_pdf(reading.kitchen, reading.takeoff, job, options, step)
