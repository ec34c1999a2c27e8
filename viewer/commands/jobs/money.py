"""Money of a job: quotes, the yes, variations, invoices, payments, the account."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from countersunk.viewer.commands.console import Command, Day, Money, encoded, example, left_behind, steps
from countersunk.viewer.commands.jobs.keeping import (
    add_entry,
    date_of,
    hand_of,
    hand_option,
    in_words,
    opened_store,
    print_rows,
    terms_of,
)

if TYPE_CHECKING:
    from countersunk.takeoff.jobs.diary import InvoiceSent
    from countersunk.takeoff.jobs.store import Store


@click.command(cls=Command, epilog=example("countersunk job quote 2026-0001 --out quote-1"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--labour", type=click.Path(path_type=Path), help="Your own minutes (YAML), not the invented ones.")
@click.option("--options", type=click.Path(path_type=Path), help="What the customer may choose instead (YAML).")
@click.option("--accept", multiple=True, metavar="CODE", help="A line that may stand without a price; repeat it.")
@click.option("--date", "day", type=Day(), help="Day of the quote; today if left out.")
@click.option("--stills/--no-stills", default=True, help="Show the kitchen and its options (some seconds each).")
@hand_option
def quote(
    number: str,
    revision: int | None,
    out: Path,
    prices: Path | None,
    terms: Path | None,
    labour: Path | None,
    options: Path | None,
    accept: tuple[str, ...],
    day: datetime | None,
    stills: bool,
    hand: str | None,
) -> None:
    """Quote a revision: every paper is written, and kept with the job as it was sent."""
    from countersunk.viewer.quoting.quote import Asked
    from countersunk.viewer.quoting.sent import send_quote

    asked = Asked(prices, terms, options, accept, day=date_of(day), stills=stills, labour=labour)
    with opened_store() as store, left_behind() as change:
        with steps() as step:
            made_number, made = send_quote(store, number, revision, asked, hand_of(hand), step)
        change.folder(out, made.files, made.origin)
        click.echo(f"{number}: quote {made_number}, {made.reference}")
        click.echo(out)


@click.command(cls=Command, epilog=example("countersunk job accept 2026-0001 --customer 'A. Reader'"))
@click.argument("number")
@click.option("--quote", "quote_number", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--choose", "chosen", multiple=True, metavar="NAME", help="An option that was ticked; repeat it.")
@click.option("--customer", required=True, help="Who said yes.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@hand_option
def accept_quote(
    number: str,
    quote_number: int | None,
    chosen: tuple[str, ...],
    customer: str,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Record the customer's yes to a quote, with what was chosen."""
    from countersunk.takeoff.jobs.diary import QuoteAccepted, said

    with opened_store() as store:
        story = store.story(number)
        story.quote(quote_number).sums_with(chosen)
        which = quote_number or len(story.quotes)
    add_entry(number, said(QuoteAccepted, quote=which, chosen=chosen, customer=customer, day=date_of(day)), hand)


