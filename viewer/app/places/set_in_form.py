"""Set-in form: sinks, hobs and whatever else is let into the top, and the appliances that stand in the rows."""

from __future__ import annotations

from functools import partial

import streamlit as st

from countersunk.model.catalogue.catalogue import Family
from countersunk.model.document.keys import names_by_key, unit_names
from countersunk.model.edit import arrange
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import listed
from countersunk.viewer.app.session import Desk, Wish, told_at

WHERE = "appliances"


def form(desk: Desk) -> list[Wish]:
    """The cut-outs as they were typed; appliances are exchanged by buttons."""
    cells = columns.cutout_cells(desk.catalogue, names_by_key(desk.base))
    wishes = listed(desk, "cutouts", "Let into the top", cells, desk.base.cutouts)
    st.caption("A ready size, or kind and cut of a maker's sheet. The shift is to the right of the unit's middle.")
    st.markdown("#### Appliances in the rows")
    told_at(WHERE, desk)
    for field, row in arrange.rows(desk.document).items():
        for at, unit in enumerate(row.units):
            _appliance(desk, field, at, desk.catalogue.families[unit.unit])
    return wishes


def _appliance(desk: Desk, field: str, at: int, family: Family) -> None:
    """One appliance, to be exchanged for another of the same level."""
    if not family.appliances:
        return
    name = unit_names(desk.document)[field][at]
    all_of = columns.families(desk.catalogue, family.level)
    known = {f.code: f for f in all_of if f.appliances}
    codes, key = list(known), desk.key(f"appliance-{field}-{at}")
    st.selectbox(
        f"Appliance {name}",
        codes,
        codes.index(family.code),
        format_func=lambda code: known[code].name,
        key=key,
        on_change=partial(_exchange, desk, field, at, key),
    )


def _exchange(desk: Desk, field: str, at: int, key: str) -> None:
    family = desk.catalogue.families[st.session_state[key]]
    former = arrange.rows(desk.document)[field].units[at].model_dump(exclude_unset=True)
    name = unit_names(desk.document)[field][at]
    made = arrange.as_family(family, former)
    desk.do(WHERE, lambda document: arrange.replaced(document, field, at, made), f"{name} is now a {family.name}")
