"""Folders: every file of a folder is made beside it first, and the folder is changed over as one.

What was made here before and is not made again goes; a person's own files stay. The two folders are exchanged in
one call, so a reader meets all of the old files or all of the new ones, whenever the program is ended.

Where folders cannot be exchanged (the folder is a mount or the one that somebody works in, the folder around it may
not be written, the system has no such call), the new files lie in a folder within it, which is named `UNFINISHED`
once it is whole. From then on they are moved up one by one. A run that is ended meanwhile leaves that name to be
seen, and the next run finishes what it began before it does anything else.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from countersunk.model.errors import InputError
from countersunk.model.files.exchange import exchange
from countersunk.model.files.manifest import (
    MANIFEST,
    PAPERS,
    Manifest,
    Origin,
    digest,
    is_manifest,
    read_manifest,
    unchanged,
)  # fmt: skip
from countersunk.model.files.whole import sync_folder, write_new

try:
    import fcntl
except ImportError:  # a system without locks of files
    fcntl = None  # type: ignore[assignment]

UNFINISHED = "countersunk-unfinished"
WITHIN = ".countersunk-new-"
TRIES = 20


@dataclass
class StagedFolder:
    """New files of ``folder`` in the folder ``beside`` it or within it, which nobody else clears away meanwhile."""

    folder: Path
    beside: Path
    origin: Origin
    digests: Mapping[str, str]
    lock: int | None
    kept: list[Path] = field(default_factory=list)
    """Files that were in the way and are not ours, under their new names, once the folder is changed over."""

    def change_over(self) -> None:
        """Put the new files in their place. Raises OSError, and leaves the folder as it was where it does."""
        for _ in range(TRIES):  # until no other run changes the folder over between our look at it and our lock
            if self._changed_over():
                return
        raise OSError(f"{self.folder} is changed by another program all the time")

    def discard(self) -> None:
        """Delete what is left of the new files."""
        shutil.rmtree(self.beside, ignore_errors=True)
        if self.lock is not None:
            os.close(self.lock)
            self.lock = None

    def _changed_over(self) -> bool:
        """False where another run was quicker and this one has to look again."""
        if not self.folder.exists():
            return self._become()
        with _locked(self.folder) as is_same:
            if is_same:
                _add_manifest(self.beside, read_manifest(self.folder).having(self.origin, self.digests))
                if self.beside.parent == self.folder or not self._exchanged():
                    self._move_in()
        return is_same

    def _become(self) -> bool:
        """Take the name of a folder that is not there yet."""
        _add_manifest(self.beside, Manifest().having(self.origin, self.digests))
        sync_folder(self.beside)
        try:
            self.beside.rename(self.folder)
        except OSError:
            if self.folder.exists():
                return False
            raise
        sync_folder(self.folder.parent)
        return True

    def _exchanged(self) -> bool:
        """Change the folder over, with everything in it that stays; False where that cannot be done."""
        ways = _ways(self.folder, self.beside)
        linked = [self.beside / name for entry, name in ways.items() if _linked(entry, self.beside / name)]
        shutil.copystat(self.folder, self.beside)
        sync_folder(self.beside)
        old = self.beside.with_name(self.beside.name.replace("-new-", "-ready-"))
        self.beside.rename(old)
        try:
            exchange(old, self.folder)
        except OSError:
            old.rename(self.beside)
            for path in linked:
                path.unlink()
            return False
        sync_folder(self.folder.parent)
        self.kept = [self.folder / name for entry, name in ways.items() if name != entry.name]
        _clear_away(old, self.folder)
        return True

    def _move_in(self) -> None:
        """Move the new files into the folder one by one, in a way that the next run can finish."""
        sync_folder(self.beside)
        self.beside.rename(self.folder / UNFINISHED)
        self.kept = _finish(self.folder)


def staged_folder(folder: Path, files: Mapping[str, bytes], origin: Origin) -> StagedFolder:
    """All of ``files``, on disk beside ``folder``. What an earlier run left half-way is finished.

    Raises OSError, and InputError where something that is not a folder stands in the place.
    """
    place = folder.resolve()
    if place.exists() and not place.is_dir():
        raise InputError.at(str(folder), found="a file", allowed="a folder, or a name that is free",
                            advice="another name")  # fmt: skip
    place.parent.mkdir(parents=True, exist_ok=True)
    recover(place)
    beside, lock = _held(place)
    staged = StagedFolder(place, beside, origin, {n: digest(d) for n, d in files.items()}, lock)
    try:
        for name, data in files.items():
            write_new(beside / name, data)
    except BaseException:
        staged.discard()
        raise
    return staged


def recover(folder: Path) -> None:
    """Finish or delete what interrupted runs left of their work on ``folder``."""
    if (folder / UNFINISHED).is_dir():
        with _locked(folder):
            _finish(folder)
    for left in (*_left(folder.parent, _prefix(folder, "new")), *_left(folder, WITHIN)):
        shutil.rmtree(left, ignore_errors=True)
    for left in _left(folder.parent, _prefix(folder, "ready")):
        _clear_away(left, folder)


def _held(folder: Path) -> tuple[Path, int | None]:
    """A new folder to write to, with its lock, that no other run has taken for left behind in between."""
    while True:
        made = _place_for(folder)
        lock = _lock(made, wait=True)
        if made.exists():
            return made, lock
        if lock is not None:
            os.close(lock)


def _place_for(folder: Path) -> Path:
    """An empty folder to write to: beside ``folder`` where the two could change places, else within it."""
    if not folder.exists():
        return _beside(folder)
    if not os.access(folder, os.W_OK):
        raise PermissionError(13, os.strerror(13), str(folder))
    here = Path.cwd()
    if folder == here or folder in here.parents or os.path.ismount(folder) or not _is_mine(folder):
        return Path(tempfile.mkdtemp(prefix=WITHIN, dir=folder))
    try:
        return _beside(folder)
    except PermissionError:
        return Path(tempfile.mkdtemp(prefix=WITHIN, dir=folder))


def _beside(folder: Path) -> Path:
    made = Path(tempfile.mkdtemp(prefix=_prefix(folder, "new"), dir=folder.parent))
    mask = os.umask(0)
    os.umask(mask)
    made.chmod(0o777 & ~mask)
    return made


def _prefix(folder: Path, kind: str) -> str:
    """Of what stands beside a folder for it alone; a name may be as long as the system allows."""
    return f".countersunk-{sha256(os.fsencode(folder.name)).hexdigest()[:12]}-{kind}-"


def _is_mine(folder: Path) -> bool:
    """Would a new folder in its place belong to the same person?"""
    return not hasattr(os, "geteuid") or folder.stat().st_uid == os.geteuid()


def _add_manifest(beside: Path, manifest: Manifest) -> None:
    (beside / MANIFEST).unlink(missing_ok=True)
    write_new(beside / MANIFEST, manifest.encoded())


def _ways(folder: Path, new: Path) -> dict[Path, str]:
    """What stays of a folder once the files in ``new`` come into it, and the name that it then has.

    A person's file in the way of a new one gets another name.
    """
    was, coming = read_manifest(folder), read_manifest(new)
    taken = {path.name for path in new.iterdir()} | {path.name for path in folder.iterdir()}
    ways = {}
    for entry in sorted(folder.iterdir()):
        name = entry.name
        goes = name not in coming.files or (new / name).exists()  # else another command made it, and it stays
        is_ours = name in was.files and unchanged(entry, was.files[name])
        if (is_ours and goes) or is_manifest(entry) or name.startswith((WITHIN, UNFINISHED)):
            continue
        ways[entry] = _free(entry, taken) if (new / name).exists() else name
        taken.add(ways[entry])
    return ways


def _free(entry: Path, taken: set[str]) -> str:
    """A name for a file that is in the way: ``plan-yours.svg``, or ``plan-yours-2.svg``."""
    names = (f"{entry.stem}-yours{f'-{n}' if n > 1 else ''}{entry.suffix}" for n in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)


def _linked(entry: Path, to: Path) -> bool:
    """Give a file the second name ``to``; False for a folder, or where the file system has no hard links."""
    if entry.is_dir() and not entry.is_symlink():
        return False
    try:
        os.link(entry, to, follow_symlinks=False)
    except (OSError, NotImplementedError):
        return False
    return True


def _finish(folder: Path) -> list[Path]:
    """Move the new files up from within ``folder``, remove what is stale; the names of files that were in the way.

    It can be cut off anywhere and run again, because the manifest moves last.
    """
    new = folder / UNFINISHED
    if not (new / MANIFEST).exists():
        new.rmdir()
        return []
    ways = _ways(folder, new)
    for entry in sorted(folder.iterdir()):
        is_old = not entry.name.startswith((WITHIN, UNFINISHED)) and entry not in ways
        if is_old and entry.name not in (MANIFEST, PAPERS) and not (new / entry.name).exists():
            entry.unlink()
    moved = [(entry, folder / name) for entry, name in ways.items() if name != entry.name]
    for entry, to in moved:
        entry.rename(to)
    if is_manifest(folder / PAPERS):
        (folder / PAPERS).unlink()
    for path in sorted(new.iterdir(), key=lambda p: p.name == MANIFEST):
        path.replace(folder / path.name)
    new.rmdir()
    sync_folder(folder)
    return [to for _, to in moved]


def _clear_away(old: Path, folder: Path) -> None:
    """Remove the old folder, or one that never took its place, once nothing of a person's own is in it."""
    _take_back(old, folder)
    emptied = old.with_name(old.name.replace("-ready-", "-new-"))  # from here on it only has to go
    old.rename(emptied)
    shutil.rmtree(emptied, ignore_errors=True)


