"""A new store for each test: in a file, and, in the slow lane, in a database too."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

import pytest

from countersunk.takeoff.jobs.store import Store, opened_store
from tests.takeoff.jobs.postgres import server

COUNT = count(1)


@pytest.fixture(scope="session")
def database() -> Iterator[str]:
    """The address of a server of this run's own."""
    with server() as address:
        yield address


@pytest.fixture(params=["file", pytest.param("database", marks=pytest.mark.slow)])
def place(request: pytest.FixtureRequest, tmp_path) -> str:
    """Where an empty store is made."""
    if request.param == "file":
        return str(tmp_path / "jobs.sqlite")
    import psycopg

    address, name = request.getfixturevalue("database"), f"store_{next(COUNT)}"
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}".encode())
    return address.replace("/postgres?", f"/{name}?")


@pytest.fixture
def store(place: str) -> Iterator[Store]:
    """An empty store."""
    with opened_store(place) as found:
        yield found
