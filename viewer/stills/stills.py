"""Stills: pictures of a kitchen as PNG files, rendered without a screen and without a graphics card."""

from __future__ import annotations

import ctypes
import io
import os
import sys
from collections.abc import Callable

from PIL import Image

from countersunk.model.errors import CountersunkError
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.stills.cameras import SIZE, Picture, pictures, three_quarter

EGL = "libEGL.so.1"
"""What Linux draws with where there is no screen."""


class StillsError(CountersunkError):
    """Pictures cannot be rendered on this machine."""


def render_stills(
    kitchen: Kitchen, progress: Callable[[str], None] | None = None, size: tuple[int, int] = SIZE
) -> dict[str, bytes]:
    """view.png, plan.png and wall-….png, by name; ``progress`` is told each picture's name.

    ``size`` is the width and height of each, pixels, in the proportion of `SIZE`.

    Raises StillsError where nothing can be drawn off screen.
    """
    prepare_graphics()
    made = {}
    for picture in pictures(kitchen):
        if progress:
            progress(picture.name)
        made[f"{picture.name}.png"] = png(picture, size)
    return made


def view_png(kitchen: Kitchen) -> bytes:
    """The three-quarter view alone. Raises StillsError where nothing can be drawn off screen."""
    prepare_graphics()
    return png(three_quarter(kitchen))


def png(picture: Picture, size: tuple[int, int] = SIZE) -> bytes:
    """One picture as a PNG file."""
    from countersunk.viewer.stills.raster import render

    with io.BytesIO() as stream:
        Image.fromarray(render(picture, size)).save(stream, "PNG", optimize=False, compress_level=6)
        return stream.getvalue()


def prepare_graphics() -> None:
    """Choose the window that needs no screen, and look for its library before it is called and crashes.

    Raises StillsError where it is missing.
    """
    if sys.platform != "linux":
        return
    os.environ.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")
    try:
        ctypes.CDLL(EGL)
    except OSError:
        raise StillsError(
            f"pictures need {EGL}, which is not installed; install Mesa's EGL (Debian and Ubuntu: "
            "libegl1 and libgl1-mesa-dri), or go on without pictures (--no-stills)"
        ) from None
