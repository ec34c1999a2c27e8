"""Compare: two takeoffs line by line. The differences of the lines add up to the difference of the totals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.stock.units import amount, number


@dataclass(frozen=True)
class LineState:
    """A line as it stands in one of the two; ``net`` and ``tax`` are None where it has no price."""

    description: str
    amount: str
    net: Decimal | None
    tax: Decimal | None
    line: MaterialLine | LabourLine = field(compare=False, repr=False)


@dataclass(frozen=True)
class Difference:
    """A line before and after; None where it does not stand in one of them."""

    code: str
    before: LineState | None
    after: LineState | None

    @property
    def net(self) -> Decimal | None:
        """What it costs more, without tax; None where a price is missing."""
        return _more(*(Decimal(0) if side is None else side.net for side in (self.before, self.after)))

    @property
    def tax(self) -> Decimal | None:
        """What its tax is more; None where a price is missing."""
        return _more(*(Decimal(0) if side is None else side.tax for side in (self.before, self.after)))

    @property
    def description(self) -> str:
        """What it is, as it is called now."""
        side = self.after or self.before
        return side.description if side else self.code

    @property
    def changed(self) -> bool:
        """Whether anything that is printed differs."""
        return self.before != self.after


@dataclass(frozen=True)
class Comparison:
    """Two takeoffs and every line of either."""

    before: Takeoff
    after: Takeoff
    lines: tuple[Difference, ...]

    @property
    def changed(self) -> tuple[Difference, ...]:
        """The lines that differ."""
        return tuple(line for line in self.lines if line.changed)

    @property
    def net(self) -> Decimal:
        """What the second costs more, without tax."""
        return self.after.totals.net - self.before.totals.net

    @property
    def gross(self) -> Decimal:
        """What the second costs more, with tax."""
        return self.after.totals.gross - self.before.totals.gross

    @property
    def complete(self) -> bool:
        """Whether both are priced whole."""
        return self.before.totals.complete and self.after.totals.complete


def compare(before: Takeoff, after: Takeoff) -> Comparison:
    """Every line of both, in the order of the first and then of what is new.

    A line is known by its article; where that comes in several decors in either, by the decor as well.
    """
    lines = Counter((number, q.item) for number, taken in enumerate((before, after)) for q in taken.quantities)
    several = {item for (_, item), count in lines.items() if count > 1}
    old, new = _sides(before, several), _sides(after, several)
    found = (Difference(code, old.get(code), new.get(code)) for code in dict.fromkeys([*old, *new]))
    return Comparison(before, after, tuple(found))


def as_json(comparison: Comparison) -> dict[str, Any]:
    """Plain data with stable keys; money is text with two decimals."""
    sides = {"before": comparison.before, "after": comparison.after}
    return {
        "before": comparison.before.kitchen,
        "after": comparison.after.kitchen,
        "currency": comparison.after.totals.currency,
        "lines": [_line(line) for line in comparison.changed],
        "totals": {name: _totals(taken) for name, taken in sides.items()},
        "difference": {"net": str(comparison.net), "gross": str(comparison.gross)},
        "complete": comparison.complete,
        "missing": {name: list(taken.missing) for name, taken in sides.items()},
    }


def signed(value: Decimal | None) -> str:
    """A difference with its sign; ``unknown`` where a price is missing.

    >>> signed(Decimal("12.50")), signed(Decimal("-3.00")), signed(Decimal("0.00")), signed(None)
    ('+12.50', '−3.00', '0.00', 'unknown')
    """
    if value is None:
        return "unknown"
    sign = "+" if value > 0 else "−" if value < 0 else ""
    return f"{sign}{abs(value):,.2f}"


def _more(old: Decimal | None, new: Decimal | None) -> Decimal | None:
    return None if old is None or new is None else new - old


def _sides(takeoff: Takeoff, several: Collection[str]) -> dict[str, LineState]:
    bought = {_code(line.quantity, several): _bought(line) for line in takeoff.materials}
    return {**bought, **{f"work {line.work.code}": _worked(line) for line in takeoff.labour}}


def _code(quantity: Quantity, several: Collection[str]) -> str:
    in_decor = quantity.item in several and quantity.decor
    return f"{quantity.item}.{quantity.decor}" if in_decor else quantity.item


def _bought(line: MaterialLine) -> LineState:
    q = line.quantity
    packs = (
        ""
        if line.by_amount
        else " → unknown"
        if q.packs is None
        else f" → {q.packs} × {q.pack_name}"
        if q.pack_name
        else ""
    )
    return _side_of(q.description, f"{amount(q.net, q.unit)}{packs}", line)


def _worked(line: LabourLine) -> LineState:
    work = line.work
    unit = "" if work.unit == "each" else f" {work.unit}"
    return _side_of(work.name, f"{number(float(work.amount))}{unit}", line)


def _side_of(description: str, amount: str, line: MaterialLine | LabourLine) -> LineState:
    charge = line.charge
    return LineState(description, amount, charge.net if charge else None, charge.tax if charge else None, line)


def _line(line: Difference) -> dict[str, Any]:
    return {
        "code": line.code,
        "description": line.description,
        "before": _side(line.before),
        "after": _side(line.after),
        "difference": None if line.net is None else str(line.net),
    }


def _totals(takeoff: Takeoff) -> dict[str, str]:
    totals = takeoff.totals
    return {"net": str(totals.net), "tax": str(totals.tax), "gross": str(totals.gross)}


def _side(side: LineState | None) -> dict[str, Any] | None:
    if side is None:
        return None
    money = {"net": side.net, "tax": side.tax}
    return {"amount": side.amount, **{name: None if value is None else str(value) for name, value in money.items()}}
