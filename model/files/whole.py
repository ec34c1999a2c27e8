"""Whole: a file is written beside its place, brought to disk, and only then renamed into its place.

So a reader meets the old file or the new one, and never half of one, whatever ends the program. After a power cut
the same holds as far as the disk does what ``fsync`` asks of it.
"""

from __future__ import annotations

import errno
import os
import tempfile
import time
from hashlib import sha256
from pathlib import Path

from countersunk.model.errors import InputError

LEFT_BEHIND = 3600.0
"""What lies beside a file for so long was left by a run that was killed, s."""


def write_whole(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path``, or leave what is there. Raises OSError; InputError where no file can be there."""
    put(written_beside(path, data), path)


def written_beside(path: Path, data: bytes) -> Path:
    """A file in the same folder as ``path``, with ``data`` on disk, for `put`.

    What killed runs left there for the same name goes. Raises OSError, also for a file that is write-protected,
    which renaming would replace all the same; InputError where no file can be there.
    """
    if path.exists() and not path.is_file():
        found = "a folder" if path.is_dir() else "something that is not a file"
        raise InputError.at(str(path), found=found, allowed="a file, or a name that is free", advice="another name")
    if path.exists() and not os.access(path, os.W_OK, effective_ids=os.access in os.supports_effective_ids):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    prefix = f".countersunk-{sha256(os.fsencode(path.name)).hexdigest()[:12]}-file-"
    _clear_away(path.parent, prefix)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=prefix)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            _to_disk(stream.fileno(), data, path)
        beside.chmod(0o644)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _clear_away(folder: Path, prefix: str) -> None:
    """Remove what killed runs left behind long ago."""
    for left in folder.glob(f"{prefix}*"):
        if time.time() - left.lstat().st_mtime > LEFT_BEHIND:
            left.unlink(missing_ok=True)


def put(beside: Path, path: Path) -> None:
    """Rename what `written_beside` wrote over ``path``. Raises OSError."""
    try:
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet, in a folder that nobody reads yet, on disk. Raises OSError."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o644)
    try:
        _to_disk(handle, data, path)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:  # some file systems cannot do it for a folder
        pass
    finally:
        os.close(handle)


def _to_disk(handle: int, data: bytes, path: Path) -> None:
    rest = memoryview(data)
    try:
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    except OSError as error:  # which does not know the name
        raise OSError(error.errno, error.strerror, str(path)) from None
