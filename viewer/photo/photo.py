"""Photo: the photograph of a kitchen as PNG.

Light is followed by a renderer that comes with the extra ``photo``, in a process of its own: what is missing or
breaks there is said, and never ends this one.
"""

from __future__ import annotations

import io
import json
import math
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from countersunk.model.errors import CountersunkError
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.photo import tracer
from countersunk.viewer.photo.setting import Mesh, Setting, setting
from countersunk.viewer.photo.view import ASPECT, HALF_TALL, HALF_WIDE, SHIFT, Viewpoint
from countersunk.viewer.scene.textures import noise, pixels
from countersunk.viewer.stills.cameras import Camera, Picture
from countersunk.viewer.stills.stills import png, prepare_graphics

SIZE = (1_200, 750)
"""Width and height of a photograph, pixels."""
PASSES = 5
"""Samples of each pixel."""
NEEDS = ("mitsuba", "drjit", "pyoidn")
LIBRARIES = ("libLLVM.so.*", "libLLVM-*.so", "libLLVM-*.so.1")
OLDEST = 16
"""Older versions of LLVM end the process (seen with 15)."""
SUNLIGHT = (26.0, 23.5, 19.5)
"""Irradiance of the sun, beside the radiances of `setting`."""

Progress = Callable[[str], object]


@dataclass(frozen=True)
class Photograph:
    """A PNG, and where it is only drawn why no light was followed."""

    png: bytes
    why_drawn: str


class PhotoError(CountersunkError):
    """No photograph can be made here; the message says what is missing."""


def traced(
    shot: Setting, progress: Progress | None = None, size: tuple[int, int] = SIZE, passes: int = PASSES
) -> bytes:
    """The photograph as PNG. ``progress`` is told how far it is and how long it takes still.

    Raises PhotoError where the renderer is not installed, or breaks.
    """
    if missing := lacking():
        raise PhotoError(missing)
    with tempfile.TemporaryDirectory(prefix="countersunk-photo-") as folder:
        _written(shot, Path(folder), size, passes)
        said = ""
        for variant, library in _ways():
            said = _run(Path(folder), variant, library, progress)
            if not said:
                light, albedo = (np.load(Path(folder) / f"{name}.npy") for name in ("light", "albedo"))
                return developed(light, albedo)
        raise PhotoError(f"the photograph was not made: {said}")


def proportioned(width: int) -> tuple[int, int]:
    """The size of a photograph so many pixels wide."""
    return width, round(width / ASPECT)


def photograph(
    kitchen: Kitchen,
    progress: Progress | None = None,
    size: tuple[int, int] = SIZE,
    evening: bool = False,
    dressed: bool = True,
    view: Viewpoint | None = None,
) -> Photograph:
    """The kitchen from its best view, or from ``view``: by the renderer, or drawn as stills are without one.

    Raises StillsError where neither can be done.
    """
    shot = setting(kitchen, view, evening, dressed)
    try:
        return Photograph(traced(shot, progress, size), "")
    except PhotoError as error:
        return Photograph(drawn(shot, size), str(error))


def drawn(shot: Setting, size: tuple[int, int] = SIZE) -> bytes:
    """The same view as stills are drawn, without light that has bounced and without a ceiling, which would be dark.

    Raises StillsError.
    """
    prepare_graphics()
    view = shot.view
    up, angle = np.array([0.0, 0.0, 1.0]), 2 * math.degrees(math.atan(HALF_TALL))
    camera = Camera(view.eye, view.forward, up, angle=angle, shift=SHIFT)
    return png(Picture("photo", camera, tuple(i for i in shot.items if i.kind != "ceiling")), size)


def lacking() -> str:
    """What is not installed that light is followed by, and what to try; nothing where all is there."""
    missing = " and ".join(name for name in NEEDS if find_spec(name) is None)
    return (
        f"light is followed by {missing}, not installed; try: pip install 'countersunk[photo]'" if missing else ""
    )


def _ways() -> list[tuple[str, str]]:
    """How to run the renderer, quickest first: compiled for this machine where there is a library for it."""
    found: dict[int, str] = {}
    for folder in (Path("/usr/lib"), Path("/usr/local/lib"), Path("/opt/homebrew/lib")):
        for path in (p for pattern in LIBRARIES for p in (*folder.glob(pattern), *folder.glob(f"*/{pattern}"))):
            digits = "".join(c if c.isdigit() else " " for c in path.name).split()
            if digits and int(digits[0]) >= OLDEST:
                found.setdefault(int(digits[0]), str(path))
    compiled = [("llvm_ad_rgb", found[max(found)])] if found else []
    return [*compiled, ("scalar_rgb", "")]


def _run(folder: Path, variant: str, library: str, progress: Progress | None) -> str:
    """Nothing where it went well, else what the renderer said last."""
    environment = {**os.environ, **({"DRJIT_LIBLLVM_PATH": library} if library else {})}
    begun = time.monotonic()
    with subprocess.Popen(
        [sys.executable, tracer.__file__, str(folder), variant],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment,
        start_new_session=True,
    ) as process:
        try:
            assert process.stdout is not None
            assert process.stderr is not None
            for line in process.stdout:
                if progress and line.startswith("pass "):
                    done, whole = map(int, line.split()[1:3])
                    left = (time.monotonic() - begun) / done * (whole - done) * 1.05 + 3.0
                    progress(f"following light, {done} of {whole}, about {left:.0f} s left")
            said = process.stderr.read().strip().splitlines()
        except BaseException:
            process.kill()
            raise
    if process.returncode == 0:
        return ""
    return said[-1] if said else f"the renderer ended with {process.returncode}"


