"""Textures: figures of wood, stone, lacquer, steel and floor tiles, computed from two colours; they repeat without
a seam.

Noise is made in the frequency domain, where whatever is made is periodic. The same colours always give the
same picture.
"""

from __future__ import annotations

import io
from functools import lru_cache
from zlib import crc32

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Grey = NDArray[np.float64]

TILE_SIZE = {
    "wood": (1800.0, 600.0),
    "stone": (720.0, 720.0),
    "floor": (2400.0, 2400.0),
    "lacquer": (160.0, 160.0),
    "brushed": (1600.0, 800.0),
    "planks": (2400.0, 1200.0),
    "tiles": (2400.0, 2400.0),
}
"""How much a texture covers before it repeats: along u and v, mm."""

PIXELS = {
    "wood": (1024, 512),
    "stone": (512, 512),
    "floor": (1024, 1024),
    "lacquer": (8, 8),
    "brushed": (1024, 512),
    "planks": (1024, 512),
    "tiles": (1024, 1024),
}
"""Width and height; powers of two, so that every viewer can scale them."""
FLOOR_TILES, JOINT = 4, 2
"""Tiles along either side of the floor's texture, and how wide their joint is, pixels."""
QUALITY = 82
"""JPEG quality: fine grain stays, and a texture takes less than 200 kB."""


@lru_cache(maxsize=64)
def jpeg(figure: str, colour: str, vein: str) -> bytes:
    """The texture of a figure (a name in `FIGURES`) as JPEG; colours are sRGB such as "#c9ab7f"."""
    image = Image.fromarray(pixels(figure, colour, vein), "RGB")
    with io.BytesIO() as stream:
        image.save(stream, "JPEG", quality=QUALITY)
        return stream.getvalue()


@lru_cache(maxsize=64)
def pixels(figure: str, colour: str, vein: str) -> NDArray[np.uint8]:
    """The same as (height, width, 3) array; row 0 is v = 0."""
    rng = np.random.default_rng(crc32(f"{figure}{colour}{vein}".encode()))
    width, height = PIXELS[figure]
    share, light = FIGURES[figure](rng, height, width)
    base, other = rgb(colour), rgb(vein)
    mixed = base + (other - base) * share[..., None]
    return np.clip(mixed * light[..., None] * 255.0, 0.0, 255.0).astype(np.uint8)


def rgb(colour: str) -> NDArray[np.float64]:
    """sRGB "#rrggbb" as three numbers from 0 to 1."""
    return np.array([int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)])


def noise(rng: np.random.Generator, height: int, width: int, tall: float, wide: float) -> Grey:
    """Periodic noise, mean 0 and deviation 1, whose blobs are about ``tall`` by ``wide`` pixels."""
    spectrum = np.fft.rfft2(rng.standard_normal((height, width)))
    down, along = np.fft.fftfreq(height)[:, None], np.fft.rfftfreq(width)[None, :]
    spectrum *= np.exp(-2.0 * np.pi**2 * ((down * tall) ** 2 + (along * wide) ** 2))
    field = np.fft.irfft2(spectrum, (height, width))
    field -= field.mean()
    return np.asarray(field / field.std())


def _wood(rng: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """Growth rings that wander a little, fibres, and fine pores; all run along u."""
    rows = np.arange(height)[:, None] / height
    wander = noise(rng, height, width, 40.0, 150.0)
    rings = 0.5 + 0.5 * np.sin(2 * np.pi * (9 * rows + 0.55 * wander))
    bands = noise(rng, height, width, 9.0, 220.0)
    fibres = noise(rng, height, width, 0.8, 45.0)
    pores = noise(rng, height, width, 0.5, 7.0) > 2.1
    share = 0.40 + 0.22 * (rings - 0.5) + 0.13 * bands + 0.12 * fibres + 0.35 * pores
    return np.clip(share, 0.0, 1.15), 1.0 + 0.012 * noise(rng, height, width, 60.0, 90.0)


def _stone(rng: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """Soft clouds with sparse flecks of the vein's colour."""
    clouds = 0.6 * noise(rng, height, width, 28.0, 28.0) + 0.4 * noise(rng, height, width, 7.0, 7.0)
    flecks = np.clip(noise(rng, height, width, 2.2, 2.2) - 1.35, 0.0, 0.35) / 0.35
    small = np.clip(noise(rng, height, width, 1.0, 1.0) - 1.7, 0.0, 0.4) / 0.4
    share = 0.16 + 0.07 * clouds + 0.75 * flecks + 0.5 * small
    return np.clip(share, 0.0, 1.0), 1.0 + 0.02 * noise(rng, height, width, 1.0, 1.0)


def _floor(rng: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """Four by four tiles with a narrow joint, each cut from another place of one fine-grained stone."""
    y, x = height // FLOOR_TILES, width // FLOOR_TILES
    shade = np.kron(rng.uniform(-0.014, 0.014, (FLOOR_TILES, FLOOR_TILES)), np.ones((y, x)))
    stone = 0.5 * noise(rng, height, width, 1.2, 1.2) + 0.35 * noise(rng, height, width, 5.0, 9.0)
    places = rng.integers(height, size=(FLOOR_TILES, FLOOR_TILES, 2))
    stone = np.block([[np.roll(stone, place, (0, 1))[:y, :x] for place in row] for row in places])
    joint = (np.arange(height) % y < JOINT)[:, None] | (np.arange(width) % x < JOINT)
    share = np.where(joint, 1.0, np.clip(0.05 * stone + 0.12, 0.0, 1.0))
    return share, np.asarray(1.0 + shade, dtype=np.float64)


PLANKS = 8
"""Planks side by side over the texture's width."""


def _planks(rng: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """Boards along u with a narrow joint, each from another place of one piece of wood and in its own shade."""
    share, light = _wood(rng, height, width)
    deep = height // PLANKS
    rows, columns = np.indices((height, width))
    plank = rows // deep
    place, shade, end = (
        rng.integers(height, size=PLANKS),
        rng.uniform(0.93, 1.04, PLANKS),
        rng.integers(width, size=PLANKS),
    )
    along = (columns + 37 * place[plank]) % width
    share, light = share[(rows % deep + place[plank]) % height, along], light * shade[plank]
    joint = (rows % deep < 1) | (columns == end[plank])
    return np.where(joint, 1.25, share), light


def _brushed(rng: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """Steel: fine strokes along u, and broad ones that a sheet shows where it is not quite flat."""
    strokes = 0.012 * noise(rng, height, width, 0.6, 90.0) + 0.006 * noise(rng, height, width, 2.0, 160.0)
    return np.zeros((height, width)), 1.0 + strokes + 0.02 * noise(rng, height, width, 70.0, 110.0)


def _lacquer(_: np.random.Generator, height: int, width: int) -> tuple[Grey, Grey]:
    """One colour all over, as a texture, so that any decor can take another's place."""
    return np.zeros((height, width)), np.ones((height, width))


FIGURES = {
    "wood": _wood,
    "stone": _stone,
    "floor": _floor,
    "lacquer": _lacquer,
    "brushed": _brushed,
    "planks": _planks,
    "tiles": _floor,
}
"""Each gives the share of the second colour and a factor of brightness, pixel by pixel."""
