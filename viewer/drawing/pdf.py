"""PDF: sheets bound into one file by typst, text selectable, the typeface embedded; nothing is fetched."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import typst

from countersunk.viewer.drawing.shapes import Sheet
from countersunk.viewer.drawing.svg import svg


def pdf(sheets: Sequence[Sheet], title: str) -> bytes:
    """Every sheet on a page of its own size, in order."""
    files = {f"{i}.svg": svg(sheet) for i, sheet in enumerate(sheets)}
    pages = [_page(sheet, f"{i}.svg") for i, sheet in enumerate(sheets)]
    files["main"] = "\n".join([f"#set document(title: {_quoted(title)}, date: none)", *pages]).encode()
    compile_files: Callable[..., bytes] = typst.compile  # its stub does not know files by name
    return compile_files(files, ignore_system_fonts=True)


def _page(sheet: Sheet, file: str) -> str:
    w, h = sheet.size
    size = f"width: {w:g}mm, height: {h:g}mm"
    return f'#page({size}, margin: 0pt, image("{file}", {size}, alt: {_quoted(sheet.title)}))'


def _quoted(words: str) -> str:
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'
