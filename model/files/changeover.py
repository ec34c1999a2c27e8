"""Changeover: what a command leaves behind is made beside its place first, and put there once all else is done.

>>> from tempfile import TemporaryDirectory
>>> with TemporaryDirectory() as folder:
...     path = Path(folder) / "list.csv"
...     with changeover() as change:
...         _ = change.file(path, b"id,length")
...         print(path.exists())
...     print(path.exists())
False
True
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from countersunk.model.files.folders import StagedFolder, staged_folder
from countersunk.model.files.held_back import held_back
from countersunk.model.files.manifest import MANIFEST, Origin
from countersunk.model.files.whole import put, written_beside


@dataclass
class Changeover:
    """Files and folders that wait beside their places."""

    folders: list[StagedFolder] = field(default_factory=list)
    files: list[tuple[Path, Path]] = field(default_factory=list)

    @property
    def kept(self) -> list[Path]:
        """A person's files that were in the way, under their new names, once the folders are changed over."""
        return [path for folder in self.folders for path in folder.kept]

    def file(self, path: Path, data: bytes) -> Path:
        """Have ``data`` ready for ``path``, which is returned. Raises OSError, InputError."""
        with held_back():
            self.files.append((written_beside(path, data), path))
        return path

    def folder(self, folder: Path, files: Mapping[str, bytes], origin: Origin) -> list[Path]:
        """Have ``files`` ready for ``folder``: the paths that they will have, the manifest's last.

        Raises OSError, and InputError where something that is not a folder is in its place.
        """
        with held_back():
            self.folders.append(staged_folder(folder, files, origin))
        return [folder / name for name in (*files, MANIFEST)]

    def put_all(self) -> None:
        """Put folders and then files in their places. Raises OSError."""
        for staged in self.folders:
            staged.change_over()
        while self.files:
            put(*self.files.pop(0))

    def discard(self) -> None:
        """Delete the files that were not put in place."""
        for staged in self.folders:
            staged.discard()
        for beside, _ in self.files:
            beside.unlink(missing_ok=True)


@contextmanager
def changeover() -> Iterator[Changeover]:
    """Put what is collected in its place at the end of the block; nothing where an error leaves it."""
    change = Changeover()
    try:
        yield change
        with held_back():
            change.put_all()
    finally:
        with held_back():
            change.discard()
