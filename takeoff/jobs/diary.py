"""Diary: the kinds of entries in which all that happens in a job is said. An entry is added and never changed.

Who was wrong says so in another entry. Amounts are money with cents, written as text so that nothing rounds them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Annotated, Literal, TypeVar

from pydantic import BeforeValidator, Field, PlainSerializer, TypeAdapter, ValidationError

from countersunk.model.errors import InputError
from countersunk.model.files.strict import Strict
from countersunk.model.files.strict_yaml import problems_of

Hash = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
"""The SHA-256 of a content of the store."""

Line = Annotated[str, Field(min_length=1, max_length=240, pattern=r"^[^\x00-\x1f\x7f]+$")]
Lines = Annotated[tuple[Line, ...], Field(max_length=12)]
Note = Annotated[str, Field(max_length=2000)]
FileName = Annotated[str, Field(min_length=1, max_length=120, pattern=r"^[^/\\\x00-\x1f]+$")]

Beside = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,59}/[A-Za-z0-9][A-Za-z0-9._-]{0,59}$")]
"""A file in a folder beside the kitchen file, such as ``own/units.yaml``."""


def _day(value: object) -> object:
    try:
        return date.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        return value


Day = Annotated[date, BeforeValidator(_day), PlainSerializer(lambda day: day.isoformat(), when_used="always")]


def _decimal(value: object) -> object:
    try:
        return Decimal(value) if isinstance(value, str) else value
    except InvalidOperation:
        return value


Amount = Annotated[
    Decimal,
    BeforeValidator(_decimal),
    PlainSerializer(lambda amount: f"{amount:f}", when_used="always"),
    Field(max_digits=12, decimal_places=2),
]
"""Money, to the cent."""

Rate = Annotated[
    Decimal,
    BeforeValidator(_decimal),
    PlainSerializer(lambda rate: f"{rate:f}", when_used="always"),
    Field(ge=0, le=100, max_digits=7, decimal_places=4),
]
"""Percent of tax, or of a price."""

Currency = Annotated[str, Field(pattern=r"^[A-Z]{3}$")]


class Taxed(Strict):
    """A sum at one rate of tax: without it, and the tax."""

    rate: Rate
    net: Amount
    tax: Amount


Sums = Annotated[tuple[Taxed, ...], Field(max_length=12)]


def gross(sums: Iterable[Taxed]) -> Decimal:
    """With tax, at all rates together."""
    return sum((s.net + s.tax for s in sums), Decimal("0.00"))


class PaymentStage(Strict):
    """A part of the price and when it is due."""

    percent: Rate
    when: Line


class QuotedChoice(Strict):
    """What could be chosen together, by the names on the quote, and what the whole job then costs."""

    names: Lines
    sums: Sums


class JobOpened(Strict):
    """Somebody called: who, and where the kitchen is."""

    kind: Literal["opened"] = "opened"
    customer: Annotated[Lines, Field(min_length=1)]
    street: Annotated[str, Field(max_length=240, pattern=r"^[^\x00-\x1f\x7f]*$")] = ""
    day: Day
    note: Note = ""


class CustomerChanged(Strict):
    """Name or address put right."""

    kind: Literal["customer"] = "customer"
    customer: Annotated[Lines, Field(min_length=1)]
    street: Annotated[str, Field(max_length=240, pattern=r"^[^\x00-\x1f\x7f]*$")] = ""


class RevisionSaved(Strict):
    """A kitchen file kept as the next revision: ``text`` byte for byte, and what a catalogue beside it held."""

    kind: Literal["saved"] = "saved"
    name: FileName
    text: Hash
    beside: dict[Beside, Hash] = Field(default_factory=dict, max_length=40)
    note: Note = ""


class QuoteSent(Strict):
    """A quote as it was sent: numbered in its job by its place. ``papers`` are its files, byte for byte; ``made``
    says by which versions of program, prices and terms, so that it stays what was signed.
    """

    kind: Literal["quoted"] = "quoted"
    reference: Line
    revision: Annotated[int, Field(ge=1)]
    day: Day
    valid_until: Day
    currency: Currency
    sums: Sums
    choices: Annotated[tuple[QuotedChoice, ...], Field(max_length=200)] = ()
    stages: Annotated[tuple[PaymentStage, ...], Field(max_length=8)] = ()
    papers: dict[FileName, Hash] = Field(max_length=40)
    made: dict[str, Annotated[str, Field(max_length=200)]] = Field(default_factory=dict, max_length=12)

    def sums_with(self, chosen: Sequence[str]) -> Sums:
        """What it comes to with these choices. Raises InputError for what cannot be had together."""
        offered = {frozenset(choice.names): choice.sums for choice in self.choices} | {frozenset(): self.sums}
        if frozenset(chosen) not in offered:
            names = "; ".join(" with ".join(sorted(names)) for names in offered if names)
            raise InputError.at(
                "chosen", found=" with ".join(chosen), allowed=names or "nothing: this quote has no options",
                advice="the names as the quote has them",
            )  # fmt: skip
        return offered[frozenset(chosen)]


class QuoteAccepted(Strict):
    """The customer's yes: to which quote, with what chosen, by whom, when."""

    kind: Literal["accepted"] = "accepted"
    quote: Annotated[int, Field(ge=1)]
    chosen: Lines = ()
    customer: Line
    day: Day


