"""The message to the browser: what is to be shown, as one piece of bytes.

A word with the header's length, the header as JSON padded to whole words, then the trees of the scenes and those
pieces that the browser has not got, each padded alike. One piece of bytes, because bytes within a dict would become
a string on the way. The header names every scene and every piece by its digest, so that nothing is read, and
nothing need be sent, twice.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from hashlib import blake2b

from countersunk.viewer.scene.gltf import Gltf
from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.pieces import WORD, Piece, padded, texture


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


def message(
    header: Mapping[str, object],
    scenes: Sequence[Gltf],
    offers: Sequence[Offer] = (),
    known: Collection[str] = (),
) -> bytes:
    """What travels to the browser. ``scenes`` are one, or two to be seen side by side.

    Pieces of the names ``known`` are left out.
    """
    sent = [piece for name, piece in pieces(scenes, offers).items() if name not in known]
    blobs = [*(scene.tree for scene in scenes), *(piece.raw for piece in sent)]
    named = {
        **header,
        "models": [_model(scene) for scene in scenes],
        "offers": [_offer(offer) for offer in offers],
        "pieces": [piece.name for piece in sent],
        "sizes": [len(blob) for blob in blobs],
    }
    text = padded(json.dumps(named, separators=(",", ":")).encode(), b" ")
    return len(text).to_bytes(WORD, "little") + text + b"".join(map(padded, blobs))


def pieces(scenes: Sequence[Gltf], offers: Sequence[Offer] = ()) -> dict[str, Piece]:
    """By its name every piece of which the scenes and the offers are made."""
    looks = (look for offer in offers for choice in offer.choices for look in choice.looks.values())
    textures = (texture(look) for look in looks if look.textured)
    return {piece.name: piece for piece in (*(p for scene in scenes for p in scene.pieces), *textures)}


def _model(scene: Gltf) -> dict[str, object]:
    """``pieces`` are those of its buffers, in their order; the tree tells by mesh and material what each holds."""
    names = [piece.name for piece in scene.pieces]
    return {"name": blake2b(scene.tree + "".join(names).encode(), digest_size=8).hexdigest(), "pieces": names}


def _offer(offer: Offer) -> dict[str, object]:
    choices = [
        {"code": c.code, "name": c.name, "looks": {role: _look(look) for role, look in c.looks.items()}}
        for c in offer.choices
    ]
    return {"role": offer.role, "name": offer.name, "worn": offer.worn, "choices": choices}


def _look(look: Finish) -> dict[str, object]:
    """``texture`` is the name of its piece."""
    return {
        "colour": look.colour,
        "roughness": look.roughness,
        "metallic": look.metallic,
        "texture": texture(look).name if look.textured else None,
        "tile": list(look.tile) if look.textured else [1.0, 1.0],
    }
