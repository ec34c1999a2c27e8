"""Address: a kitchen in the address of the page, so that the address opens the same job again.

A demo is named, ``?demo=corner``; any other kitchen is packed, ``?kitchen=…``: its fields as JSON, which YAML 1.2
contains, deflated (RFC 1951 within RFC 1950) and written in base64 for addresses (RFC 4648, section 5). What
comes out of an address is as untrusted as any file and is read as strictly.
"""

from __future__ import annotations

import base64
import binascii
import re
import zlib
from collections.abc import Mapping
from functools import cache, lru_cache

from countersunk import shared
from countersunk.model.document.schema import Document
from countersunk.model.edit.kitchen_file import KitchenFile, kitchen_file, new_file
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.kitchen import read_kitchen

DEMOS = {path.stem: path for path in sorted(shared.KITCHENS.glob("*.yaml"))}

LONGEST = 6_000
"""Letters of the longest packed kitchen that is put into an address: browsers and mail cut longer ones off."""

UNPACKED = 60_000
"""Bytes of the longest kitchen in an address: what `LONGEST` letters hold of a kitchen is some 40,000."""

LETTERS = re.compile(r"[A-Za-z0-9_-]+")


@cache
def demos() -> Mapping[str, Document]:
    """The demonstrations as their files have them, by name; read and not built, which would take much longer."""
    return {name: read_file(path, Document)[0] for name, path in DEMOS.items()}


@cache
def _demo_names() -> Mapping[Document, str]:
    return {document: name for name, document in demos().items()}


@lru_cache(maxsize=64)
def written(document: Document) -> dict[str, str]:
    """The query of the address that opens ``document`` again; empty for one too large for an address."""
    if name := _demo_names().get(document):
        return {"demo": name}
    text = document.model_dump_json(exclude_unset=True, by_alias=True).encode()
    packed = base64.urlsafe_b64encode(zlib.compress(text, 9)).decode().rstrip("=")
    return {"kitchen": packed} if len(packed) <= LONGEST and len(text) <= UNPACKED else {}


def opened(query: Mapping[str, str]) -> KitchenFile | None:
    """The kitchen that an address names, as a file; None where it names none.

    Raises InputError for an unknown demo, and for a kitchen that cannot be unpacked, read or built.
    """
    if "demo" in query:
        return _demo(query["demo"])
    if "kitchen" in query:
        return new_file(read_kitchen(_unpacked(query["kitchen"]), "address").document)
    return None


def _demo(name: str) -> KitchenFile:
    if name not in DEMOS:
        raise InputError.unknown("demo", name[:40], DEMOS)
    return kitchen_file(DEMOS[name])


def _unpacked(letters: str) -> bytes:
    """The bytes in an address, bounded before and after they are unpacked."""
    if len(letters) > LONGEST or not LETTERS.fullmatch(letters):
        found = f"{len(letters)} letters" if len(letters) > LONGEST else "letters that no address of ours has"
        raise _broken(found)
    unpacker = zlib.decompressobj()
    try:
        raw = unpacker.decompress(base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4)), UNPACKED + 1)
    except (binascii.Error, zlib.error):
        raise _broken("a kitchen that cannot be unpacked") from None
    if not unpacker.eof:
        raise _broken(f"more than {UNPACKED} bytes" if unpacker.unconsumed_tail else "a kitchen that is cut off")
    return raw


def _broken(found: str) -> InputError:
    return InputError.at("kitchen", found=found, allowed="an address as the app wrote it", advice="open its file")
