"""Story: what a job is now, worked out from its diary. The same diary always gives the same story."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import reduce

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.diary import (
    CustomerChanged,
    Entry,
    GoodsReceived,
    GoodsReturned,
    InvoiceSent,
    JobClosed,
    JobOpened,
    LineReceived,
    OrderConfirmed,
    OrderPlaced,
    PaymentReceived,
    PaymentStage,
    QuoteAccepted,
    QuoteSent,
    RevisionSaved,
    Sums,
    VariationAgreed,
)


class State(StrEnum):
    """How far a job is."""

    ENQUIRY = "enquiry"
    DRAWN = "drawn"
    QUOTED = "quoted"
    ACCEPTED = "accepted"
    ORDERED = "ordered"
    HERE = "delivered"
    DONE = "done"
    LOST = "lost"


@dataclass(frozen=True)
class Revision:
    """A kitchen file as it was kept, counted from 1."""

    number: int
    saved: RevisionSaved
    entry: Entry


@dataclass(frozen=True)
class JobOrder:
    """An order, with what became of it. Packs are those of each line."""

    placed: OrderPlaced
    comes: date | None = None
    good: tuple[int, ...] = ()
    back: tuple[int, ...] = ()

    @property
    def open(self) -> tuple[int, ...]:
        """Packs that are still to come: short, damaged and wrong ones too."""
        return tuple(line.packs - good for line, good in zip(self.placed.lines, self.good, strict=True))

    @property
    def held(self) -> tuple[int, ...]:
        """Packs that are here or to come, less those that went back."""
        return tuple(line.packs - back for line, back in zip(self.placed.lines, self.back, strict=True))


@dataclass(frozen=True)
class Agreement:
    """What was accepted: by which quote, what it comes to with what was chosen, and when parts of it are due."""

    quote: int
    sums: Sums
    stages: tuple[PaymentStage, ...]


@dataclass(frozen=True)
class Story:
    """A job now."""

    customer: tuple[str, ...] = ()
    street: str = ""
    opened: date | None = None
    revisions: tuple[Revision, ...] = ()
    quotes: tuple[QuoteSent, ...] = ()
    accepted: QuoteAccepted | None = None
    agreement: Agreement | None = None
    orders: tuple[JobOrder, ...] = ()
    variations: tuple[VariationAgreed, ...] = ()
    invoices: tuple[InvoiceSent, ...] = ()
    payments: tuple[PaymentReceived, ...] = ()
    closed: JobClosed | None = None

    @property
    def state(self) -> State:
        """How far it is."""
        if self.closed:
            return State.LOST if self.closed.lost else State.DONE
        if self.orders:
            return State.HERE if not any(sum(order.open) for order in self.orders) else State.ORDERED
        if self.accepted:
            return State.ACCEPTED
        if self.quotes:
            return State.QUOTED
        return State.DRAWN if self.revisions else State.ENQUIRY

    @property
    def agreed(self) -> Agreement:
        """What was accepted. Raises InputError before that."""
        if self.agreement is None:
            raise InputError.at("job", found=self.state.value, allowed="a job whose quote was accepted")
        return self.agreement

    @property
    def standing_invoices(self) -> tuple[InvoiceSent, ...]:
        """Invoices that were not taken back."""
        back = {invoice.credits for invoice in self.invoices if invoice.credits}
        return tuple(i for i in self.invoices if not i.credits and i.number not in back)

    def variations_open(self) -> tuple[tuple[int, VariationAgreed], ...]:
        """Variations of which no standing invoice asks, with their numbers from 1."""
        asked = {number for invoice in self.standing_invoices for number in invoice.variations}
        return tuple((n, v) for n, v in enumerate(self.variations, start=1) if n not in asked)

    def revision(self, number: int | None = None) -> Revision:
        """The revision of that number, the last if left out. Raises InputError."""
        known = {r.number: r for r in self.revisions}
        wanted = number if number is not None else max(known, default=0)
        if wanted not in known:
            allowed = f"1 to {len(known)}" if known else "a job with a kitchen"
            raise InputError.at("revision", found=str(wanted or "none"), allowed=allowed, advice="save a kitchen")
        return known[wanted]

    def order(self, number: str) -> JobOrder:
        """The order of that number. Raises InputError."""
        known = {order.placed.number: order for order in self.orders}
        if number not in known:
            raise InputError.unknown("order", number, known or ["none was placed"])
        return known[number]

    def quote(self, number: int | None = None) -> QuoteSent:
        """The quote of that number, the last if left out. Raises InputError."""
        wanted = number if number is not None else len(self.quotes)
        if not 1 <= wanted <= len(self.quotes):
            allowed = f"1 to {len(self.quotes)}" if self.quotes else "a job with a quote"
            raise InputError.at("quote", found=str(wanted or "none"), allowed=allowed)
        return self.quotes[wanted - 1]


def story_of(diary: Iterable[Entry]) -> Story:
    """What a job is after these entries."""
    return reduce(_after, diary, Story())


def _after(story: Story, entry: Entry) -> Story:
    match entry.event:
        case JobOpened() as opened:
            return replace(story, customer=opened.customer, street=opened.street, opened=opened.day)
        case CustomerChanged() as changed:
            return replace(story, customer=changed.customer, street=changed.street)
        case RevisionSaved() as saved:
            revision = Revision(len(story.revisions) + 1, saved, entry)
            return replace(story, revisions=(*story.revisions, revision), closed=None)
        case QuoteSent() as quote:
            return replace(story, quotes=(*story.quotes, quote), closed=None)
        case QuoteAccepted() as accepted:
            return replace(story, accepted=accepted, agreement=_agreement(story, accepted))
        case OrderPlaced() as placed:
            none = (0,) * len(placed.lines)
            return replace(story, orders=(*story.orders, JobOrder(placed, good=none, back=none)))
        case OrderConfirmed() as confirmed:
            return _with_order(story, replace(story.order(confirmed.number), comes=confirmed.comes))
        case GoodsReceived() as received:
            order = story.order(received.number)
            return _with_order(story, replace(order, good=_more(order.good, received.lines)))
        case GoodsReturned() as returned:
            order = story.order(returned.number)
            return _with_order(story, replace(order, back=_more(order.back, returned.lines)))
        case VariationAgreed() as variation:
            return replace(story, variations=(*story.variations, variation))
        case InvoiceSent() as invoice:
            return replace(story, invoices=(*story.invoices, invoice))
        case PaymentReceived() as payment:
            return replace(story, payments=(*story.payments, payment))
        case JobClosed() as closed:
            return replace(story, closed=closed)
    return story


def _with_order(story: Story, order: JobOrder) -> Story:
    number = order.placed.number
    return replace(story, orders=tuple(order if o.placed.number == number else o for o in story.orders))


def _more(packs: tuple[int, ...], lines: Iterable[LineReceived]) -> tuple[int, ...]:
    came = {line.line: line.good for line in lines}
    return tuple(number + came.get(i, 0) for i, number in enumerate(packs, start=1))


def _agreement(story: Story, accepted: QuoteAccepted) -> Agreement:
    quote = story.quote(accepted.quote)
    return Agreement(accepted.quote, quote.sums_with(accepted.chosen), quote.stages)
