"""Rows form: units row by row, in a table and in a strip; rows, islands and peninsulas added and taken out."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import streamlit as st

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.certainty.certainty import in_words, run_fits
from countersunk.model.document.keys import unit_names
from countersunk.model.document.schema import Document, Island, Run
from countersunk.model.edit import arrange
from countersunk.model.edit.arrange import Plain, Row
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import Cell, table
from countersunk.viewer.app.places.lengths import length_input
from countersunk.viewer.app.places.strip_view import strip_view
from countersunk.viewer.app.session import Desk, Wish, told_at

KINDS = {
    "runs": "row along a wall",
    "hung": "row of hung units",
    "islands": "island",
    "peninsulas": "peninsula",
}
NARROW = 100.0
"""Panels and fillers are narrower, mm: they are seldom what somebody begins with."""

WHERE = "rows"
"""Where this form says what its buttons could not do."""


def form(desk: Desk) -> list[Wish]:
    """The row that is chosen, and what was typed in its tables."""
    titles = {field: row_title(row) for field, row in arrange.rows(desk.document).items()}
    field = _row_chosen(desk, titles)
    told_at(WHERE, desk)
    at = _pick(desk, field)
    _buttons(desk, field, at)
    wishes = [*_units(desk, field), *_row(desk, field)]
    _more_or_fewer(desk, field, titles[field])
    return wishes


def row_title(row: Row) -> str:
    """What a row is called on the screen."""
    if isinstance(row, Run):
        return f"Wall {row.wall}" + ("" if row.level == "floor" else ", hung")
    return f"{type(row).__name__} {row.name}"


def _row_chosen(desk: Desk, titles: dict[str, str]) -> str:
    """The row to work on; the one of a part that was clicked in the view."""
    told = {field: _numbered(title, i, list(titles.values())) for i, (field, title) in enumerate(titles.items())}
    chosen = st.session_state.get("row")
    if field := _field_picked(desk):
        st.session_state["row"] = field
    elif chosen not in titles:
        st.session_state["row"] = next(iter(titles))
    return str(st.selectbox("Row", list(titles), format_func=told.__getitem__, key="row"))


def _numbered(title: str, i: int, titles: list[str]) -> str:
    same = titles[: i + 1].count(title)
    return title if titles.count(title) == 1 else f"{title} ({same})"


def _field_picked(desk: Desk) -> str:
    """The row of the unit that was just clicked in the view; each click counts once."""
    part, seen = desk.reading.kitchen.parts_by_id.get(desk.picked), st.session_state.get("pick-seen")
    st.session_state["pick-seen"] = desk.picked
    if desk.picked == seen or part is None:
        return ""
    for field, names in unit_names(desk.document).items():
        if part.called in names:
            st.session_state[f"unit-{field}"] = part.called
            return field
    return ""


def _pick(desk: Desk, field: str) -> int:
    """The strip, and the unit of it that is picked."""
    kitchen = desk.reading.kitchen
    run = next(run for run in kitchen.runs if run.field == field)
    names, key = [unit.name for unit in run.units], f"unit-{field}"
    if st.session_state.get(key) not in names:
        st.session_state[key] = next((u.name for u in run.units if u.width >= NARROW), names[0])
    picture = st.container()
    at = names.index(str(st.segmented_control("Unit to work on", names, key=key, required=True)))
    with picture:
        strip_view(kitchen, run, at, on_pick=partial(_tapped, desk, field), on_move=partial(_dragged, desk, field))
    unit = run.units[at]
    st.caption(f"{unit.name}: {unit.family.name}, {unit.width:g} mm wide. Drag units to other places of the row.")
    for told in _left(kitchen, names):
        st.caption(told)
    return at


def _tapped(desk: Desk, field: str, at: int) -> None:
    st.session_state[f"unit-{field}"] = unit_names(desk.document)[field][at]


def _dragged(desk: Desk, field: str, at: int, to: int) -> None:
    _move(desk, field, at, to - at)


def _left(kitchen: Kitchen, names: list[str]) -> list[str]:
    """What the row of these units has to spare, and what is left of it, in sentences; nothing for an island."""
    fits = (fit for fit in run_fits(kitchen) if list(fit.units) == names)
    return [f"{in_words(fit, kitchen.document.room)}." for fit in fits]


def _buttons(desk: Desk, field: str, at: int) -> None:
    """Everything that can be done with the unit that is picked."""
    count = len(arrange.rows(desk.document)[field].units)
    with st.container(horizontal=True, gap="small"):
        _button("To the left", ":material/arrow_back:", partial(_move, desk, field, at, -1), at == 0)
        _button("To the right", ":material/arrow_forward:", partial(_move, desk, field, at, 1), at == count - 1)
        _button("Take out", ":material/delete:", partial(_take_out, desk, field, at), count == 1)
        _splitting(desk, field, at)
        _swapping(desk, field, at)
        _exchanging(desk, field, at)


def _button(label: str, icon: str, act: Callable[[], None], disabled: bool = False) -> None:
    st.button(label, icon=icon, on_click=act, disabled=disabled, key=f"do-{label}")


def _move(desk: Desk, field: str, at: int, by: int) -> None:
    name = unit_names(desk.document)[field][at]
    far = "one place" if abs(by) == 1 else f"{abs(by)} places"
    words = f"{name} moved {far} to the {'left' if by < 0 else 'right'}"
    desk.do(WHERE, lambda document: arrange.moved(document, field, at, by), words)
    if not desk.refused:
        st.session_state[f"unit-{field}"] = unit_names(desk.document)[field][at + by]


def _take_out(desk: Desk, field: str, at: int) -> None:
    name = unit_names(desk.document)[field][at]
    desk.do(WHERE, lambda document: arrange.without_unit(document, field, at), f"{name} taken out")


def _splitting(desk: Desk, field: str, at: int) -> None:
    """The row in two before the unit that is picked, one part moved away from the other."""
    run = next(run for run in desk.reading.kitchen.planned.runs if run.field == field)
    if not isinstance(arrange.rows(desk.document)[field], Run):
        return
    name = run.units[at].name
    with st.popover("Split", icon=":material/split_scene:", disabled=at == 0):
        room = 2 * desk.document.worktop.overhang.ends if run.level == "floor" else 0.0
        gap = max(0.0, length_input(desk, "Gap to leave, mm", room, f"gap-{field}", "%g", 10.0))
        left, right = run.units[0].x, run.units[at].x
        for side, starts in (("left", (left - gap, right)), ("right", (left, right + gap))):
            make = partial(_split, field=field, at=at, starts=starts)
            words = f"row split before {name}, the part on the {side} moved"
            label = f"Split before {name} and move the part on the {side}"
            _button(label, ":material/split_scene:", partial(desk.do, WHERE, make, words))


def _split(document: Document, field: str, at: int, starts: tuple[float, float]) -> Document:
    return arrange.split(document, field, at, starts)


def _swapping(desk: Desk, field: str, at: int) -> None:
    names = unit_names(desk.document)[field]
    others = [i for i in range(len(names)) if i != at]
    with st.popover("Swap", icon=":material/swap_horiz:", disabled=not others):
        other = st.selectbox(
            f"Change places of {names[at]} with", others, format_func=names.__getitem__, key="other"
        )
        if other is not None:
            words = f"{names[at]} and {names[other]} changed places"
            make = partial(_swapped, field=field, one=at, other=other)
            _button("Change places", ":material/swap_horiz:", partial(desk.do, WHERE, make, words))


def _swapped(document: Document, field: str, one: int, other: int) -> Document:
    return arrange.swapped(document, field, one, other)


def _exchanging(desk: Desk, field: str, at: int) -> None:
    """Another kind of unit in the place of the one picked, or a new one beside it."""
    catalogue, row = desk.catalogue, arrange.rows(desk.document)[field]
    name = unit_names(desk.document)[field][at]
    known = {f.code: f for f in columns.families(catalogue, level_of(row))}
    with st.popover("Replace or add", icon=":material/add:"):
        code = st.selectbox("Kind of unit", list(known), format_func=lambda c: known[c].name, key=f"kind-{field}")
        family = known[code]
        former = row.units[at].model_dump(exclude_unset=True)
        instead, new = arrange.as_family(family, former), arrange.as_family(family, {})
        _button(
            f"Put it in the place of {name}",
            ":material/published_with_changes:",
            partial(
                desk.do, WHERE, lambda d: arrange.replaced(d, field, at, instead), f"{name} is now a {family.name}"
            ),
        )
        for side, place in (("left", at), ("right", at + 1)):
            _button(
                f"Add it {side} of {name}",
                ":material/add:",
                partial(
                    desk.do,
                    WHERE,
                    partial(_inserted, field=field, at=place, unit=new),
                    f"{family.name} added {side} of {name}",
                ),
            )


def _inserted(document: Document, field: str, at: int, unit: Plain) -> Document:
    return arrange.inserted(document, field, at, unit)


def level_of(row: Row) -> str:
    """Of a run its own; islands and peninsulas stand on the floor."""
    return row.level if isinstance(row, Run) else "floor"


def _units(desk: Desk, field: str) -> list[Wish]:
    """The units of the row as a table; rows can be added and taken out there too."""
    row = arrange.rows(desk.base)[field]
    st.markdown("#### Units from left to right")
    slot = st.container()
    cells = columns.unit_cells(desk.catalogue, level_of(row))
    now = table(desk, f"Units of {row_title(row)}", cells, row.units)
    if now == arrange.standing(row):
        return []
    return [Wish(lambda document: arrange.rearranged(document, field, now), slot)]


def _row(desk: Desk, field: str) -> list[Wish]:
    """Where the row stands, and what runs along it, as a table of one line."""
    row = arrange.rows(desk.base)[field]
    st.markdown("#### Where the row stands")
    slot = st.container()
    walls = [wall.name for wall in desk.base.room.walls]
    cells = row_cells(row, walls, desk.catalogue)
    [now] = table(desk, f"Place of {row_title(row)}", cells, [row], fixed=True)
    if now == row.model_dump(exclude_unset=True):
        return []
    fields = {key: value for key, value in now.items() if key != "units"}
    return [Wish(lambda document: arrange.row_changed(document, field, fields), slot)]


def row_cells(row: Row, walls: list[str], catalogue: Catalogue) -> list[Cell]:
    """The columns of a row's own fields."""
    returns = Cell("returns", "plinth turns back at", "choice", columns.same("none", "left", "right", "both"))
    wall = Cell("wall", "wall", "choice", columns.same(*walls), must=True)
    supply = Cell("supply", "carcasses", "choice", columns.same("made", "bought"))
    front_supply = Cell("front_supply", "fronts are", "choice", columns.same("made", "bought"))
    fronts = columns.fronts_cells(catalogue)
    if isinstance(row, Run):
        tops = [columns.top_cell(catalogue)] if row.level == "floor" else []
        start = Cell("start", "from the left, mm")
        trims = [Cell("cornice", "cornice", "yes"), Cell("pelmet", "pelmet", "yes")]
        if row.level == "upper":
            trims.append(
                Cell("lights", "lights under it", "choice", {x.code: x.name for x in catalogue.lights.values()})
            )
        trims.append(Cell("to_ceiling", "filler to the ceiling", "yes"))
        out = [Cell("out", "hangs off the wall, mm")] if row.level == "upper" else []
        if row.level == "upper":
            out.append(Cell("facing", "fronts look to", "choice", columns.same("room", "wall", "left", "right")))
        return [wall, start, *out, supply, front_supply, *fronts, *tops, returns, *trims]
    ways = ("wall", "room") if isinstance(row, Island) else ("left", "right")
    stocks = {stock.code: stock.name for stock in catalogue.stocks.values()}
    return [
        Cell("name", "name", "text", must=True),
        wall,
        Cell("along", "along it, mm", must=True),
        Cell("out", "out from it, mm", must=True),
        Cell("facing", "fronts look to", "choice", columns.same(*ways)),
        Cell("seats", "seats", "whole"),
        Cell("stock", "own top", "choice", stocks),
        Cell("arms", "arms under it", "choice", {arm.code: arm.name for arm in catalogue.arms.values()}),
        Cell("top_depth", "its depth, mm"),
        columns.top_cell(catalogue),
        supply,
        front_supply,
        *fronts,
        returns,
    ]


