"""Writers that are killed: whatever was acknowledged is there afterwards, and nothing is half-written."""

from __future__ import annotations

import multiprocessing
import os
import random
import signal
import time
from datetime import date

from countersunk.takeoff.jobs.diary import JobOpened, Noted
from countersunk.takeoff.jobs.store import opened_store
from tests.lanes import examples

KILLS = examples(1000, 10)


def write(place: str, job: str, told: int) -> None:
    """Add notes for ever, and say each once it is acknowledged."""
    with opened_store(place) as store:
        while True:
            known = len(store.diary(job))
            store.add(job, known, [Noted(note=f"{known}")], "writer")
            os.write(told, f"{known + 1}\n".encode())


def test_a_killed_writer_loses_nothing_that_was_acknowledged(place):
    fork = multiprocessing.get_context("fork")
    chance = random.Random(7)
    with opened_store(place) as store:
        job = store.open_job(JobOpened(customer=("A. Reader",), day=date(2026, 3, 2)), "d")
    acknowledged = 1
    for number in range(KILLS):
        if number % 100 == 0:  # a diary is read whole before each entry
            with opened_store(place) as store:
                job = store.open_job(JobOpened(customer=("A. Reader",), day=date(2026, 3, 2)), "d")
            acknowledged = 1
        hear, told = os.pipe()
        writer = fork.Process(target=write, args=(place, job, told))
        writer.start()
        os.close(told)
        time.sleep(chance.uniform(0.005, 0.06))
        os.kill(writer.pid, signal.SIGKILL)
        writer.join()
        with os.fdopen(hear) as lines:
            said = [int(line) for line in lines.read().splitlines() if line]
        acknowledged = max([acknowledged, *said])
        with opened_store(place) as store:
            entries = store.diary(job)
            assert [e.number for e in entries] == list(range(1, len(entries) + 1))
            assert acknowledged <= len(entries) <= acknowledged + 1
            (head,) = store.jobs(search=job)
            assert head.entries == len(entries)
            acknowledged = len(entries)
