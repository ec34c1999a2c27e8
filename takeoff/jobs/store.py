"""Store: jobs with their diaries, contents kept byte for byte, and the series that number papers."""

from __future__ import annotations

import getpass
import os
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from platformdirs import user_data_path

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.diary import EVENT, Entry, Event, JobOpened, contents_of
from countersunk.takeoff.jobs.engine import Engine, StoreError, connect
from countersunk.takeoff.jobs.migrations import bring_up_to_date
from countersunk.takeoff.jobs.story import Story, story_of

VARIABLE = "COUNTERSUNK_STORE"
"""Where the store is: a path, or an address of PostgreSQL."""

MAX_BYTES = 64_000_000
"""The largest content that is kept."""


class StaleJobError(StoreError):
    """Somebody else has added to the job: ``since`` are the entries that the writer did not know."""

    def __init__(self, job: str, since: tuple[Entry, ...]) -> None:
        hands = ", ".join(sorted({entry.hand for entry in since}))
        what = "1 entry was" if len(since) == 1 else f"{len(since)} entries were"
        super().__init__(f"job {job}: {what} added by {hands} meanwhile; read them, then save again")
        self.job, self.since = job, since


@dataclass(frozen=True)
class JobHead:
    """A line of the list of jobs. ``entries`` counts those of its diary."""

    number: str
    customer: str
    street: str
    state: str
    opened: str
    changed: str
    entries: int


HEAD = "number, customer, street, state, opened, changed, entries"


def now() -> str:
    """This moment, UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def store_place() -> str:
    """Where the store of this user is: what COUNTERSUNK_STORE says, else a file among the user's data."""
    return os.environ.get(VARIABLE) or str(user_data_path("countersunk") / "jobs.sqlite")


@contextmanager
def opened_store(place: str | None = None) -> Iterator[Store]:
    """The store at ``place``, this user's if left out; made on first use, and brought up to date."""
    engine = connect(place or store_place())
    try:
        bring_up_to_date(engine)
        yield Store(engine)
    finally:
        engine.close()


