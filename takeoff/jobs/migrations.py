"""Migrations: the tables of a store, made in numbered steps. A step that has been released is never changed.

A store of any earlier step is brought up to date when it is opened, as one change: all of it or nothing.
"""

from __future__ import annotations

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.engine import Engine

STEPS: tuple[tuple[str, ...], ...] = (
    (
        "CREATE TABLE content (hash TEXT PRIMARY KEY, packed BYTES NOT NULL)",
        "CREATE TABLE series (name TEXT PRIMARY KEY, last BIGINT NOT NULL)",
        """CREATE TABLE job (
            number TEXT PRIMARY KEY,
            customer TEXT NOT NULL,
            street TEXT NOT NULL,
            folded TEXT NOT NULL,
            state TEXT NOT NULL,
            opened TEXT NOT NULL,
            changed TEXT NOT NULL,
            entries BIGINT NOT NULL
        )""",
        "CREATE INDEX job_changed ON job (changed)",
        """CREATE TABLE entry (
            job TEXT NOT NULL REFERENCES job (number),
            number BIGINT NOT NULL,
            at TEXT NOT NULL,
            hand TEXT NOT NULL,
            said TEXT NOT NULL,
            PRIMARY KEY (job, number)
        )""",
    ),
    (
        """CREATE TABLE offcut (
            number BIGINT PRIMARY KEY,
            material TEXT NOT NULL,
            decor TEXT NOT NULL,
            length TEXT NOT NULL,
            width TEXT NOT NULL,
            price TEXT NOT NULL,
            standing TEXT NOT NULL,
            job TEXT NOT NULL
        )""",
        "CREATE INDEX offcut_standing ON offcut (standing, job)",
        """CREATE TABLE movement (
            offcut BIGINT NOT NULL REFERENCES offcut (number),
            number BIGINT NOT NULL,
            at TEXT NOT NULL,
            hand TEXT NOT NULL,
            standing TEXT NOT NULL,
            job TEXT NOT NULL,
            why TEXT NOT NULL,
            PRIMARY KEY (offcut, number)
        )""",
        "CREATE INDEX movement_job ON movement (job)",
    ),
)


def bring_up_to_date(engine: Engine, steps: int = len(STEPS)) -> None:
    """Take the first ``steps`` that the store has not taken. Raises InputError for a later program's store."""
    with engine.changing():
        engine.lock()
        engine.run("CREATE TABLE IF NOT EXISTS store (step BIGINT NOT NULL)")
        done = step_of(engine)
        if done > len(STEPS):
            raise InputError.at(
                "store", found=f"step {done}", allowed=f"up to {len(STEPS)}",
                advice="a later program wrote it: update this one",
            )  # fmt: skip
        for statement in (s for step in STEPS[done:steps] for s in step):
            engine.run(statement)
        if steps > done:
            engine.run("DELETE FROM store")
            engine.run("INSERT INTO store VALUES (?)", [steps])


def step_of(engine: Engine) -> int:
    """How many steps a store has taken."""
    rows = engine.run("SELECT step FROM store")
    return int(rows[0][0]) if rows else 0