class OrderLine(Strict):
    """So many ``packs`` of an article, in words with its decor, the ``sizes`` to make, the supplier's ``number``.

    ``listed`` is their price, ``cost`` what is paid: ``discount`` percent less.
    """

    code: Line
    number: Annotated[str, Field(max_length=80)] = ""
    what: Line
    sizes: Annotated[tuple[Line, ...], Field(max_length=200)] = ()
    pack: Annotated[str, Field(max_length=120)] = ""
    packs: Annotated[int, Field(ge=1, le=100_000)]
    listed: Amount | None = None
    discount: Rate = Decimal(0)
    cost: Amount | None = None


class OrderPlaced(Strict):
    """An order to one supplier, for a revision. Until ``free_until`` it may be changed for nothing."""

    kind: Literal["ordered"] = "ordered"
    number: Line
    supplier: Line
    revision: Annotated[int, Field(ge=1)]
    day: Day
    wanted: Day | None = None
    free_until: Day | None = None
    lines: Annotated[tuple[OrderLine, ...], Field(min_length=1, max_length=400)]
    papers: dict[FileName, Hash] = Field(default_factory=dict, max_length=4)


class OrderConfirmed(Strict):
    """The supplier's yes, with the day on which it comes."""

    kind: Literal["confirmed"] = "confirmed"
    number: Line
    comes: Day
    note: Note = ""


class LineReceived(Strict):
    """Of the ``line``-th line of an order, from 1 on: ``good`` packs, and others that are ``bad``, with why."""

    line: Annotated[int, Field(ge=1, le=400)]
    good: Annotated[int, Field(ge=0, le=100_000)]
    bad: Annotated[int, Field(ge=0, le=100_000)] = 0
    why: Annotated[str, Field(max_length=240)] = ""


class GoodsReceived(Strict):
    """A delivery, ticked off against its order. What is bad goes back and is still to come."""

    kind: Literal["received"] = "received"
    number: Line
    day: Day
    lines: Annotated[tuple[LineReceived, ...], Field(min_length=1, max_length=400)]


class GoodsReturned(Strict):
    """Packs that went back since they are not needed any more, and what the supplier gave for them."""

    kind: Literal["returned"] = "returned"
    number: Line
    day: Day
    lines: Annotated[tuple[LineReceived, ...], Field(min_length=1, max_length=400)]
    given: Amount


class VariationAgreed(Strict):
    """A change to what was accepted, with its price, more or less."""

    kind: Literal["varied"] = "varied"
    what: Annotated[Line, Field(max_length=240)]
    sums: Sums
    customer: Line
    day: Day


class InvoiceLine(Strict):
    """What is asked for, without tax."""

    text: Line
    rate: Rate
    net: Amount


class InvoiceSent(Strict):
    """An invoice as it was sent. ``stage`` is the place of the stage that it is for, ``variations`` those that
    it asks for too; ``credits`` names the invoice that it takes back, with negative sums.
    """

    kind: Literal["invoiced"] = "invoiced"
    number: Line
    day: Day
    due: Day
    stage: Annotated[int, Field(ge=1, le=8)] | None = None
    lines: Annotated[tuple[InvoiceLine, ...], Field(min_length=1, max_length=60)]
    sums: Sums
    variations: Annotated[tuple[int, ...], Field(max_length=60)] = ()
    credits: Annotated[str, Field(max_length=40)] = ""
    papers: dict[FileName, Hash] = Field(default_factory=dict, max_length=4)


class PaymentReceived(Strict):
    """Money that came, or went back (less than 0)."""

    kind: Literal["paid"] = "paid"
    amount: Amount
    day: Day
    how: Annotated[str, Field(max_length=240)] = ""
    invoice: Annotated[str, Field(max_length=40)] = ""


class Noted(Strict):
    """Something to remember: a call, a promise."""

    kind: Literal["noted"] = "noted"
    note: Annotated[Note, Field(min_length=1)]


class JobClosed(Strict):
    """Nothing more is done: it is finished, or the customer went elsewhere."""

    kind: Literal["closed"] = "closed"
    lost: bool = False
    note: Note = ""


Event = Annotated[
    JobOpened
    | CustomerChanged
    | RevisionSaved
    | QuoteSent
    | QuoteAccepted
    | OrderPlaced
    | OrderConfirmed
    | GoodsReceived
    | GoodsReturned
    | VariationAgreed
    | InvoiceSent
    | PaymentReceived
    | Noted
    | JobClosed,
    Field(discriminator="kind"),
]

EVENT: TypeAdapter[Event] = TypeAdapter(Event)


Said = TypeVar("Said", bound=Strict)


def said(kind: type[Said], **fields: object) -> Said:
    """An entry of that kind. Raises InputError for a field that it does not take."""
    try:
        return kind.model_validate(fields)
    except ValidationError as error:
        raise problems_of(error, kind) from None


@dataclass(frozen=True)
class Entry:
    """The ``number``-th entry of a diary, counted from 1: when it was made (UTC, ISO 8601), by whose hand."""

    number: int
    at: str
    hand: str
    event: Event


def contents_of(event: Event) -> dict[str, str]:
    """The contents that an entry names, by the name of each as a file."""
    match event:
        case RevisionSaved():
            return {event.name: event.text, **event.beside}
        case QuoteSent() | InvoiceSent() | OrderPlaced():
            return event.papers
    return {}
