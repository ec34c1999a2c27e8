"""Typeset: data and a sheet made into a PDF by typst, with the fonts that it carries; nothing is fetched."""

from __future__ import annotations

import io
import json
from base64 import b64encode
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import typst
from PIL import Image

SHEETS = Path(__file__).with_name("sheets")
QUALITY = 90


def typeset(sheet: str, data: Mapping[str, Any], pictures: Mapping[str, bytes] | None = None) -> bytes:
    """The PDF of ``sheets/<sheet>.typ``, which reads ``data`` as data.json and PNG ``pictures`` by name as SVG."""
    files = {
        "main": (SHEETS / f"{sheet}.typ").read_bytes(),
        "look.typ": (SHEETS / "look.typ").read_bytes(),
        "data.json": json.dumps(data, ensure_ascii=False).encode(),
        **{f"{name}.svg": _wrapped(png) for name, png in (pictures or {}).items()},
    }
    compile_files: Callable[..., bytes] = typst.compile  # its stub does not know files by name
    return compile_files(files, ignore_system_fonts=True)


def _wrapped(png: bytes) -> bytes:
    """The picture as JPEG within an SVG: files that are handed over by name must be text."""
    image = Image.open(io.BytesIO(png)).convert("RGB")
    width, height = image.size
    with io.BytesIO() as stream:
        image.save(stream, "JPEG", quality=QUALITY)
        inside = b64encode(stream.getvalue()).decode()
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'viewBox="0 0 {width} {height}" width="{width}" height="{height}">'
        f'<image width="{width}" height="{height}" xlink:href="data:image/jpeg;base64,{inside}"/></svg>'
    ).encode()
