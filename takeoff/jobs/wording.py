"""Wording: an entry of a diary as a person reads it."""

from __future__ import annotations

from countersunk.takeoff.jobs.diary import CustomerChanged, Event, JobClosed, JobOpened, Noted, RevisionSaved


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
        case Noted():
            return "note", event.note
        case JobClosed():
            return "lost" if event.lost else "closed", event.note
