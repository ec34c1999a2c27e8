"""Engines: where a store is kept, and the little in which SQLite and PostgreSQL differ.

Statements are written with ``?`` for each value, and with ``BYTES`` for the type of bytes.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any, Protocol

from countersunk.model.errors import CountersunkError, InputError

if TYPE_CHECKING:
    import psycopg

Row = tuple[Any, ...]

POSTGRES = re.compile(r"postgres(ql)?://", re.IGNORECASE)

PATIENCE = 30
"""Seconds that a writer waits for another."""

SHARED = {
    "9p", "afs", "ceph", "cifs", "fuse.sshfs", "glusterfs", "lustre", "ncpfs", "nfs", "nfs4", "smb3", "smbfs",
}  # fmt: skip
"""File systems on which the locks of SQLite do not hold between machines (sqlite.org, faq 5, from memory)."""

ONE_AT_A_TIME = 8_362_117
"""The advisory lock of PostgreSQL under which tables are made and changed; any number that nobody else takes."""


class StoreError(CountersunkError):
    """The store cannot be read or written: what it is, and why. What was acknowledged before is there."""


class Engine(Protocol):
    """One connection to a store."""

    def run(self, statement: str, values: Sequence[Any] = ()) -> list[Row]:
        """The rows that a statement gives back. Raises StoreError."""

    def changing(self) -> Any:
        """A context within which all statements count, or none where an error leaves it. Raises StoreError."""

    def copy_to(self, path: Path) -> None:
        """Write all of it to a new file while others go on working. Raises StoreError."""

    def lock(self) -> None:
        """Let nobody else make or change tables until the end of the change."""

    def close(self) -> None:
        """End the connection."""


def connect(place: str) -> Engine:
    """The engine of a path, or of an address that begins with ``postgresql://``.

    Raises InputError for a place where no store can be, StoreError where it does not answer.
    """
    return PostgresEngine(place) if POSTGRES.match(place) else SqliteEngine(Path(place).expanduser())


class SqliteEngine:
    """A store in one file, for everybody on one machine."""

    def __init__(self, path: Path) -> None:
        refuse_shared(path)
        self.path = path
        with _translated(str(path)):
            path.parent.mkdir(parents=True, exist_ok=True)
            self.connection = sqlite3.connect(path, PATIENCE, isolation_level=None, check_same_thread=False)
            self.connection.execute("PRAGMA journal_mode = WAL")
            self.connection.execute("PRAGMA synchronous = FULL")

    def run(self, statement: str, values: Sequence[Any] = ()) -> list[Row]:
        with _translated(str(self.path)):
            return self.connection.execute(statement.replace("BYTES", "BLOB"), values).fetchall()

    @contextmanager
    def changing(self) -> Iterator[None]:
        self.run("BEGIN IMMEDIATE")
        try:
            yield
            self.run("COMMIT")
        except BaseException:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            raise

    def lock(self) -> None:
        """Nothing: whoever changes the file is alone with it."""

    def copy_to(self, path: Path) -> None:
        with _translated(str(path)):
            copy = sqlite3.connect(path)
            try:
                self.connection.backup(copy)
            finally:
                copy.close()

    def close(self) -> None:
        self.connection.close()


class PostgresEngine:
    """A store in a database, for several machines. Needs psycopg: the extra ``postgres``."""

    def __init__(self, address: str) -> None:
        try:
            import psycopg
        except ImportError:
            raise StoreError("psycopg is not installed; add it by: pip install 'countersunk[postgres]'") from None
        with _translated(self.name):
            self.connection: psycopg.Connection[Row] = psycopg.connect(
                address, autocommit=True, connect_timeout=PATIENCE
            )

    name = "the database"
    """What messages call it: its address may hold a password."""

    def run(self, statement: str, values: Sequence[Any] = ()) -> list[Row]:
        text = statement.replace("?", "%s").replace("BYTES", "BYTEA")
        with _translated(self.name):
            found = self.connection.execute(text.encode(), values or None)
            return found.fetchall() if found.description else []

    @contextmanager
    def changing(self) -> Iterator[None]:
        with _translated(self.name), self.connection.transaction():
            yield

    def lock(self) -> None:
        self.run("SELECT pg_advisory_xact_lock(?)", [ONE_AT_A_TIME])

    def copy_to(self, path: Path) -> None:  # noqa: ARG002
        raise InputError.at(
            "backup", found="a store in a database", allowed="a store in a file",
            advice="pg_dump for a backup, or countersunk job export for the jobs as files",
        )  # fmt: skip

    def close(self) -> None:
        self.connection.close()


def refuse_shared(path: Path, mounts: str | None = None) -> None:
    """Refuse a file on a network share, where two machines would not see each other's locks.

    ``mounts`` is the text of ``/proc/self/mounts``, read where there is one; elsewhere only a Windows share shows.
    """
    kind = "a Windows share" if str(path).startswith("\\\\") else ""
    if mounts is None:
        known = Path("/proc/self/mounts")
        mounts = known.read_text(errors="replace") if known.exists() else ""
    where = PurePosixPath(path.absolute().as_posix())
    points = [line.split()[1:3] for line in mounts.splitlines() if len(line.split()) > 2]
    around = [(len(PurePosixPath(point).parts), kind_) for point, kind_ in points if where.is_relative_to(point)]
    system = max(around, default=(0, ""))[1]
    if kind or system in SHARED:
        advice = "a file on this machine, or postgresql://… for several machines"
        raise InputError.at("store", found=f"{path}, on {kind or system}", allowed="a local disk", advice=advice)


@contextmanager
def _translated(place: str) -> Iterator[None]:
    """Errors of the drivers as a StoreError in one sentence."""
    try:
        yield
    except (sqlite3.Error, OSError) as error:
        raise StoreError(f"{place}: {_first_line(error)}") from error
    except CountersunkError:
        raise
    except Exception as error:
        if not type(error).__module__.startswith("psycopg"):
            raise
        raise StoreError(f"{place}: {_first_line(error)}") from error


def _first_line(error: Exception) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0][:200]
