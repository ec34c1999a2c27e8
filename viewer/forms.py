"""Forms: the fields of a document that the app lets a person change, and what was wrong with a value."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import streamlit as st

from model.catalogue import Catalogue, Family, catalogue_of
from model.document import Document, Unit
from model.edits import edited
from model.errors import CountersunkError, InputError

Changes = dict[str, Any]


def edit(document: Document, generation: int) -> Document:
    """``document`` as the widgets have it now; ``generation`` tells one opened kitchen's widgets from the next's.

    A value that the schema refuses is told, and the document is returned as it was.
    """
    catalogue = catalogue_of(document)
    changes = {
        **_worktop(document, catalogue, generation),
        **_cutouts(document, catalogue, generation),
        **_units(document, catalogue, generation),
    }
    try:
        return edited(document, changes)
    except InputError as error:
        refuse(error)
        return document


def refuse(error: CountersunkError) -> None:
    """Say what cannot be built, at the forms, while the last good kitchen stays in view."""
    for problem in error.problems if isinstance(error, InputError) else [error]:
        st.error(f"Not built, the view shows the last kitchen that was. {problem}", icon=":material/block:")


def _worktop(document: Document, catalogue: Catalogue, generation: int) -> Changes:
    with st.expander("Worktop and fronts", expanded=True, icon=":material/palette:"):
        top = document.worktop
        return {
            "worktop.decor": _decor("Worktop decor", "worktop", top.decor, catalogue, generation),
            "worktop.overhang.front": _number(
                "Overhang at the front, mm", top.overhang.front, 0.0, 60.0, generation
            ),
            "worktop.overhang.ends": _number(
                "Overhang at free ends, mm", top.overhang.ends, 0.0, 100.0, generation
            ),
            "fronts.decor": _decor("Fronts", "front", document.fronts.decor, catalogue, generation),
        }


def _cutouts(document: Document, catalogue: Catalogue, generation: int) -> Changes:
    changes: Changes = {}
    over = [name for name, family in _named(document, catalogue) if family.carries_top]
    for i, cutout in enumerate(document.cutouts):
        template = catalogue.templates.get(cutout.template or "")
        kind, name = (template.kind, template.name) if template else (cutout.kind or "", "as measured")
        with st.expander(f"{kind.capitalize()}: {name}", icon=":material/crop_free:"):
            field = f"cutouts[{i}]"
            key = f"{field}-{generation}"
            changes[f"{field}.over"] = st.selectbox("Over unit", over, over.index(cutout.over), key=f"{key}-over")
            shift = st.slider(
                "Shift from the unit's middle, mm", -400.0, 400.0, float(cutout.shift), 5.0, key=f"{key}-shift"
            )
            changes[f"{field}.shift"] = shift or None
    return changes


def _units(document: Document, catalogue: Catalogue, generation: int) -> Changes:
    changes: Changes = {}
    for field, title, units in _rows(document):
        with st.expander(title, icon=":material/view_column:"):
            changes |= _widths(field, units, catalogue, generation)
    return changes


def _widths(field: str, units: Sequence[tuple[str, Unit]], catalogue: Catalogue, generation: int) -> Changes:
    changes: Changes = {}
    for i, (name, unit) in enumerate(units):
        family, key = catalogue.families[unit.unit], f"{field}.units[{i}].width"
        label = f"{name}  {family.name}, width in mm"
        if len(family.widths) > 1 and unit.width is not None:
            at = family.widths.index(unit.width)
            changes[key] = st.selectbox(label, family.widths, at, format_func=_plain, key=f"{key}-{generation}")
        elif family.width_range and family.width_range[0] < family.width_range[1] and unit.width is not None:
            changes[key] = _number(label, unit.width, *family.width_range, generation)
    if not changes:
        st.caption("Nothing here comes in another width.")
    return changes


def _rows(document: Document) -> list[tuple[str, str, list[tuple[str, Unit]]]]:
    """Field, title and named units of every run and island, named as the layout names them."""
    rows, counts = [], dict[str, int]()
    for i, run in enumerate(document.runs):
        prefix = run.wall if run.level == "floor" else f"{run.wall}U"
        first = counts.get(prefix, 0) + 1
        counts[prefix] = first + len(run.units) - 1
        title = f"Wall {run.wall}" if run.level == "floor" else f"Wall {run.wall}, hung"
        rows.append((f"runs[{i}]", title, [(u.name or f"{prefix}{first + j}", u) for j, u in enumerate(run.units)]))
    for i, island in enumerate(document.islands):
        named = [(u.name or f"{island.name}{j}", u) for j, u in enumerate(island.units, start=1)]
        rows.append((f"islands[{i}]", f"Island {island.name}", named))
    return rows


def _named(document: Document, catalogue: Catalogue) -> list[tuple[str, Family]]:
    return [(name, catalogue.families[unit.unit]) for _, _, units in _rows(document) for name, unit in units]


def _decor(label: str, use: str, chosen: str, catalogue: Catalogue, generation: int) -> str:
    codes = [d.code for d in catalogue.decors.values() if d.use == use]
    return st.selectbox(
        label,
        codes,
        codes.index(chosen),
        format_func=lambda code: catalogue.decors[code].name,
        key=f"{label}-{generation}",
    )


def _number(label: str, value: float, low: float, high: float, generation: int) -> float:
    top = max(high, value)
    return st.number_input(label, low, top, float(value), step=1.0, format="%.0f", key=f"{label}-{generation}")


def _plain(width: float) -> str:
    return f"{width:g}"
