"""Surprise: an exception that nobody foresaw, kept in a report file and told in one sentence.

The report holds what happened, the version, the command and the traceback, for whoever mends it; a person is told
its place and never shown the traceback. It is written for its owner alone, since a command may hold a name.
"""

from __future__ import annotations

import os
import sys
import tempfile
import traceback
from functools import lru_cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from countersunk.model.errors import printable


def told(error: BaseException) -> str:
    """What a person is told of ``error``, once its report is written: one sentence with the report's place.

    The same surprise in one process has one report. Where none can be written the sentence says so.
    """
    what = printable(f"{type(error).__name__}: {error}".strip(": "))[:200]
    try:
        place = f"a report for those who mend it is in {_kept(report(error))}"
    except OSError as why:
        place = f"and no report could be written: {why.strerror or why}"
    return f"not done: a mistake in the program, {what}; {place}"


def report(error: BaseException) -> str:
    """The text of a report: what happened, version, command, system and traceback."""
    command = " ".join(map(repr, sys.argv))
    lines = [
        "A mistake in Countersunk. It may name your files and customers: read it before you send it on.",
        f"what: {type(error).__name__}: {error}"[:2000],
        f"version: {_version()}",
        f"python: {sys.version.split()[0]} on {sys.platform}",
        f"command: {command}"[:2000],
        "".join(traceback.format_exception(error, chain=True)),
    ]
    return "\n".join(lines)


@lru_cache(maxsize=64)
def _kept(text: str) -> Path:
    handle, name = tempfile.mkstemp(prefix="countersunk-report-", suffix=".txt")
    with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as stream:
        stream.write(text)
    return Path(name)


def _version() -> str:
    try:
        return version("countersunk")
    except PackageNotFoundError:
        return "unknown"
