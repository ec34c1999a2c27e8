"""Ordering: what a kitchen needs of each supplier, less what was ordered for the job already.

Nothing is ordered twice: an order has only what is not in earlier ones. What they have too much of is named.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.pricing import MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.jobs.diary import LineReceived, OrderLine, said
from countersunk.takeoff.jobs.story import JobOrder, Story
from countersunk.takeoff.report.orders import orders
from countersunk.takeoff.stock.money import HUNDRED, cents

COUNTED = re.compile(r"(\d{1,3}):(\d{1,6})(?::(.{1,200}))?")
"""What a person types of a line of an order."""


@dataclass(frozen=True)
class ArticleKey:
    """By what two lines of orders ask for the same: supplier, code, words with the decor, sizes to make."""

    supplier: str
    code: str
    what: str
    sizes: tuple[str, ...] = ()


@dataclass(frozen=True)
class ToOrder:
    """What is still to be ordered, by supplier in the order of names, and what is ordered and no longer needed."""

    lines: Mapping[str, tuple[OrderLine, ...]]
    surplus: Mapping[ArticleKey, int]


def to_order(story: Story, takeoff: Takeoff) -> ToOrder:
    """What a takeoff needs beyond what the job's orders hold. Raises InputError for a line of unknown packs."""
    needed = dict(_needed(takeoff))
    held = _held(story)
    lacking: dict[str, list[OrderLine]] = {}
    for key, line in needed.items():
        packs = (line.quantity.packs or 0) - held[key]
        if packs > 0:
            lacking.setdefault(key.supplier, []).append(_order_line(key, line, packs))
    surplus = {
        key: packs - _packs(needed.get(key)) for key, packs in held.items() if packs > _packs(needed.get(key))
    }
    return ToOrder({name: tuple(lines) for name, lines in lacking.items()}, surplus)


def _packs(line: MaterialLine | None) -> int:
    return (line.quantity.packs or 0) if line else 0


def _needed(takeoff: Takeoff) -> Iterator[tuple[ArticleKey, MaterialLine]]:
    for order in orders(takeoff):
        for line in order.lines:
            q = line.quantity
            if q.packs is None:
                raise InputError.at(
                    "order", found=f"{q.description}: {q.problem}", allowed="lines with known packs"
                )
            sizes = Counter(piece.size for piece in q.pieces)
            each = tuple(f"{number} of {size}" for size, number in sorted(sizes.items()))
            yield ArticleKey(order.supplier, q.item, q.description, each), line


def _held(story: Story) -> Counter[ArticleKey]:
    held: Counter[ArticleKey] = Counter()
    for order in story.orders:
        for line, packs in zip(order.placed.lines, order.held, strict=True):
            held[ArticleKey(order.placed.supplier, line.code, line.what, line.sizes)] += packs
    return held


def _order_line(key: ArticleKey, line: MaterialLine, packs: int) -> OrderLine:
    plain = OrderLine(code=key.code, what=key.what, sizes=key.sizes, pack=line.quantity.pack_name, packs=packs)
    if line.price is None:
        return plain
    listed = cents(line.price.price * packs)
    off = cents(listed * line.discount / HUNDRED)
    money = {"listed": listed, "discount": line.discount, "cost": listed - off}
    return plain.model_copy(update={"number": line.price.number, **money})


def delivered(order: JobOrder, short: Iterable[str], bad: Iterable[str]) -> tuple[LineReceived, ...]:
    """All that is to come, less what is ``short`` (``3:1``, one pack of line 3) or ``bad`` (``3:1:scratched``).

    Raises InputError for a text of another form, and for a line that the order does not have.
    """
    missing = {line: packs for line, packs, _ in map(_short, short)}
    spoilt = {line: (packs, why) for line, packs, why in map(_bad, bad)}
    for line in (*missing, *spoilt):
        if not 1 <= line <= len(order.open):
            raise InputError.at("line", found=str(line), allowed=f"1 to {len(order.open)}")
    lines = []
    for i, packs in enumerate(order.open, start=1):
        number, why = spoilt.get(i, (0, ""))
        good = packs - missing.get(i, 0) - number
        if good or number:
            lines.append(said(LineReceived, line=i, good=good, bad=number, why=why))
    return tuple(lines)


def gone_back(texts: Iterable[str]) -> tuple[LineReceived, ...]:
    """Packs that go back, by line (``3:1``). Raises InputError for a text of another form."""
    counted = [_counted("--line", text, "3:1: a line, and how many packs") for text in texts]
    return tuple(said(LineReceived, line=line, good=packs) for line, packs, _ in counted)


def _short(text: str) -> tuple[int, int, str]:
    return _counted("--short", text, "3:1: a line, and how many packs")


def _bad(text: str) -> tuple[int, int, str]:
    return _counted("--bad", text, "3:1:scratched: a line, how many packs, and why")


def _counted(field: str, text: str, allowed: str) -> tuple[int, int, str]:
    found = COUNTED.fullmatch(text)
    if not found:
        raise InputError.at(field, found=f"'{text[:40]}'", allowed=allowed)
    return int(found[1]), int(found[2]), found[3] or ""


def check_received(order: JobOrder, lines: tuple[LineReceived, ...], *, back: bool = False) -> None:
    """Raises InputError for a line that the order does not have, or more than is to come, or to go back."""
    most = order.held if back else order.open
    for line in lines:
        if line.line > len(most):
            raise InputError.at("line", found=str(line.line), allowed=f"1 to {len(most)}")
        if line.good > most[line.line - 1]:
            what = order.placed.lines[line.line - 1].what
            raise InputError.at(
                f"line {line.line}", found=f"{line.good} packs of {what[:80]}",
                allowed=f"at most {most[line.line - 1]}", advice="count again, or order what is new by itself",
            )  # fmt: skip
