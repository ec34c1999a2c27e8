"""Priced: the price book as a table in which prices are changed in place, and opened and saved as its CSV."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

import pandas as pd
import streamlit as st

from countersunk.model.errors import InputError
from countersunk.takeoff.stock.prices import MONEY, Price, PriceBook, book_csv, price_book
from countersunk.viewer.app.places.downloads import offer
from countersunk.viewer.app.reading import book_of
from countersunk.viewer.app.session import Desk, plain, plainly

CHANGED = "price book changed by hand"


def show(desk: Desk) -> None:
    """The prices that this kitchen asks, or all of them."""
    book = book_of(desk.book, desk.catalogue)
    st.caption(plain(book.note))
    every = st.toggle("All prices of the book", key="all-prices")
    used = {line.price.code for line in desk.reading.takeoff.materials if line.price} | {
        desk.reading.takeoff.terms.rate
    }
    shown = {code: price for code, price in book.prices.items() if every or code in used}
    slot = st.container()
    frame = st.data_editor(
        _frame(shown),
        hide_index=True,
        width="stretch",
        disabled=["code", "description", "unit", "pack", "currency", "date", "supplier"],
        key=desk.key("prices"),
        alt="Price book",
    )
    try:
        changed = dict(zip(frame["code"], frame["price"], strict=True))
        made = repriced(book, changed)
    except InputError as error:
        slot.error(f"The price stays as it was. {plain(plainly(error))}", icon=":material/block:")
    else:
        if made != book.prices:
            desk.price(book_csv(made.values(), book.note), _told(book.prices, made))
            st.rerun()
    _files(desk, book)


def _frame(prices: Mapping[str, Price]) -> pd.DataFrame:
    rows = [
        {
            "code": p.code, "description": p.description, "price": f"{p.price:f}", "currency": p.currency,
            "pack": f"{p.pack:f} {p.unit}", "date": p.date.isoformat(), "supplier": p.supplier,
        }
        for p in prices.values()
    ]  # fmt: skip
    return pd.DataFrame(rows)


def repriced(book: PriceBook, typed: Mapping[str, object]) -> dict[str, Price]:
    """The prices of a book with those that were typed, exactly as they were typed.

    Raises InputError for what a price book does not take as a price.
    """
    made = dict(book.prices)
    for code, text in typed.items():
        words = str(text).strip()
        if not MONEY.fullmatch(words):
            allowed = "a number from 0 with at most 4 decimals, with a point, such as 12.50"
            raise InputError.at(f"price of {code}", found=repr(words)[:40], allowed=allowed)
        if Decimal(words) != made[code].price:
            made[code] = replace(made[code], price=Decimal(words))
    return made


def _told(before: Mapping[str, Price], after: Mapping[str, Price]) -> str:
    found = [f"{c}: {p.price:f} instead of {before[c].price:f}" for c, p in after.items() if before[c] != p]
    return f"price of {found[0]}" if len(found) == 1 else f"{len(found)} prices changed"


def _files(desk: Desk, book: PriceBook) -> None:
    offer("Save the price book (CSV)", lambda: book_csv(book.prices.values(), book.note), "prices.csv")
    upload = st.file_uploader("Open a price book (CSV, up to 1 MB)", type=["csv"], key="book-upload")
    if upload and st.session_state.get("book-opened") != upload.file_id:
        st.session_state["book-opened"] = upload.file_id
        try:
            price_book(upload.getvalue(), upload.name)
        except InputError as error:
            st.error(f"The price book was not opened. {plain(plainly(error))}", icon=":material/block:")
            return
        desk.price(upload.getvalue(), f"price book {upload.name} opened")
        st.rerun()
