"""Diary: the kinds of entries in which all that happens in a job is said. An entry is added and never changed.

Who was wrong says so in another entry. Amounts are money with cents, written as text so that nothing rounds them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal, TypeVar

from pydantic import BeforeValidator, Field, PlainSerializer, TypeAdapter, ValidationError

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
    JobOpened | CustomerChanged | RevisionSaved | Noted | JobClosed,
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
    return {event.name: event.text, **event.beside} if isinstance(event, RevisionSaved) else {}