def _take_back(left: Path, folder: Path) -> None:
    """Move what is not ours from the old folder of a run that was ended just after it had changed the two over."""
    listed = read_manifest(left).files
    there = {(s.st_dev, s.st_ino) for s in (p.lstat() for p in folder.iterdir())} if folder.exists() else set()
    for entry in sorted(left.iterdir()):
        state = entry.lstat()
        is_ours = entry.name in listed and unchanged(entry, listed[entry.name])
        if is_ours or is_manifest(entry) or (state.st_dev, state.st_ino) in there:
            continue
        folder.mkdir(exist_ok=True)
        taken = {path.name for path in folder.iterdir()}
        entry.rename(folder / (_free(entry, taken) if entry.name in taken else entry.name))


def _left(folder: Path, prefix: str) -> Iterator[Path]:
    """Folders that a run left behind, each locked while it is looked at; not those of a run that still goes on."""
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        if path.name.startswith(prefix) and path.is_dir() and not path.is_symlink():
            handle = _lock(path)
            if handle is not None:
                yield path
                os.close(handle)


def _lock(folder: Path, *, wait: bool = False) -> int | None:
    """A lock of a folder, held until the handle is closed; None where another has it or there are no locks."""
    if fcntl is None:
        return None
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(handle)
        return None
    return handle


@contextmanager
def _locked(folder: Path) -> Iterator[bool]:
    """Wait for a folder's lock. False where another run has put another folder in its place meanwhile."""
    handle = _lock(folder, wait=True)
    try:
        yield handle is None or (folder.exists() and os.path.samestat(os.fstat(handle), folder.stat()))
    finally:
        if handle is not None:
            os.close(handle)