@click.command(cls=Command, epilog=example("countersunk job vary 2026-0001 'a socket more' --net 45.50 --rate 20"))
@click.argument("number")
@click.argument("what")
@click.option("--net", type=Money(), required=True, help="What it costs more without tax; less than 0 for less.")
@click.option("--rate", type=Money(), required=True, help="Percent of tax.")
@click.option("--customer", required=True, help="Who agreed to it.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@hand_option
def vary(
    number: str,
    what: str,
    net: Decimal,
    rate: Decimal,
    customer: str,
    terms: Path | None,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Record a change that was agreed after the yes, with its price."""
    from countersunk.takeoff.jobs.diary import InvoiceLine, VariationAgreed, said
    from countersunk.takeoff.jobs.tax import tax_profile

    sums = tax_profile(terms_of(terms).invoicing.tax).sums([said(InvoiceLine, text=what, rate=rate, net=net)])
    add_entry(number, said(VariationAgreed, what=what, sums=sums, customer=customer, day=date_of(day)), hand)


@click.command(cls=Command, epilog=example("countersunk job invoice 2026-0001 --out invoice-1"))
@click.argument("number")
@click.option("--stage", type=click.IntRange(1, 8), help="Which part of the price; the next if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="Day of the invoice; today if left out.")
@hand_option
def invoice(
    number: str, stage: int | None, out: Path, terms: Path | None, day: datetime | None, hand: str | None
) -> None:
    """Write the invoice of a stage, with the variations agreed since the last, numbered without a gap."""
    from countersunk.takeoff.jobs.invoices import next_stage
    from countersunk.viewer.quoting.sent import send_invoice

    with opened_store() as store:
        which = stage or next_stage(store.story(number))
        _write_invoice(
            store, number, send_invoice(store, number, terms_of(terms), which, date_of(day), hand_of(hand)), out
        )


@click.command(
    cls=Command, epilog=example("countersunk job credit 2026-0001 INV-2026-0003 --why 'wrong name' --out .")
)
@click.argument("number")
@click.argument("invoice_number")
@click.option("--why", required=True, help="What was wrong with it.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="Day of the credit note; today if left out.")
@hand_option
def credit(
    number: str,
    invoice_number: str,
    why: str,
    out: Path,
    terms: Path | None,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Take an invoice back by a credit note of its own number; nothing that was sent is changed."""
    from countersunk.viewer.quoting.sent import send_credit

    with opened_store() as store:
        sent = send_credit(store, number, terms_of(terms), invoice_number, why, date_of(day), hand_of(hand))
        _write_invoice(store, number, sent, out)


def _write_invoice(store: Store, number: str, sent: InvoiceSent, out: Path) -> None:
    from countersunk.takeoff.report.origin import program
    from countersunk.viewer.quoting.sent import paper_origin

    files = {name: store.content(content) for name, content in sent.papers.items()}
    with left_behind() as change:
        for path in change.folder(out, files, paper_origin(f"job {sent.number}", number, program())):
            click.echo(path)
    click.echo(f"{number}: {in_words(sent)}")


@click.command(cls=Command, epilog=example("countersunk job paid 2026-0001 480.00 --how transfer"))
@click.argument("number")
@click.argument("amount", type=Money())
@click.option("--invoice", "invoice_number", default="", help="The invoice that was paid.")
@click.option("--how", default="", help="How it came.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@hand_option
def paid(
    number: str, amount: Decimal, invoice_number: str, how: str, day: datetime | None, hand: str | None
) -> None:
    """Record money that came."""
    from countersunk.model.errors import InputError
    from countersunk.takeoff.jobs.diary import PaymentReceived, said

    if invoice_number:
        with opened_store() as store:
            known = [sent.number for sent in store.story(number).invoices]
        if invoice_number not in known:
            raise InputError.unknown("--invoice", invoice_number, known or ["none was sent"])
    add_entry(number, said(PaymentReceived, amount=amount, invoice=invoice_number, how=how, day=date_of(day)), hand)


@click.command(cls=Command, epilog=example("countersunk job account 2026-0001 --json"))
@click.argument("number")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def account(number: str, as_json: bool) -> None:
    """Show what was accepted, varied, asked for and paid, and what is owed, with tax."""
    from countersunk.takeoff.jobs.invoices import account as account_of

    with opened_store() as store:
        story = store.story(number)
    found = account_of(story)
    rows = {
        "accepted": found.accepted,
        "variations": found.varied,
        "asked for": found.invoiced,
        "paid": found.paid,
        "owed": found.owed,
        "not asked for yet": found.to_invoice,
    }
    if found.rounding:
        rows["tax by invoice, not by line of the quote"] = found.rounding
    if as_json:
        click.echo(encoded({name.replace(" ", "_"): f"{value:f}" for name, value in rows.items()}).decode())
        return
    currency = story.quote(story.agreement.quote).currency if story.agreement else ""
    currency = f", {story.quote(story.agreement.quote).currency} with tax" if story.agreement else ""
    print_rows(f"Account of {number}{currency}", [{"what": name, "amount": value} for name, value in rows.items()])