def _more_or_fewer(desk: Desk, field: str, title: str) -> None:
    """A new row, or the whole row taken out."""
    with st.expander("Add or take out a row, island or peninsula", icon=":material/add_box:"):
        catalogue, walls = desk.catalogue, [w.name for w in desk.document.room.walls]
        kind = st.selectbox("What to add", list(KINDS), format_func=KINDS.__getitem__, key="new-kind")
        wall = st.selectbox("At wall", walls, key="new-wall")
        along = length_input(desk, "From the wall's left, mm", 0.0, "new-along", "%g", 10.0)
        out = 1_200.0
        if kind in ("islands", "peninsulas"):
            out = length_input(desk, "Out from the wall, mm", out, "new-out", "%g", 10.0)
        row = new_row(desk.document, catalogue, kind, wall, along, out)
        make = partial(_with_row, kind="runs" if kind == "hung" else kind, row=row)
        _button(
            "Add the row", ":material/add:", partial(desk.do, WHERE, make, f"{KINDS[kind]} added at wall {wall}")
        )
        _button(
            f"Take out {title}",
            ":material/delete:",
            partial(desk.do, WHERE, lambda d: arrange.without_row(d, field), f"{title} taken out"),
        )


def _with_row(document: Document, kind: str, row: Plain) -> Document:
    return arrange.with_row(document, kind, row)


