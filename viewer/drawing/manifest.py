"""Manifest: the files that an earlier run wrote into a folder, so that no stale sheet is cut from.

One line for each file, its SHA-256 and its name, as ``sha256sum -c`` reads them. A file that somebody changed
since, or that is not listed, is somebody's own and stays.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from pathlib import Path

from countersunk.model.files.whole import write_whole

MANIFEST = "papers.sha256"


def clear(folder: Path, but: Iterable[str] = ()) -> list[Path]:
    """Remove what an earlier run wrote and nobody changed, but for these names. Returns what was removed."""
    kept = set(but)
    stale = [folder / name for digest, name in _listed(folder) if name not in kept and _is(folder / name, digest)]
    for path in stale:
        path.unlink()
    return stale


def record(folder: Path, written: Iterable[Path]) -> Path:
    """List what this run wrote."""
    lines = [f"{_digest(path)}  {path.name}\n" for path in written]
    write_whole(folder / MANIFEST, "".join(lines).encode())
    return folder / MANIFEST


def _listed(folder: Path) -> Iterator[tuple[str, str]]:
    """Digest and name of each file that the manifest lists; only of files in the folder itself."""
    path = folder / MANIFEST
    if not path.is_file():
        return
    for line in path.read_text("utf-8", "replace").splitlines():
        digest, _, name = line.partition("  ")
        if name and Path(name).name == name:
            yield digest, name


def _is(path: Path, digest: str) -> bool:
    return path.is_file() and not path.is_symlink() and _digest(path) == digest


def _digest(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()
