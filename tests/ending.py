"""Ending: work done in another process that is killed at a moment, or that has less than it needs."""

from __future__ import annotations

import os
import resource
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

Work = Callable[[], object]

FILE_EVENTS = {"open", "os.rename", "os.link", "os.remove", "os.rmdir", "os.mkdir", "os.chmod", "os.listdir"}
"""Audit events (PEP 578) that Python raises just before it asks the system to change or look at names."""


def kill_at_event(work: Work, number: int) -> bool:
    """Do ``work`` in a child that kills itself (SIGKILL) before its file event of this number; was it killed?"""
    return _ended(_started(lambda: (_kill_at(number), work()))) == -signal.SIGKILL


def kill_after(work: Work, seconds: float) -> bool:
    """Do ``work`` in a child, kill it (SIGKILL) after a time; was it still at work?"""
    child = _started(work)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    return _ended(child) == -signal.SIGKILL


def interrupted(work: Work, number: int) -> bool:
    """Do ``work`` in a child that gets Ctrl-C before its file event of this number; was it before the end?"""
    return _ended(_started(lambda: (_interrupt_at(number), work()))) != 0


def stopped_after(work: Work, seconds: float, said: Path) -> int:
    """Do ``work`` in a child that gets Ctrl-C (SIGINT) after a time, with what it says in a file. Its exit code."""
    reader, writer = os.pipe()

    def heard() -> None:
        signal.signal(signal.SIGINT, signal.default_int_handler)  # which a job in the background has not
        os.dup2(os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 1)
        os.dup2(1, 2)
        sys.stdout, sys.stderr = (open(n, "w", buffering=1, closefd=False) for n in (1, 2))  # noqa: SIM115
        os.write(writer, b".")
        work()

    child = _started(heard)
    os.read(reader, 1)
    time.sleep(seconds)
    os.kill(child, signal.SIGINT)
    for end in (reader, writer):
        os.close(end)
    return _ended(child)


def with_files_of(size: int, work: Work) -> bool:
    """Do ``work`` in a child that may write no file of more than so many bytes; did it end well?"""
    return _ended(_started(lambda: (resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)), work()))) == 0


def without_rights(work: Work) -> bool:
    """Do ``work`` in a child that has no more rights than any other user; did it end well?"""
    return _ended(_started(lambda: (os.geteuid() == 0 and os.seteuid(65534), work()))) == 0


def _kill_at(number: int) -> None:
    _at_event(number, lambda: os.kill(os.getpid(), signal.SIGKILL))


def _interrupt_at(number: int) -> None:
    def interrupt() -> None:
        raise KeyboardInterrupt

    _at_event(number, interrupt)


def _at_event(number: int, act: Callable[[], None]) -> None:
    seen = 0

    def count(event: str, _: object) -> None:
        nonlocal seen
        if event in FILE_EVENTS:
            seen += 1
            if seen == number:
                act()

    sys.addaudithook(count)


def _started(work: Work) -> int:
    child = os.fork()
    if child:
        return child
    code = 1
    try:
        signal.alarm(60)  # ends a child that waits for ever
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 2)
        work()
        code = 0
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1
    except BaseException:
        code = 1
    finally:
        os._exit(code)


def _ended(child: int) -> int:
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def exit_code(work: Work, output: str) -> int:
    """Do ``work`` in a child whose standard output is a device, or ``"closed"``: nobody reads it. Its exit code."""

    def told() -> None:
        if output == "closed":
            reader, writer = os.pipe()
            os.close(reader)
        else:
            writer = os.open(output, os.O_WRONLY)
        os.dup2(writer, 1)
        sys.stdout = open(1, "w", closefd=False)  # noqa: SIM115
        work()

    return _ended(_started(told))
