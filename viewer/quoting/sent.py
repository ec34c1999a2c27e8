"""Sent: papers of a job made from what its store keeps, and kept there as they were sent."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from platformdirs import user_cache_path

from countersunk.model.catalogue.catalogue import load_catalogue
from countersunk.model.files.manifest import Origin, digest
from countersunk.model.files.strict_yaml import read_bytes
from countersunk.model.files.whole import write_whole
from countersunk.model.kitchen import Kitchen, read_kitchen
from countersunk.takeoff.counting.pricing import TaxTotal
from countersunk.takeoff.counting.terms import Terms
from countersunk.takeoff.jobs.diary import InvoiceSent, PaymentStage, QuotedChoice, QuoteSent, Taxed, gross, said
from countersunk.takeoff.jobs.invoices import credit_note, stage_invoice
from countersunk.takeoff.jobs.revisions import revision_files
from countersunk.takeoff.jobs.store import Store
from countersunk.takeoff.jobs.story import Story, story_of
from countersunk.takeoff.jobs.tax import TaxProfile, tax_profile
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.viewer.quoting.quote import Asked, QuoteMade, Step, make_quote
from countersunk.viewer.quoting.typeset import typeset


def kitchen_of(store: Store, job: str, revision: int | None = None) -> Kitchen:
    """The kitchen of a revision, the last if left out, by the catalogue kept with it. Raises InputError.

    Articles and prices of a catalogue are read from its folder when they are asked for, so a catalogue that was
    kept is put where this user's programs keep such things, by its content.
    """
    saved = store.story(job).revision(revision).saved
    raw = store.content(saved.text)
    if not saved.beside:
        return read_kitchen(raw, saved.name)
    place = user_cache_path("countersunk") / "catalogues" / digest(repr(sorted(saved.beside.items())).encode())
    for path, data in revision_files(store, job, revision, place / saved.name).items():
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, data)
    own = place / next(iter(saved.beside)).partition("/")[0]
    return read_kitchen(raw, saved.name, load_catalogue(own))


def send_quote(
    store: Store, job: str, revision: int | None, asked: Asked, hand: str, step: Step
) -> tuple[int, QuoteMade]:
    """The next quote of a job, from a revision of its kitchen, with all its papers kept; returns its number.

    Raises as `quote_kitchen` does, and keeps nothing then.
    """
    diary = store.diary(job)
    story = story_of(diary)
    number = story.revision(revision).number
    made = make_quote(
        kitchen_of(store, job, number), replace(asked, customer=asked.customer or story.customer), step
    )
    terms, totals = made.takeoff.terms, made.takeoff.totals
    versions = [(v.options, v.totals.taxes) for v in made.offer.versions if v.totals and v.options]
    event = said(
        QuoteSent, reference=made.reference, revision=number, day=asked.day,
        valid_until=asked.day + timedelta(terms.validity_days), currency=totals.currency, sums=_taxed(totals.taxes),
        choices=tuple(
            QuotedChoice(names=tuple(o.name for o in options), sums=_taxed(taxes)) for options, taxes in versions
        ),
        stages=tuple(PaymentStage(percent=Decimal(str(p.percent)), when=p.when) for p in terms.payment),
        papers={name: store.keep(data) for name, data in made.files.items()},
        made=_made_by(made, asked),
    )  # fmt: skip
    store.add(job, len(diary), [event], hand)
    return len(story.quotes) + 1, made


def _taxed(taxes: Iterable[TaxTotal]) -> tuple[Taxed, ...]:
    return tuple(Taxed(rate=t.rate, net=t.base, tax=t.tax) for t in taxes)


def _made_by(made: QuoteMade, asked: Asked) -> dict[str, str]:
    """By which versions a quote was made: names, and hashes of files that were given."""
    given = {"terms": asked.terms, "labour": asked.labour, "options": asked.options, "offcuts": asked.offcuts}
    return {
        "program": made.origin.program, "kitchen sha-256": made.origin.kitchen_sha256,
        "prices": made.takeoff.price_book, "prices sha-256": made.origin.prices_sha256,
        **{f"{name} sha-256": digest(read_bytes(path)) for name, path in given.items() if path},
    }  # fmt: skip


def send_invoice(store: Store, job: str, terms: Terms, stage: int, day: date, hand: str) -> InvoiceSent:
    """The next invoice of the firm's series, for a stage of a job, with its paper kept. Raises InputError."""

    def make(story: Story, number: str, tax: TaxProfile) -> InvoiceSent:
        return stage_invoice(story, number, stage, day, terms.invoicing.days, tax)

    return _send(store, job, terms, day, hand, make)


def send_credit(store: Store, job: str, terms: Terms, invoice: str, why: str, day: date, hand: str) -> InvoiceSent:
    """A credit note that takes an invoice back, numbered in the same series. Raises InputError."""

    def make(story: Story, number: str, _: TaxProfile) -> InvoiceSent:
        return credit_note(story, invoice, number, day, why)

    return _send(store, job, terms, day, hand, make)


def _send(
    store: Store,
    job: str,
    terms: Terms,
    day: date,
    hand: str,
    make: Callable[[Story, str, TaxProfile], InvoiceSent],
) -> InvoiceSent:
    diary = store.diary(job)
    story, tax = story_of(diary), tax_profile(terms.invoicing.tax)
    series = f"{terms.invoicing.series}{day.year}"

    def numbered(count: int) -> InvoiceSent:
        invoice = make(story, f"{series}-{count:04d}", tax)
        name = f"{'credit-note-' * bool(invoice.credits)}{invoice.number}.pdf"
        paper = typeset("invoice", invoice_data(job, story, invoice, terms, tax))
        return invoice.model_copy(update={"papers": {name: store.keep(paper)}})

    event = store.add_numbered(job, len(diary), f"invoice {series}", numbered, hand)
    assert isinstance(event, InvoiceSent)
    return event


def invoice_data(job: str, story: Story, invoice: InvoiceSent, terms: Terms, tax: TaxProfile) -> dict[str, Any]:
    """Everything that the sheet prints."""
    quote = story.quote(story.agreed.quote)
    money = MoneyForm(quote.currency, terms.locale)
    return {
        "business": terms.business.model_dump(),
        "tax_number": f"{tax.number} {terms.invoicing.number}" if terms.invoicing.number else "",
        "title": f"Credit note {invoice.number}" if invoice.credits else f"{tax.invoice} {invoice.number}",
        "credits": invoice.credits,
        "kitchen": story.street or f"Job {job}",
        "job": job,
        "customer": list(story.customer),
        "day": money.day(invoice.day),
        "due": money.day(invoice.due),
        "reference": quote.reference,
        "lines": [
            {"text": line.text, "rate": f"{line.rate.normalize():f} %", "net": money.amount(line.net)}
            for line in invoice.lines
        ],
        "sums": [
            {"rate": f"{s.rate.normalize():f} %", "net": money.amount(s.net), "tax": money.amount(s.tax)}
            for s in invoice.sums
        ],
        "word": tax.word,
        "net": money.amount(sum((s.net for s in invoice.sums), Decimal(0))),
        "tax": money.amount(sum((s.tax for s in invoice.sums), Decimal(0))),
        "gross": money.whole(gross(invoice.sums)),
        "rule": f"{tax.word} is reckoned on {'each line' if tax.per == 'line' else 'the sum at each rate'}.",
        "pay": list(terms.invoicing.pay),
    }


def paper_origin(command: str, job: str, program: str) -> Origin:
    """Where the papers of a job are from, for the manifest of their folder."""
    return Origin(command, job, digest(job.encode()), program=program)
