"""Story: what a job is now, told by its diary. A pure function: the same diary always tells the same."""

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
    JobClosed,
    JobOpened,
    RevisionSaved,
)


class State(StrEnum):
    """How far a job is."""

    ENQUIRY = "enquiry"
    DRAWN = "drawn"
    DONE = "done"
    LOST = "lost"


@dataclass(frozen=True)
class Revision:
    """A kitchen file as it was kept, counted from 1."""

    number: int
    saved: RevisionSaved
    entry: Entry


@dataclass(frozen=True)
class Story:
    """A job now."""

    customer: tuple[str, ...] = ()
    street: str = ""
    opened: date | None = None
    revisions: tuple[Revision, ...] = ()
    closed: JobClosed | None = None

    @property
    def state(self) -> State:
        """How far it is."""
        if self.closed:
            return State.LOST if self.closed.lost else State.DONE
        return State.DRAWN if self.revisions else State.ENQUIRY

    def revision(self, number: int | None = None) -> Revision:
        """The revision of that number, the last if left out. Raises InputError."""
        known = {r.number: r for r in self.revisions}
        wanted = number if number is not None else max(known, default=0)
        if wanted not in known:
            allowed = f"1 to {len(known)}" if known else "a job with a kitchen"
            raise InputError.at("revision", found=str(wanted or "none"), allowed=allowed, advice="save a kitchen")
        return known[wanted]


def story_of(diary: Iterable[Entry]) -> Story:
    """What a diary tells."""
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
        case JobClosed() as closed:
            return replace(story, closed=closed)
    return story
