"""A PostgreSQL server of the tests' own, in a folder that goes with it, reached by a socket."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.lanes import SKIP_NOTHING

USER = "postgres"
"""Debian's: the server refuses to run as root."""


def _binaries() -> Path | None:
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/postgres")) or [
        Path(which) for which in [shutil.which("postgres")] if which
    ]
    return found[-1].resolve().parent if found else None


def _as_user(*command: str | Path) -> list[str]:
    return ["runuser", "-u", USER, "--", *map(str, command)] if os.geteuid() == 0 else [*map(str, command)]


@contextmanager
def server() -> Iterator[str]:
    """The address of a new, empty server."""
    binaries = _binaries()
    if binaries is None:
        if SKIP_NOTHING:
            pytest.fail("PostgreSQL is not installed")
        pytest.skip("PostgreSQL is not installed")
    folder = Path(tempfile.mkdtemp(prefix="countersunk-pg-"))
    if os.geteuid() == 0:
        shutil.chown(folder, USER)
    data = folder / "data"
    quiet = {"cwd": folder, "stdout": subprocess.DEVNULL, "check": True}
    subprocess.run(_as_user(binaries / "initdb", "-D", data, "-U", USER, "-A", "trust", "-E", "UTF8"), **quiet)
    options = f"-c listen_addresses='' -c unix_socket_directories={folder}"
    try:
        control = binaries / "pg_ctl"
        subprocess.run(_as_user(control, "-D", data, "-w", "-l", folder / "log", "-o", options, "start"), **quiet)
        yield f"postgresql://{USER}@/{USER}?host={folder}"
    finally:
        with_pid = data / "postmaster.pid"
        if with_pid.exists():
            os.kill(int(with_pid.read_text().splitlines()[0]), signal.SIGINT)  # fast shutdown
            subprocess.run(_as_user(control, "-D", data, "-w", "-m", "immediate", "stop"), cwd=folder, stdout=-3)
        shutil.rmtree(folder, ignore_errors=True)
