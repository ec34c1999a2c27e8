"""Wording: an entry of a diary as a person reads it."""

from __future__ import annotations

from collections.abc import Iterable

from countersunk.takeoff.jobs.diary import (
    CustomerChanged,
    Event,
    GoodsReceived,
    GoodsReturned,
    InvoiceSent,
    JobClosed,
    JobOpened,
    LineReceived,
    Noted,
    OrderConfirmed,
    OrderLine,
    OrderPlaced,
    PaymentReceived,
    QuoteAccepted,
    QuoteSent,
    RevisionSaved,
    VariationAgreed,
    gross,
)


def in_words(event: Event) -> str:
    """One line."""
    return ": ".join(filter(None, _words(event)))


def _words(event: Event) -> tuple[str, str]:
    match event:
        case JobOpened():
            return f"opened for {event.customer[0]}", event.note
        case CustomerChanged():
            return f"now for {event.customer[0]}", event.street
        case RevisionSaved():
            return f"kitchen saved, {event.name}", event.note
        case QuoteSent():
            return f"quote {event.reference} of revision {event.revision}", f"{gross(event.sums)} {event.currency}"
        case QuoteAccepted():
            chosen = f", with {' and '.join(event.chosen)}" if event.chosen else ""
            return f"quote {event.quote} accepted by {event.customer}{chosen}", ""
        case OrderPlaced():
            return f"ordered {event.number} from {event.supplier}, for revision {event.revision}", _packs(
                event.lines
            )
        case OrderConfirmed():
            return f"order {event.number} comes on {event.comes}", event.note
        case GoodsReceived():
            bad = sum(line.bad for line in event.lines)
            came = f"{sum(line.good for line in event.lines)} packs of order {event.number} came"
            return f"{came}, {bad} more damaged or wrong" if bad else came, _reasons(event.lines)
        case GoodsReturned():
            packs = sum(line.good for line in event.lines)
            return f"{packs} packs of order {event.number} went back for {event.given}", _reasons(event.lines)
        case VariationAgreed():
            return f"variation agreed by {event.customer}, {gross(event.sums)}", event.what
        case InvoiceSent() if event.credits:
            return f"credit note {event.number} for invoice {event.credits}", str(gross(event.sums))
        case InvoiceSent():
            return f"invoice {event.number}, due {event.due}", str(gross(event.sums))
        case PaymentReceived():
            return f"paid on {event.day}", " ".join(filter(None, (str(event.amount), event.how)))
        case Noted():
            return "note", event.note
        case JobClosed():
            return "lost" if event.lost else "closed", event.note


def _packs(lines: Iterable[OrderLine]) -> str:
    packs = [line.packs for line in lines]
    return f"{sum(packs)} packs in {len(packs)} lines"


def _reasons(lines: Iterable[LineReceived]) -> str:
    return "; ".join(f"line {line.line}, {line.why}" for line in lines if line.why)
