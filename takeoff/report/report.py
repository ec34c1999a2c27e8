"""Report: a takeoff as plain data and as CSV (RFC 4180). Text that a spreadsheet would run stays text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from decimal import Decimal
from typing import Any

from countersunk.model.ties import rounded
from countersunk.takeoff.counting.pricing import Charge, LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.boards import BoardPlan, BoardSheet
from countersunk.takeoff.plans.cut_order import cut_order
from countersunk.takeoff.plans.tops import Bar, Laid, TopPlan
from countersunk.takeoff.report.workbook import xlsx_bytes as xlsx_bytes
from countersunk.takeoff.stock.money import RULE
from countersunk.takeoff.stock.texts import table_bytes

COLUMNS = (
    "kind", "code", "description", "unit", "measured", "allowance", "packs", "pack", "ordered", "left over",
    "price", "listed", "discount", "cost", "mark-up", "net", "tax %", "tax", "currency", "supplier", "formula",
    "note", "rule", "source", "from",
)  # fmt: skip
NUMBERS = COLUMNS[4:7] + COLUMNS[8:18]
"""Columns of numbers, which a locale may write with a comma."""


def as_json(takeoff: Takeoff) -> dict[str, Any]:
    """Plain data with stable keys. Money is text with two decimals; amounts are numbers to six."""
    return {
        "kitchen": takeoff.kitchen,
        "note": takeoff.note,
        "tops_from": takeoff.tops_from,
        "prices": {
            "file": takeoff.price_book,
            "note": takeoff.price_note,
            "currency": takeoff.totals.currency,
        },
        "quantities": [_quantity(line, takeoff) for line in takeoff.materials],
        "worktops": [_plan(plan, takeoff) for plan in takeoff.plans],
        "boards": [_boards(plan, takeoff) for plan in takeoff.boards],
        "labour": [_labour(line, takeoff) for line in takeoff.labour],
        "totals": _totals(takeoff),
        "complete": takeoff.totals.complete,
        "estimate": takeoff.is_estimate,
        "missing": list(takeoff.missing),
        "masses": [{**_known(takeoff, s.id), "kg": rounded(s.amount)} for s in takeoff.masses],
        "cautions": list(takeoff.cautions),
        "not_counted": [{"what": n.what, "why": n.why} for n in takeoff.not_counted],
    }


def csv_bytes(takeoff: Takeoff) -> bytes:
    """Every line, the totals, what is missing and the cautions as one table; UTF-8 with a mark for spreadsheets.

    Columns and decimals are parted as in the locale of the terms.
    """
    return table_bytes(COLUMNS, _rows(takeoff), NUMBERS, takeoff.money)


def _rows(takeoff: Takeoff) -> Iterator[dict[str, str]]:
    currency = takeoff.totals.currency
    yield {"kind": "kitchen", "description": takeoff.kitchen, "note": takeoff.note}
    yield from _texts("tops", [takeoff.tops_from] if takeoff.tops_from else [])
    yield {"kind": "prices", "code": takeoff.price_book, "note": takeoff.price_note, "currency": currency}
    yield from (_material_row(line, takeoff) for line in takeoff.materials)
    yield from (_labour_row(line, takeoff) for line in takeoff.labour)
    for name, value in printed_totals(takeoff):
        yield {"kind": "total", "description": name, "net": value, "currency": currency}
    yield from _offcut_rows(takeoff)
    yield from _texts("arithmetic", [takeoff.totals.markup_in_words, RULE])
    yield from _texts("missing", takeoff.missing)
    yield from _texts("caution", takeoff.cautions)
    yield from _texts("not counted", [f"{n.what}: {n.why}" for n in takeoff.not_counted])


def _offcut_rows(takeoff: Takeoff) -> Iterator[dict[str, str]]:
    """What is left of lengths and sheets and worth keeping."""
    for plan in takeoff.plans:
        for number, bar in enumerate(plan.bars, start=1):
            for kept in bar.left:
                text = f"{bar.stock}, length {number}: {kept.length:g} × {kept.width:g}"
                yield {"kind": "offcut", "code": kept.id, "description": text}
    for board in takeoff.boards:
        for number, sheet in enumerate(board.sheets, start=1):
            for o in sheet.offcuts:
                text = f"{board.name}, sheet {number}: {o.length:g} × {o.width:g}"
                yield {"kind": "offcut", "code": board.code, "description": text}
    for kept in (kept for length in takeoff.lengths for kept in length.left):
        yield {"kind": "offcut", "code": kept.id, "description": f"{kept.length:g} long"}


def printed_totals(takeoff: Takeoff) -> list[tuple[str, str]]:
    """Name and value of every total, in the order of a quote; an incomplete total says so in its name."""
    totals = takeoff.totals
    last = "total with tax" if totals.complete else "total with tax, incomplete"
    taxes = [(f"tax {t.rate:f} % on {t.base}", str(t.tax)) for t in totals.taxes]
    return [
        ("materials", str(totals.materials)),
        (totals.uplift.name, str(totals.markup)),
        ("labour and travel", str(totals.labour)),
        ("total without tax", str(totals.net)),
        *taxes,
        (last, str(totals.gross)),
    ]


def marks_of(takeoff: Takeoff, ids: Iterable[str]) -> list[str]:
    """What people read for ids; a wall and a visit are called by their own."""
    return [takeoff.marks.get(id_, id_) for id_ in ids]


def _known(takeoff: Takeoff, id_: str) -> dict[str, str]:
    """What today's numbering calls something, and its key, which lasts."""
    return {"id": takeoff.marks.get(id_, id_), "key": id_}


