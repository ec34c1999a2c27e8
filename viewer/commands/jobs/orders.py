"""Orders of a job: what changed, what is ordered, what came."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from countersunk.viewer.commands.console import Command, Day, Money, encoded, example, left_behind
from countersunk.viewer.commands.jobs.keeping import (
    add_entry,
    date_of,
    hand_of,
    hand_option,
    in_words,
    opened_store,
    price_options,
    print_rows,
)

if TYPE_CHECKING:
    from countersunk.takeoff.jobs.consequences import SawnPiece
    from countersunk.takeoff.jobs.story import JobOrder
    from countersunk.viewer.quoting.ordered import JobChange


@click.command(cls=Command, epilog=example("countersunk job changes 2026-0001 --from 1 --to 2"))
@click.argument("number")
@click.option("--from", "before", type=click.IntRange(1), help="The revision there was; else that of the order.")
@click.option("--to", "after", type=click.IntRange(1), help="The revision there is now; else the last.")
@price_options
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def changes(
    number: str, before: int | None, after: int | None, prices: Path | None, terms: Path | None, as_json: bool
) -> None:
    """Show what changed between two revisions: in money, piece by piece, and in what is missed.

    Pieces are compared by their shape, as if those of the first had been cut: kept, to be cut down, new, left over.
    """
    from countersunk.viewer.quoting.ordered import Asking, job_change

    with opened_store() as store:
        story = store.story(number)
        ordered = [order.placed.revision for order in story.orders]
        new = story.revision(after).number
        old = story.revision(before or (ordered[-1] if ordered else max(1, new - 1))).number
        found = job_change(store, number, old, new, Asking(prices, terms))
    if as_json:
        click.echo(encoded(_change_json(old, new, found)).decode())
        return
    for line in _change_lines(old, new, found):
        click.echo(line)


def _marks(pieces: Iterable[SawnPiece]) -> str:
    return ", ".join(sorted(piece.part.mark for piece in pieces)) or "none"


def _change_lines(old: int, new: int, found: JobChange) -> Iterator[str]:
    from countersunk.takeoff.report.compare import signed

    pieces, currency = found.pieces, found.money.after.totals.currency
    yield f"revision {old} to {new}: {signed(found.money.gross)} {currency} with tax, if nothing is cut yet"
    yield f"if revision {old} is cut:"
    yield f"  kept: {len(pieces.kept)} pieces"
    for was, now in pieces.cut_down:
        yield f"  cut down: {now.part.mark} from {was.part.mark}"
    cost = "unknown" if pieces.cost is None else f"{pieces.cost:,.2f} {currency} without tax"
    yield f"  new: {_marks(pieces.new)}" + (f"; sheets and lengths for them cost {cost}" if pieces.new else "")
    yield f"  left over: {_marks(pieces.left_over)}"
    for words in found.missed:
        yield f"missed now: {words}"
    for words in found.met:
        yield f"no longer missed: {words}"


def _change_json(old: int, new: int, found: JobChange) -> dict[str, Any]:
    from countersunk.takeoff.report.compare import as_json

    pieces = found.pieces
    return {
        "from": old,
        "to": new,
        "money": as_json(found.money),
        "kept": [[was.part.mark, now.part.mark] for was, now in pieces.kept],
        "cut_down": [[was.part.mark, now.part.mark] for was, now in pieces.cut_down],
        "new": [piece.part.mark for piece in pieces.new],
        "left_over": [piece.part.mark for piece in pieces.left_over],
        "cost_of_new": None if pieces.cost is None else f"{pieces.cost:f}",
        "missed": list(found.missed),
        "met": list(found.met),
    }


@click.command(cls=Command, epilog=example("countersunk job order 2026-0001 --out orders --wanted 2026-04-01"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@price_options
@click.option("--wanted", type=Day(), help="Day on which it is wanted.")
@click.option("--free-until", "free", type=Day(), help="Day until which a change costs nothing.")
@click.option("--date", "day", type=Day(), help="Day of the orders; today if left out.")
@hand_option
def order(
    number: str,
    revision: int | None,
    out: Path,
    prices: Path | None,
    terms: Path | None,
    wanted: datetime | None,
    free: datetime | None,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Order of each supplier what the kitchen needs and was not ordered yet; nothing is ordered twice.

    After a change this orders what is missing, and names what was ordered and is not needed any more.
    """
    from countersunk.takeoff.report.origin import program
    from countersunk.viewer.quoting.ordered import Asking, place_orders
    from countersunk.viewer.quoting.sent import paper_origin

    asking = Asking(prices, terms, wanted.date() if wanted else None, free.date() if free else None)
    with opened_store() as store:
        placed, surplus = place_orders(store, number, revision, asking, date_of(day), hand_of(hand))
        files = {name: store.content(content) for sent in placed for name, content in sent.papers.items()}
        with left_behind() as change:
            if files:
                change.folder(out, files, paper_origin("job order", number, program()))
                click.echo(out)
    for sent in placed:
        click.echo(f"{number}: {in_words(sent)}")
    if not placed:
        click.echo(f"{number}: everything is ordered")
    for key, packs in surplus.items():
        what = "; ".join((key.what, *key.sizes))
        click.echo(f"not needed any more: {packs} × {what}, from {key.supplier}")


