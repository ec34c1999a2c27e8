"""Manifest: which files of a folder were made here, by which command, and what from.

It is how a sheet of another kitchen, or of yesterday's, is known from a person's own file: a file is ours while it
is listed and has the hash that is listed. One that somebody changed since is theirs.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import Any

MANIFEST = "countersunk-manifest.json"

PAPERS = "papers.sha256"
"""The list that earlier versions left beside their papers, as ``sha256sum -c`` reads it."""

MAX_BYTES = 4_000_000
FORMAT = 1


@dataclass(frozen=True)
class Origin:
    """What a command made files from: the kitchen and the prices with their SHA-256, and the program."""

    command: str
    kitchen: str
    kitchen_sha256: str
    prices: str = ""
    prices_sha256: str = ""
    program: str = ""


@dataclass(frozen=True)
class Batch:
    """The files that one command made, by name, with their SHA-256."""

    origin: Origin
    files: Mapping[str, str]


@dataclass(frozen=True)
class Manifest:
    """The last batch of each command. A name stands in one only: in that of the command that wrote it last."""

    batches: tuple[Batch, ...] = ()

    @property
    def files(self) -> dict[str, str]:
        """Every file that is listed, with its SHA-256."""
        return {name: digest for batch in self.batches for name, digest in batch.files.items()}

    def having(self, origin: Origin, files: Mapping[str, str]) -> Manifest:
        """The manifest once ``origin.command`` has made ``files`` in the place of what it made before."""
        others = [b for b in self.batches if b.origin.command != origin.command]
        kept = [replace(b, files={n: d for n, d in b.files.items() if n not in files}) for b in others]
        return Manifest((*(b for b in kept if b.files), Batch(origin, dict(files))))

    def encoded(self) -> bytes:
        """The manifest as the file says it."""
        made = [{**asdict(b.origin), "files": dict(b.files)} for b in self.batches]
        return (json.dumps({"countersunk": FORMAT, "made": made}, indent=1, ensure_ascii=False) + "\n").encode()


def read_manifest(folder: Path) -> Manifest:
    """What a folder's manifest lists; nothing where there is none or it cannot be understood."""
    raw = _read(folder / MANIFEST)
    if raw is not None:
        return _parsed(raw)
    older = _read(folder / PAPERS)
    return Manifest((Batch(Origin("draw", "", ""), _listed(older)),)) if older is not None else Manifest()


def digest(data: bytes) -> str:
    """The SHA-256 of ``data``, in hexadecimal digits."""
    return sha256(data).hexdigest()


def unchanged(path: Path, listed: str) -> bool:
    """Is this a file, no link, with the hash that is listed?"""
    if path.is_symlink() or not path.is_file():
        return False
    with path.open("rb") as stream:
        found = sha256()
        while part := stream.read(1 << 20):
            found.update(part)
    return found.hexdigest() == listed


def is_manifest(path: Path) -> bool:
    """Is this a manifest of ours, of this version or an earlier one?"""
    if path.name == PAPERS:
        return bool(_listed(_read(path) or b""))
    return path.name == MANIFEST and bool(_parsed(_read(path) or b"").batches)


def _read(path: Path) -> bytes | None:
    if path.is_symlink() or not path.is_file() or path.stat().st_size > MAX_BYTES:
        return None
    return path.read_bytes()


def _parsed(raw: bytes) -> Manifest:
    try:
        data = json.loads(raw)
        if data["countersunk"] != FORMAT:
            return Manifest()
        return Manifest(tuple(_batch(made) for made in data["made"]))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Manifest()


def _batch(made: Mapping[str, Any]) -> Batch:
    names = Origin.__dataclass_fields__
    return Batch(Origin(**{n: str(made[n]) for n in names}), _in_the_folder(made["files"].items()))


def _listed(raw: bytes) -> dict[str, str]:
    lines = (line.partition("  ") for line in raw.decode("utf-8", "replace").splitlines())
    return _in_the_folder((name, found) for found, _, name in lines if len(found) == 64)


def _in_the_folder(files: Iterable[tuple[Any, Any]]) -> dict[str, str]:
    """Only files in the folder itself, so that no manifest can point elsewhere."""
    return {n: str(d) for n, d in files if isinstance(n, str) and n not in ("", "..") and Path(n).name == n}