def _texts(kind: str, texts: Iterable[str]) -> Iterator[dict[str, str]]:
    return ({"kind": kind, "note": text} for text in texts)


def _material_row(line: MaterialLine, takeoff: Takeoff) -> dict[str, str]:
    q, currency = line.quantity, takeoff.totals.currency
    return {
        "kind": "material", "code": q.item, "description": q.description, "unit": q.unit,
        "measured": _plain(q.net), "allowance": _plain(q.allowance),
        "packs": "unknown" if q.packs is None else f"{line.paid:f}", "pack": q.pack_name,
        "ordered": "unknown" if q.ordered is None else _plain(q.ordered),
        "left over": "" if q.surplus is None else _plain(q.surplus),
        "price": "no price" if line.price is None else f"{line.price.price:f}",
        **_money(line.charge), "currency": currency, "supplier": line.supplier, "formula": q.formula,
        "note": line.notes, "rule": q.rule, "source": q.source, "from": " ".join(marks_of(takeoff, q.ids)),
    }  # fmt: skip


def _labour_row(line: LabourLine, takeoff: Takeoff) -> dict[str, str]:
    work, totals = line.work, takeoff.totals
    rate = totals.kilometre if work.unit == "km" else totals.hourly_rate
    return {
        "kind": "labour", "code": work.code, "description": work.name, "unit": work.unit,
        "measured": f"{work.amount:f}", "price": "no price" if rate is None else f"{rate:f}",
        **_money(line.charge), "currency": totals.currency,
        "formula": work.formula, "note": line.missing, "source": work.source,
        "from": " ".join(marks_of(takeoff, work.ids)),
    }  # fmt: skip


def _money(charge: Charge | None) -> dict[str, str]:
    if charge is None:
        return {}
    return {
        "listed": str(charge.listed),
        "discount": str(charge.discount),
        "cost": str(charge.cost),
        "mark-up": str(charge.markup),
        "net": str(charge.net),
        "tax %": f"{charge.rate:f}",
        "tax": str(charge.tax),
    }


def _plain(value: float) -> str:
    """A number with a point and no exponent."""
    return f"{round(value, 6):.6f}".rstrip("0").rstrip(".")


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6)


def _quantity(line: MaterialLine, takeoff: Takeoff) -> dict[str, Any]:
    q = line.quantity
    return {
        "item": q.item,
        "description": q.description,
        "group": q.group,
        "unit": q.unit,
        "measured": _rounded(q.net),
        "allowance": _rounded(q.allowance),
        "pack": q.pack,
        "pack_name": q.pack_name,
        "packs": q.packs,
        "ordered": _rounded(q.ordered),
        "surplus": _rounded(q.surplus),
        "decor": q.decor,
        "supplier": line.supplier,
        "price": None if line.price is None else f"{line.price.price:f}",
        "charge": _charge(line.charge),
        "formula": q.formula,
        "rule": q.rule,
        "source": q.source,
        "note": q.note,
        "pieces": [vars(piece) for piece in q.pieces],
        "missing": line.missing,
        "from": [{**_known(takeoff, c.id), "amount": round(c.amount, 6)} for c in q.contributions],
    }