@click.command(cls=Command, epilog=example("countersunk job confirm 2026-0001 ORD-2026-0002 --comes 2026-04-01"))
@click.argument("number")
@click.argument("order_number")
@click.option("--comes", type=Day(), required=True, help="Day on which it comes.")
@click.option("--note", default="", help="What the supplier said.")
@hand_option
def confirm(number: str, order_number: str, comes: datetime, note: str, hand: str | None) -> None:
    """Record a supplier's yes to an order."""
    from countersunk.takeoff.jobs.diary import OrderConfirmed, said

    with opened_store() as store:
        store.story(number).order(order_number)
    add_entry(number, said(OrderConfirmed, number=order_number, comes=comes.date(), note=note), hand)


@click.command(cls=Command, epilog=example("countersunk job receive 2026-0001 ORD-2026-0002 --short 3:1"))
@click.argument("number")
@click.argument("order_number")
@click.option(
    "--short", multiple=True, metavar="LINE:PACKS", help="So many packs of a line did not come; repeat it."
)
@click.option("--bad", multiple=True, metavar="LINE:PACKS:WHY", help="So many came damaged or wrong; repeat it.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@hand_option
def receive(
    number: str,
    order_number: str,
    short: tuple[str, ...],
    bad: tuple[str, ...],
    day: datetime | None,
    hand: str | None,
) -> None:
    """Tick off a delivery: all that was still to come, less what is short or bad, which stays to come."""
    from countersunk.takeoff.jobs.diary import GoodsReceived, said
    from countersunk.takeoff.jobs.ordering import check_received, delivered

    with opened_store() as store:
        wanted = store.story(number).order(order_number)
    lines = delivered(wanted, short, bad)
    check_received(wanted, lines)
    add_entry(number, said(GoodsReceived, number=order_number, day=date_of(day), lines=lines), hand)


@click.command(cls=Command, epilog=example("countersunk job return 2026-0001 ORD-2026-0002 --line 3:1 --given 9"))
@click.argument("number")
@click.argument("order_number")
@click.option(
    "--line", "lines", multiple=True, required=True, metavar="LINE:PACKS", help="What goes back; repeat it."
)
@click.option("--given", type=Money(), required=True, help="What the supplier gives for it, without tax.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@hand_option
def return_goods(
    number: str, order_number: str, lines: tuple[str, ...], given: Decimal, day: datetime | None, hand: str | None
) -> None:
    """Record packs that go back, since they are not needed any more."""
    from countersunk.takeoff.jobs.diary import GoodsReturned, said
    from countersunk.takeoff.jobs.ordering import check_received, gone_back

    back = gone_back(lines)
    with opened_store() as store:
        check_received(store.story(number).order(order_number), back, back=True)
    event = said(GoodsReturned, number=order_number, day=date_of(day), lines=back, given=given)
    add_entry(number, event, hand)


@click.command(cls=Command, epilog=example("countersunk job orders 2026-0001"))
@click.argument("number")
@click.option("--all", "every", is_flag=True, help="Every line, not only what is still to come.")
@click.option("--json", "as_json", is_flag=True, help="Print them as JSON.")
def orders(number: str, every: bool, as_json: bool) -> None:
    """List the orders of a job, line by line, with what is still to come."""
    with opened_store() as store:
        rows = [
            row for order in store.story(number).orders for row in _order_rows(order) if every or row["to come"]
        ]
    if as_json:
        click.echo(encoded(rows).decode())
        return
    print_rows("Orders", rows)


def _order_rows(order: JobOrder) -> Iterator[dict[str, Any]]:
    for i, (line, to_come) in enumerate(zip(order.placed.lines, order.open, strict=True), start=1):
        yield {
            "order": order.placed.number, "supplier": order.placed.supplier,
            "comes": order.comes.isoformat() if order.comes else "",
            "line": i, "what": "; ".join((line.what, *line.sizes)), "packs": line.packs, "to come": to_come,
        }  # fmt: skip


@click.command(cls=Command, epilog=example("countersunk job reserve 2026-0001"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@price_options
@hand_option
def reserve(number: str, revision: int | None, prices: Path | None, terms: Path | None, hand: str | None) -> None:
    """Reserve the offcuts that the kitchen's cutting plan takes; asking twice changes nothing."""
    from countersunk.takeoff.jobs.offcut_stock import offcut_stock
    from countersunk.viewer.quoting.ordered import Asking, counted

    with opened_store() as store:
        stock = offcut_stock(store)
        taken = counted(store, number, revision, Asking(prices, terms), stock.available(number))
        reserved = stock.reserve(number, list(taken.cut.used), hand_of(hand))
    numbers = ", ".join(map(str, reserved))
    click.echo(f"{number}: reserved {numbers}" if numbers else f"{number}: no offcut is of use")


@click.command(cls=Command, epilog=example("countersunk job cut 2026-0001"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@price_options
@hand_option
def cut(number: str, revision: int | None, prices: Path | None, terms: Path | None, hand: str | None) -> None:
    """Record that a job is cut: its reserved offcuts are used up, and its rests come into stock, with numbers."""
    from countersunk.takeoff.jobs.offcut_stock import Standing, offcut_stock
    from countersunk.viewer.quoting.ordered import Asking, counted

    with opened_store() as store:
        stock = offcut_stock(store)
        reserved = tuple(kept.offcut for kept in stock.kept([Standing.RESERVED], number))
        taken = counted(store, number, revision, Asking(prices, terms), reserved)
        stock.reserve(number, list(taken.cut.used), hand_of(hand))
        for left in stock.cut(number, taken.cut.left, hand_of(hand)):
            click.echo(f"offcut {left}: in stock")
