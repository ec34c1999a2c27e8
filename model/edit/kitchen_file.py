"""Kitchen file: the text that a person wrote, and the document that it says. Every file is changed through here.

A change is a new document, however it was made. The text is brought to say it with everything else left as it was
written (`model.files.rewriting`), and is read again: so file and document cannot disagree. With its first change a
file gets the keys of what is in it, and its format.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from countersunk.model.document.schema import Document
from countersunk.model.edit.edits import edited
from countersunk.model.errors import TextError
from countersunk.model.files.rewriting import rewritten
from countersunk.model.files.strict_yaml import decoded, read_bytes, read_text
from countersunk.model.files.writing import whole
from countersunk.model.kitchen import kitchen_path

BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True)
class KitchenFile:
    """A kitchen file as bytes, and the document that it says."""

    raw: bytes
    document: Document

    def saying(self, document: Document) -> KitchenFile:
        """The file once it says ``document``; the same file where it does already."""
        return self if document == self.document else KitchenFile(self.saved(document), document)

    def edited(self, changes: Mapping[str, Any]) -> KitchenFile:
        """The file with fields changed, as `edited` takes them. Raises InputError, KeyError."""
        return self.saying(edited(self.document, changes))

    def saved(self, document: Document) -> bytes:
        """The bytes of the file that says ``document``, with every key written down.

        First come the keys of what is in the file already, by which everything is then known again.
        """
        return said(self.raw, self.document, document)


def said(raw: bytes, *documents: Document) -> bytes:
    """A file changed so that it says one document after the other. Raises InputError, and TextError where the text
    does not come to say the last.
    """
    text = decoded(raw)
    is_dos = "\r\n" in text
    made = text.replace("\r\n", "\n")
    for document in documents:
        made = rewritten(made, document.model_dump(exclude_unset=True))
    found = (BOM if raw.startswith(BOM) else b"") + (made.replace("\n", "\r\n") if is_dos else made).encode()
    if read_text(found, Document, "file")[0] != documents[-1]:
        raise TextError("the file would not say what was decided; save the kitchen under another name")
    return found


def as_yaml(document: Document) -> bytes:
    """The document as a new file: what was given, and not every default."""
    return whole(document.model_dump(exclude_unset=True)).encode()


def new_file(document: Document) -> KitchenFile:
    """A document that is in no file yet, as one."""
    return KitchenFile(as_yaml(document), document)


def kitchen_file(file: Path | str) -> KitchenFile:
    """The file at a path, or of the demo of that name. Raises InputError."""
    path = kitchen_path(file)
    return uploaded(read_bytes(path), path.name)


def uploaded(raw: bytes, name: str) -> KitchenFile:
    """The file of these bytes, called ``name``. Raises InputError."""
    return KitchenFile(raw, read_text(raw, Document, name)[0])
