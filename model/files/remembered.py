"""Remembered: what is made of the program's own files, kept on disk by their content, so that a start is quick.

It is kept as JSON in the user's cache folder and may be deleted at any time. Whatever cannot be read or written
there is made again: nothing depends on it.
"""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

from countersunk.model.errors import InputError
from countersunk.model.files.whole import write_whole

DAYS = 30
"""What is older is thrown away once something new is kept."""


def remembered(content: bytes, make: Callable[[], Any]) -> Any:
    """What ``make`` makes of ``content``: plain data that JSON can hold, its lists as tuples.

    ``content`` must hold all that the outcome depends on, also how it is made.
    """
    folder = cache_folder()
    if folder is None:
        return make()
    path = folder / f"{sha256(content).hexdigest()}.json"
    try:
        return _tuples(json.loads(path.read_bytes()))
    except (OSError, ValueError, RecursionError):
        made = make()
        _keep(path, made)
        return made


def cache_folder() -> Path | None:
    """Where a user's programs keep what they can make again (XDG Base Directory, and its like elsewhere).

    None where the user has no home.
    """
    named = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME", "")
    if named:
        return Path(named) / "countersunk"
    try:
        return Path.home() / ("Library/Caches" if sys.platform == "darwin" else ".cache") / "countersunk"
    except RuntimeError:
        return None


def _keep(path: Path, made: Any) -> None:
    try:
        data = json.dumps(made, ensure_ascii=True, separators=(",", ":")).encode()
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        for old in path.parent.glob("*.json"):
            if time.time() - old.stat().st_mtime > DAYS * 86_400:
                old.unlink(missing_ok=True)
        write_whole(path, data)
    except (OSError, TypeError, InputError):  # a full disk, a date: then it is made each time
        return


def _tuples(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(map(_tuples, value))
    return {key: _tuples(item) for key, item in value.items()} if isinstance(value, dict) else value
