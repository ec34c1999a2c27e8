"""Price changes: what a supplier's new list does to the prices of a book, the greatest changes first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from countersunk.model.errors import InputError, Problem
from countersunk.takeoff.stock.money import HUNDRED
from countersunk.takeoff.stock.prices import Price, PriceBook

TENTH = Decimal("0.1")


@dataclass(frozen=True)
class PriceChange:
    """An article's price before and now; None where it is new, or no longer in the list."""

    before: Price | None
    after: Price | None

    @property
    def code(self) -> str:
        """Of the article."""
        price = self.after or self.before
        return price.code if price else ""

    @property
    def percent(self) -> Decimal | None:
        """How much dearer a unit is, to a tenth of a percent; None where there is nothing to compare it with."""
        if not self.before or not self.after or not self.before.price or self.before.unit != self.after.unit:
            return None
        old, new = (p.price / p.pack for p in (self.before, self.after))
        return ((new - old) * HUNDRED / old).quantize(TENTH)


def price_changes(imported: Sequence[Price], book: PriceBook | None) -> tuple[PriceChange, ...]:
    """Every price that the list changes, adds, or no longer has, in this order; the greatest changes first.

    No longer there is what the book has from the same supplier and the list does not bring: its price is kept.
    """
    known = {} if book is None else book.prices
    new = {price.code: price for price in imported}
    seller = imported[0].supplier if imported else ""
    found = [PriceChange(known.get(code), price) for code, price in new.items()]
    changed = [c for c in found if c.before and _differs(c.before, c.after)]
    added = [c for c in found if c.before is None]
    gone = [PriceChange(p, None) for code, p in known.items() if p.supplier == seller and code not in new]
    return (*sorted(changed, key=_size, reverse=True), *added, *gone)


def refuse_jumps(changes: Sequence[PriceChange], most: float) -> None:
    """Raises InputError that names every price which changes by more than ``most`` percent, or by unit or pack."""
    jumps = [c for c in changes if c.before and c.after and _size(c) > Decimal(str(most))]
    if jumps:
        raise InputError([_problem(change, most) for change in jumps])


def _problem(change: PriceChange, most: float) -> Problem:
    advice = "look it up, and import again with --accept if it is right"
    return Problem(change.code, in_words(change), f"a change of at most {most:g} %", advice)


def in_words(change: PriceChange) -> str:
    """``2.95 → 2.77 for 2 each, −6.1 %``."""
    old, new = change.before, change.after
    if old is None or new is None:
        return " ".join(f"{price.price:f} for {_pack(price)}" for price in (old, new) if price)
    if _pack(old) != _pack(new):
        said = f"{old.price:f} for {_pack(old)} → {new.price:f} for {_pack(new)}"
    else:
        said = f"{old.price:f} → {new.price:f} for {_pack(new)}"
    return said if change.percent is None else f"{said}, {change.percent:+f} %".replace("-", "−")


def _pack(price: Price) -> str:
    return f"{price.pack.normalize():f} {price.unit}"


def _differs(old: Price, new: Price | None) -> bool:
    return new is None or (old.price, old.pack, old.unit, old.tax) != (new.price, new.pack, new.unit, new.tax)


def _size(change: PriceChange) -> Decimal:
    """How great a change is; what cannot be compared is greater than any."""
    return abs(change.percent) if change.percent is not None else Decimal("Infinity")
