"""The message to the browser: what is to be shown, as one piece of bytes.

A word with the header's length, the header as JSON padded to whole words, then the glTF files and the textures,
each padded alike. One piece, because bytes within a dict would become a string on the way to the browser. The
header names every glTF by its digest, so that the browser reads nothing twice.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b

from viewer.materials import Finish
from viewer.textures import jpeg

WORD = 4
"""The browser reads the length as one little-endian word, and glTF starts on a multiple of 4."""


@dataclass(frozen=True)
class Choice:
    """A decor on offer: how each role that it dresses would look."""

    code: str
    name: str
    looks: Mapping[str, Finish]


@dataclass(frozen=True)
class Offer:
    """Decors among which one is worn: ``name`` is what they dress, in plain words."""

    role: str
    name: str
    worn: str
    choices: tuple[Choice, ...]


def message(header: Mapping[str, object], models: Sequence[bytes], offers: Sequence[Offer] = ()) -> bytes:
    """What travels to the browser. ``models`` are one glTF, or two to be seen side by side."""
    textures = _textures(offers)
    blobs = [*models, *textures.values()]
    named = {
        **header,
        "models": [_name(model) for model in models],
        "offers": [_offer(offer, list(textures)) for offer in offers],
        "sizes": [len(blob) for blob in blobs],
    }
    text = _padded(json.dumps(named, separators=(",", ":")).encode(), b" ")
    return len(text).to_bytes(WORD, "little") + text + b"".join(_padded(blob, b"\0") for blob in blobs)


def _name(blob: bytes) -> str:
    return blake2b(blob, digest_size=8).hexdigest()


def _padded(raw: bytes, filler: bytes) -> bytes:
    return raw + filler * (-len(raw) % WORD)


def _textures(offers: Sequence[Offer]) -> dict[Finish, bytes]:
    """The texture of every look on offer, each once."""
    looks = (look for offer in offers for choice in offer.choices for look in choice.looks.values())
    return {look: jpeg(look.figure, look.colour, look.vein) for look in looks if look.textured}


def _offer(offer: Offer, textures: Sequence[Finish]) -> dict[str, object]:
    choices = [
        {"code": c.code, "name": c.name, "looks": {role: _look(look, textures) for role, look in c.looks.items()}}
        for c in offer.choices
    ]
    return {"role": offer.role, "name": offer.name, "worn": offer.worn, "choices": choices}


def _look(look: Finish, textures: Sequence[Finish]) -> dict[str, object]:
    """``texture`` is the texture's place among those of the message."""
    return {
        "colour": look.colour,
        "roughness": look.roughness,
        "metallic": look.metallic,
        "texture": textures.index(look) if look in textures else None,
        "tile": list(look.tile) if look.textured else [1.0, 1.0],
    }