def new_row(document: Document, catalogue: Catalogue, kind: str, wall: str, along: float, out: float) -> Plain:
    """A row of one unit, as plain fields, to go on from."""
    level = "upper" if kind == "hung" else "floor"
    usual = [f for f in columns.families(catalogue, level) if f.doors and f.kind.is_plain]
    unit = arrange.as_family((usual or columns.families(catalogue, level))[0], {})
    if kind in ("runs", "hung"):
        return {"wall": wall, "level": level, "start": along, "units": (unit,)}
    taken = {row.name for row in document.islands} | {row.name for row in document.peninsulas}
    name = next(n for n in (f"{'I' if kind == 'islands' else 'P'}{i}" for i in range(1, 99)) if n not in taken)
    facing = {} if kind == "islands" else {"facing": "right"}
    stock = _deep_enough(document, catalogue, unit)
    return {"name": name, "wall": wall, "along": along, "out": out, **facing, **stock, "units": (unit, unit)}


def _deep_enough(document: Document, catalogue: Catalogue, unit: Plain) -> Plain:
    """The least deep stock that covers a unit with front, back and overhang, as thick as the kitchen's own top."""
    own, board = catalogue.stocks.get(document.worktop.stock), catalogue.unit_boards.front.thickness
    least = catalogue.families[unit["unit"]].depth + 2 * board + document.worktop.overhang.front
    alike = [
        s
        for s in catalogue.stocks.values()
        if own and (s.thickness, s.core) == (own.thickness, own.core) and s.depth >= least
    ]
    return {"stock": min(alike, key=lambda s: (s.depth, not s.both_edges)).code} if alike else {}