def _written(shot: Setting, folder: Path, size: tuple[int, int], passes: int) -> None:
    arrays: dict[str, NDArray[np.generic]] = {"outside": outside()[::-1]}
    for i, mesh in enumerate(shot.meshes):
        arrays |= {
            f"v{i}": mesh.vertices.astype(np.float32),
            f"n{i}": mesh.normals.astype(np.float32),
            f"t{i}": mesh.uv.astype(np.float32),
            f"f{i}": mesh.faces.astype(np.uint32),
        }
        if mesh.finish.textured:
            arrays[f"p{i}"] = pixels(mesh.finish.figure, mesh.finish.colour, mesh.finish.vein)
    np.savez(folder / "setting.npz", **arrays)  # type: ignore[arg-type]
    view = shot.view
    plan = {
        "size": size,
        "passes": passes,
        "camera": {
            "eye": (view.eye / 1_000.0).tolist(),
            "forward": view.forward.tolist(),
            "fov": math.degrees(2 * math.atan(HALF_WIDE)),
            "shift": SHIFT / 2,
        },
        "sun": None if shot.sun is None else shot.sun.tolist(),
        "sunlight": SUNLIGHT,
        "lamps": [
            {
                "middle": lamp.middle.tolist(),
                "across": lamp.across.tolist(),
                "up": lamp.up.tolist(),
                "radiance": lamp.radiance,
                "view": lamp.view,
            }
            for lamp in shot.lamps
        ],
        "looks": [_look(mesh) for mesh in shot.meshes],
    }
    (folder / "setting.json").write_text(json.dumps(plan))


def _look(mesh: Mesh) -> dict[str, object]:
    finish = mesh.finish
    metal = finish.metallic > 0.5
    return {
        "name": finish.name,
        "colour": [float(c) for c in finish.linear[:3]],
        "roughness": max(0.04, finish.roughness * (0.8 if metal else 1.0)),
        "metallic": finish.metallic,
        "specular": 0.5 if finish.roughness < 0.3 else 0.35,
        "brushed": 0.7 if finish.figure == "brushed" else 0.0,
        "matt": finish.roughness > 0.85,
        "glass": finish.opacity < 1.0,
    }


def outside(width: int = 256, height: int = 192) -> NDArray[np.float32]:
    """What is seen through a window, as factors of its light: a pale sky, and greenery out of focus below."""
    rng = np.random.default_rng(7)
    up = np.linspace(1.0, 0.0, height)[:, None, None]
    sky = np.array([0.78, 0.90, 1.0]) * (0.72 + 0.18 * (1 - up)) + 0.10
    clouds = np.clip(0.5 + 0.5 * noise(rng, height, width, 14.0, 40.0), 0, 1)[..., None]
    sky = sky + 0.10 * clouds * (1.0 - sky)
    leaves = 0.5 + 0.22 * noise(rng, height, width, 7.0, 9.0) + 0.1 * noise(rng, height, width, 3.0, 3.0)
    green = np.array([0.20, 0.26, 0.12]) * 0.62 * np.clip(leaves, 0.15, 1.2)[..., None]
    edge = 0.50 + 0.035 * noise(rng, 1, width, 1.0, 16.0)[0] + 0.012 * noise(rng, 1, width, 1.0, 4.0)[0]
    share = np.clip((edge[None, :] - up[..., 0]) / 0.03 + 0.5, 0.0, 1.0)[..., None]
    return np.asarray(sky * (1 - share) + green * share, dtype=np.float32)


def developed(light: NDArray[np.float32], albedo: NDArray[np.float32]) -> bytes:
    """Linear light as PNG: exposed for the room and not for its windows, bright parts rolled off, colours kept."""
    with io.BytesIO() as stream:
        Image.fromarray(toned(light * exposure(light, albedo))).save(stream, "PNG", compress_level=6)
        return stream.getvalue()


LUMINANCE = np.array([0.2126, 0.7152, 0.0722], dtype=np.float32)
"""Of linear sRGB (ITU-R BT.709, from memory)."""
WHITE = 0.74
"""What a white surface in the room's mean light comes to, linear."""
DARKEST = 0.04
"""What is darker than this says little of the light that falls on it."""


def exposure(light: NDArray[np.float32], albedo: NDArray[np.float32]) -> np.float32:
    """By what to multiply light, as by a meter for incident light: dark fronts stay dark and white ones white."""
    colour = albedo @ LUMINANCE
    told = colour > DARKEST
    falling = (light @ LUMINANCE)[told] / colour[told] if told.any() else light @ LUMINANCE
    low, high = np.quantile(falling, [0.1, 0.9])
    usual = falling[(falling >= low) & (falling <= high)]
    return np.float32(WHITE / max(float(usual.mean()), 1e-6))


KNEE = 0.72
"""Below this light is shown as it is; above it rolls off towards white."""


def toned(light: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Linear light as sRGB. The largest channel rolls off and the others with it, so that hues stay; far above
    white they pale.
    """
    peak = np.maximum(light.max(axis=-1, keepdims=True), 1e-6)
    room = 1.0 - KNEE
    rolled = np.where(peak > KNEE, 1.0 - room * room / (peak - KNEE + room), peak)
    scaled = light * (rolled / peak)
    pale = 1.0 - 1.0 / (0.10 * np.maximum(peak - rolled, 0.0) + 1.0)
    scaled = scaled * (1 - pale) + rolled * pale
    srgb = np.where(scaled <= 0.0031308, scaled * 12.92, 1.055 * np.maximum(scaled, 1e-9) ** (1 / 2.4) - 0.055)
    return np.asarray(np.clip(srgb * 255.0 + 0.5, 0, 255), dtype=np.uint8)