@dataclass(frozen=True)
class Store:
    """One connection. What a method has returned from is on disk; an error means that nothing was changed."""

    engine: Engine
    clock: Callable[[], str] = now

    def open_job(self, event: JobOpened, hand: str) -> str:
        """A new job's number, such as ``2026-0001``: the year in which it was opened, and a count."""
        with self.engine.changing():
            number = self._next_job(event.day.year)
            at = self.clock()
            self.engine.run(
                f"INSERT INTO job ({HEAD}, folded) VALUES (?, '', '', '', ?, ?, 0, '')",
                [number, event.day.isoformat(), at],
            )
            self._write(number, (), _entries([event], 0, hand, at))
        return number

    def _next_job(self, year: int) -> str:
        """The next number of the year; one that a job brought along from another store is passed over."""
        while True:
            number = f"{year}-{self.next_in(f'job {year}'):04d}"
            if not self.engine.run("SELECT 1 FROM job WHERE number = ?", [number]):
                return number

    def take_in(self, job: str, diary: tuple[Entry, ...]) -> bool:
        """Put in a job as another store exported it; False where it is here already, entry by entry.

        Raises InputError where another job has the number.
        """
        with self.engine.changing():
            if self.engine.run("SELECT 1 FROM job WHERE number = ?", [job]):
                if self.diary(job) == diary:
                    return False
                found, advice = f"another job {job}", "import into an empty store"
                raise InputError.at("job", found=found, allowed="a number that is free", advice=advice)
            story = story_of(diary)
            self.engine.run(
                f"INSERT INTO job ({HEAD}, folded) VALUES (?, '', '', '', ?, ?, 0, '')",
                [job, story.opened.isoformat() if story.opened else "", diary[-1].at],
            )
            self._write(job, (), diary)
        return True

    def add(self, job: str, known: int, events: Sequence[Event], hand: str) -> int:
        """Add to a diary of which the writer knows the first ``known`` entries; returns how many it has then.

        Raises StaleJobError where it has more by now, and StoreError where a content that is named is not kept.
        """
        with self.engine.changing():
            diary = self._diary_to_add_to(job, known)
            self._write(job, diary, _entries(events, known, hand, self.clock()))
        return known + len(events)

    def add_numbered(self, job: str, known: int, series: str, make: Callable[[int], Event], hand: str) -> Event:
        """Add what ``make`` makes of the next number of a series; where it cannot be made, no number is used up.

        Raises StaleJobError as `add` does.
        """
        with self.engine.changing():
            diary = self._diary_to_add_to(job, known)
            event = make(self.next_in(series))
            self._write(job, diary, _entries([event], known, hand, self.clock()))
        return event

    def _diary_to_add_to(self, job: str, known: int) -> tuple[Entry, ...]:
        self.engine.run("UPDATE job SET changed = changed WHERE number = ?", [job])  # no other writer from here
        diary = self.diary(job)
        if len(diary) != known:
            raise StaleJobError(job, diary[known:])
        return diary

    def _write(self, job: str, diary: tuple[Entry, ...], entries: tuple[Entry, ...]) -> None:
        for entry in entries:
            for name in contents_of(entry.event).values():
                if not self.has(name):
                    raise StoreError(f"job {job}: a content that an entry names is not kept: {name}")
            self.engine.run(
                "INSERT INTO entry (job, number, at, hand, said) VALUES (?, ?, ?, ?, ?)",
                [job, entry.number, entry.at, entry.hand, entry.event.model_dump_json()],
            )
        self._write_head(job, (*diary, *entries))

    def _write_head(self, job: str, diary: tuple[Entry, ...]) -> None:
        story = story_of(diary)
        customer = ", ".join(story.customer)
        folded = " ".join((job, customer, story.street)).casefold()
        self.engine.run(
            "UPDATE job SET customer = ?, street = ?, folded = ?, state = ?, changed = ?, entries = ?"
            " WHERE number = ?",
            [customer, story.street, folded, story.state.value, diary[-1].at, len(diary), job],
        )

    def diary(self, job: str) -> tuple[Entry, ...]:
        """Every entry of a job, the first first. Raises InputError for a job that there is not."""
        rows = self.engine.run("SELECT number, at, hand, said FROM entry WHERE job = ? ORDER BY number", [job])
        if not rows:
            raise InputError.at(
                "job", found=f"'{job[:40]}'", allowed="the number of a job", advice="countersunk job list"
            )
        return tuple(Entry(number, at, hand, EVENT.validate_json(said)) for number, at, hand, said in rows)

    def story(self, job: str) -> Story:
        """What a job is now. Raises InputError for a job that there is not."""
        return story_of(self.diary(job))

    def jobs(self, search: str = "", state: str = "", most: int = 50) -> tuple[JobHead, ...]:
        """The jobs last changed, at most ``most``: those with every word of ``search`` in number, customer or
        street, whatever its capitals, and in ``state`` if given.
        """
        words = [f"%{_escaped(word)}%" for word in search.casefold().split()]
        where = ["folded LIKE ? ESCAPE '!'" for _ in words] + ["state = ?"] * bool(state)
        rows = self.engine.run(
            f"SELECT {HEAD} FROM job {'WHERE ' if where else ''}{' AND '.join(where)}"
            " ORDER BY changed DESC, number DESC LIMIT ?",
            [*words, *([state] if state else []), most],
        )
        return tuple(JobHead(*row) for row in rows)

    def next_in(self, series: str) -> int:
        """The next number of a series, from 1 without a gap: within `Engine.changing`, so that it counts or not
        together with what it numbers.
        """
        self.engine.run("INSERT INTO series VALUES (?, 0) ON CONFLICT (name) DO NOTHING", [series])
        rows = self.engine.run("UPDATE series SET last = last + 1 WHERE name = ? RETURNING last", [series])
        return int(rows[0][0])

    def keep(self, data: bytes) -> str:
        """Keep a content, once however often it comes; returns its SHA-256. Raises InputError for one too large."""
        if len(data) > MAX_BYTES:
            raise InputError.at(
                "file", found=f"{len(data) / 1e6:.0f} MB", allowed=f"{MAX_BYTES / 1e6:.0f} MB", advice="divide it"
            )
        name = sha256(data).hexdigest()
        self.engine.run(
            "INSERT INTO content VALUES (?, ?) ON CONFLICT (hash) DO NOTHING", [name, zlib.compress(data)]
        )
        return name

    def has(self, name: str) -> bool:
        """Whether a content is kept."""
        return bool(self.engine.run("SELECT 1 FROM content WHERE hash = ?", [name]))

    def content(self, name: str) -> bytes:
        """The bytes of a content. Raises StoreError where they are not there, or are not what was kept."""
        rows = self.engine.run("SELECT packed FROM content WHERE hash = ?", [name])
        data = zlib.decompress(rows[0][0]) if rows else b""
        if sha256(data).hexdigest() != name:
            raise StoreError(f"content {name} is {'damaged' if rows else 'not kept'}; restore a backup")
        return data

    def backup(self, path: Path) -> None:
        """Write all of it to a new file, whole, while others go on working. Raises InputError where it is there."""
        if path.exists():
            raise InputError.at(str(path), found="a file", allowed="a new name", advice="add the day to its name")
        beside = path.with_name(f".{path.name}.part")
        beside.unlink(missing_ok=True)
        try:
            self.engine.copy_to(beside)
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)


def _entries(events: Sequence[Event], known: int, hand: str, at: str) -> tuple[Entry, ...]:
    return tuple(Entry(number, at, hand, event) for number, event in enumerate(events, start=known + 1))


def this_hand() -> str:
    """The name of whoever uses this machine."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # a user without a name
        return "somebody"


def _escaped(word: str) -> str:
    return word.replace("!", "!!").replace("%", "!%").replace("_", "!_")