def _money_text(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _charge(charge: Charge | None) -> dict[str, str] | None:
    if charge is None:
        return None
    return {
        "listed": str(charge.listed),
        "discount": str(charge.discount),
        "cost": str(charge.cost),
        "markup": str(charge.markup),
        "net": str(charge.net),
        "tax_rate": f"{charge.rate:f}",
        "tax": str(charge.tax),
    }


def _plan(plan: TopPlan, takeoff: Takeoff) -> dict[str, Any]:
    return {
        "stocks": list(plan.stocks),
        "bars": [_bar(bar, takeoff) for bar in plan.bars],
        "cost": f"{plan.cost:f}",
        "labour": f"{plan.labour:f}",
        "worth": f"{plan.worth:f}",
        "bound": f"{plan.bound:f}",
        "at_bound": plan.at_bound,
        "priced": plan.priced,
    }


def _bar(bar: Bar, takeoff: Takeoff) -> dict[str, Any]:
    keys = {mark: key for key, mark in takeoff.marks.items()}
    return {
        "stock": bar.stock,
        "length": bar.length,
        "depth": bar.depth,
        "offcut": bar.offcut,
        "price": _money_text(bar.price),
        "pieces": [{**_laid(piece), "key": keys[piece.id]} for piece in bar.pieces],
        "cuts": [
            {"kind": cut.kind, "at": round(cut.at, 3), "pieces": list(cut.pieces)}
            for cut in cut_order(bar, default_rules().saw.kerf)
        ],
        "left": [{"id": o.id, "length": o.length, "width": o.width} for o in bar.left],
    }


def _laid(piece: Laid) -> dict[str, Any]:
    sizes = {k: round(v, 3) if isinstance(v, float) else v for k, v in vars(piece).items()}
    return {k: v for k, v in sizes.items() if k != "corners"}


def _boards(plan: BoardPlan, takeoff: Takeoff) -> dict[str, Any]:
    return {
        "board": plan.board.code,
        "decor": plan.decor_code,
        "sheet": list(plan.board.sheet),
        "sheets": [_sheet(sheet, takeoff) for sheet in plan.sheets],
        "bound": plan.bound,
        "at_bound": plan.is_least,
        "unplaced": marks_of(takeoff, plan.unplaced),
    }


def _sheet(sheet: BoardSheet, takeoff: Takeoff) -> dict[str, Any]:
    made = asdict(sheet)
    return {**made, "places": [{**place, **_known(takeoff, place["id"])} for place in made["places"]]}


def _labour(line: LabourLine, takeoff: Takeoff) -> dict[str, Any]:
    work = line.work
    return {
        "operation": work.code,
        "description": work.name,
        "unit": work.unit,
        "amount": f"{work.amount:f}",
        "minutes_each": f"{work.minutes_each:f}",
        "people": work.people,
        "minutes": f"{work.minutes.normalize():f}",
        "charge": _charge(line.charge),
        "formula": work.formula,
        "source": work.source,
        "missing": line.missing,
        "from": marks_of(takeoff, work.ids),
        "keys": list(work.ids),
    }


def _totals(takeoff: Takeoff) -> dict[str, Any]:
    totals = takeoff.totals
    return {
        "uplift": {"kind": totals.uplift.kind, "percent": f"{totals.uplift.rate:f}", "sum": totals.markup_in_words},
        "hourly_rate": _money_text(totals.hourly_rate),
        "kilometre": _money_text(totals.kilometre),
        "rounding": RULE,
        "discount": str(totals.discount),
        "materials": str(totals.materials),
        "markup": str(totals.markup),
        "labour": str(totals.labour),
        "net": str(totals.net),
        "taxes": [{"rate": f"{t.rate:f}", "base": str(t.base), "tax": str(t.tax)} for t in totals.taxes],
        "tax": str(totals.tax),
        "gross": str(totals.gross),
    }
