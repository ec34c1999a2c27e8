"""Top form: stock and decor of worktops and fronts, overhangs, joins, shaped corners, upstand and allowances."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import streamlit as st

from countersunk.model.document.keys import names_by_key
from countersunk.model.edit.edits import edited
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import listed
from countersunk.viewer.app.places.lengths import length_input
from countersunk.viewer.app.session import Desk, Wish

NONE = "none"
SIDES = {"plain": "plain, as the carcass", "fronts": "in the decor of the fronts"}
TRIMS = {"panels": "End panels and backs of islands", "plinth": "Plinth", "cornice": "Cornice", "pelmet": "Pelmet"}
SAME = ""
"""Chosen where a level of fronts has no decor of its own."""

JOINS_BY = {"stock": "fewest joins, then least stock", "order": "the left wall's top runs through"}

ALLOWANCES = {
    "expansion": "Left at the wall behind a top of wood, mm",
    "lowering": "Cut shorter to be lowered in between two walls, mm",
    "notch": "Gap at a notch, mm",
    "hand_room": "Hand room of a piece that is carried, mm",
    "packing": "Packing on both faces together, mm",
    "router": "Router's room between two routed ends, mm",
}


def form(desk: Desk) -> list[Wish]:
    """What was chosen and typed for tops and fronts."""
    top, catalogue = desk.base.worktop, desk.catalogue
    stocks = {stock.code: stock.name for stock in catalogue.stocks.values()}
    units = names_by_key(desk.base)
    covers = {stock.code: stock.name for stock in catalogue.splashbacks.values()}
    wishes = [
        *_stock(desk, stocks),
        *_choice(desk, "worktop.decor", "Worktop decor", top.decor, _decors(desk, "worktop")),
        *_number(desk, "worktop.overhang.front", "Overhang at the front, mm", top.overhang.front),
        *_number(desk, "worktop.overhang.ends", "Overhang at free ends, mm", top.overhang.ends),
        *_fronts(desk),
        *_upstand(desk),
        *_finishes(desk),
    ]
    if top.upstand:
        cut = st.checkbox("Sockets cut out of the upstand", top.upstand.sockets, key=desk.key("upstand.sockets"))
        wishes += _wish("worktop.upstand.sockets", cut, top.upstand.sockets)
        title = "Holes in the upstand"
        cells = columns.hole_cells(desk.base)
        wishes += listed(desk, "worktop.upstand.holes", title, cells, top.upstand.holes)
    return [
        *wishes,
        *_choice(desk, "worktop.joins_by", "Joins left open below", top.joins_by, JOINS_BY),
        *listed(desk, "worktop.joins", "Joins in corners", columns.JOINS, top.joins),
        *listed(desk, "worktop.in_line", "Joins in line", columns.IN_LINE, top.in_line),
        *listed(desk, "worktop.corners", "Shaped corners of free ends", columns.corner_cells(units), top.corners),
        *listed(
            desk, "splashbacks", "Splashbacks", columns.splashback_cells(desk.base, covers), desk.base.splashbacks
        ),
        *_allowances(desk),
    ]


def _stock(desk: Desk, stocks: Mapping[str, str]) -> list[Wish]:
    """The stock, and of one that is made to measure how deep."""
    top, catalogue = desk.base.worktop, desk.catalogue
    codes, now = list(stocks), catalogue.stocks[top.stock]
    chosen = st.selectbox(
        "Worktop", codes, codes.index(top.stock), format_func=stocks.__getitem__, key=desk.key("worktop.stock")
    )
    also = {} if catalogue.stocks[chosen].slab else {"worktop.depth": None}
    wishes = _wish("worktop.stock", chosen, top.stock, also)
    if now.slab:
        wishes += _number(desk, "worktop.depth", "Depth of the worktop, mm", top.depth or now.depth)
    return wishes


def _fronts(desk: Desk) -> list[Wish]:
    """The decor of fronts, and of those of a level where these are in another."""
    fronts, decors = desk.base.fronts, _decors(desk, "front")
    same = {SAME: "as the others", **decors}
    wishes = [
        *_choice(desk, "fronts.decor", "Fronts", fronts.decor, decors),
        *_choice(desk, "fronts.upper", "Fronts of wall units", fronts.upper or SAME, same),
        *_choice(desk, "fronts.tall", "Fronts of tall units", fronts.tall or SAME, same),
        *(
            w
            for field, label in TRIMS.items()
            for w in _choice(
                desk, f"fronts.{field}", label, getattr(fronts, field) or SAME, {SAME: "as the fronts", **decors}
            )
        ),
        *_made(desk),
        *_choice(desk, "fronts.sides", "Sides that show", fronts.sides, SIDES),
        *_choice(desk, "fronts.bottoms", "Bottoms of wall units", fronts.bottoms, SIDES),
    ]
    st.caption("A row, an island or a unit may have fronts of its own: in the tables of *Units*.")
    return wishes


SUPPLIED = {"none": "by others", "walls": "paint by us", "floor": "floor by us", "both": "both by us"}


def _finishes(desk: Desk) -> list[Wish]:
    """Paint and floor, as they are shown, and what of them the job supplies."""
    now, plain = desk.base.finishes, {SAME: "plain"}
    walls, floor = plain | _decors(desk, "paint"), plain | _decors(desk, "floor")
    return [
        *_choice(desk, "finishes.walls", "Walls", now.walls or SAME, walls),
        *_choice(desk, "finishes.floor", "Floor", now.floor or SAME, floor),
        *_choice(desk, "finishes.supplied", "Paint and floor covering", now.supplied, SUPPLIED),
    ]


def _made(desk: Desk) -> list[Wish]:
    """How fronts are made and gripped, all of them and level by level."""
    fronts, catalogue, wishes = desk.base.fronts, desk.catalogue, list[Wish]()
    offered = {
        "style": ("Style of fronts", {style.code: style.name for style in catalogue.styles.values()}),
        "handle": ("Handles", {handle.code: handle.name for handle in catalogue.handles.values()}),
    }
    for field, (label, names) in offered.items():
        wishes += _choice(desk, f"fronts.{field}", label, getattr(fronts, field), names)
        for level, of in (("upper", "of wall units"), ("tall", "of tall units")):
            own = f"{level}_{field}"
            now = getattr(fronts, own) or SAME
            wishes += _choice(desk, f"fronts.{own}", f"{label} {of}", now, {SAME: "as the others", **names})
    supplied = {"made": "made of front board", "bought": "bought to measure"}
    return [*wishes, *_choice(desk, "fronts.supply", "Fronts are", fronts.supply, supplied)]


def _decors(desk: Desk, use: str) -> dict[str, str]:
    return {d.code: d.name for d in desk.catalogue.decors.values() if d.use == use}


def _choice(desk: Desk, field: str, label: str, now: str, names: Mapping[str, str]) -> list[Wish]:
    codes = list(names)
    chosen = st.selectbox(label, codes, codes.index(now), format_func=names.__getitem__, key=desk.key(field))
    return _wish(field, chosen or None, now or None)


def _allowances(desk: Desk) -> list[Wish]:
    """What is left free round the tops of this job; shown as the catalogue has it where the job says nothing."""
    now = desk.catalogue.allowances.with_own(desk.base.allowances)
    with st.expander("Allowances"):
        numbers = [
            _number(desk, f"allowances.{name}", label, getattr(now, name), "%.1f")
            for name, label in ALLOWANCES.items()
        ]
        tilt = st.checkbox("Pieces may be tilted to be carried in", now.tilt, key=desk.key("allowances.tilt"))
        return [*(wish for wishes in numbers for wish in wishes), *_wish("allowances.tilt", tilt, now.tilt)]


def _number(desk: Desk, field: str, label: str, now: float, shown: str = "%.0f") -> list[Wish]:
    typed = length_input(desk, label, now, desk.key(field), shown)
    return _wish(field, typed, now)


def _upstand(desk: Desk) -> list[Wish]:
    known = {NONE: "none", **{u.code: u.name for u in desk.catalogue.upstands.values()}}
    upstand = desk.base.worktop.upstand
    now = upstand.stock if upstand else NONE
    codes = list(known)
    chosen = st.selectbox(
        "Upstand", codes, codes.index(now), format_func=known.__getitem__, key=desk.key("upstand")
    )
    if chosen == NONE:
        return _wish("worktop.upstand", None, None if now == NONE else now)
    return _wish("worktop.upstand.stock", chosen, now)


def _wish(field: str, value: Any, now: Any, also: Mapping[str, Any] | None = None) -> list[Wish]:
    """A wish for a field, refused in the place below its widget; none where nothing was changed."""
    slot, changes = st.container(), {field: value, **(also or {})}
    return [] if value == now else [Wish(lambda document: edited(document, changes), slot)]
