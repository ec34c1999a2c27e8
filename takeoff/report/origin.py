"""Origin: what the files of a command are made from, for the manifest of their folder."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from pydantic import BaseModel

from countersunk.model.files.manifest import Origin, digest
from countersunk.model.files.strict_yaml import read_bytes
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.stock.prices import price_file


def origin_of(command: str, name: str, document: BaseModel, prices: Path | None = None) -> Origin:
    """What ``command`` makes files from: the kitchen or room called ``name``, and the price book in a file.

    The hash of a document is that of all that it says, so comments and the order of lines do not count. Raises
    InputError where the prices cannot be read.
    """
    kitchen = digest(document.model_dump_json().encode())
    book = digest(read_bytes(prices)) if prices else ""
    return Origin(command, name, kitchen, prices.name if prices else "", book, program())


def kitchen_origin(command: str, kitchen: Kitchen, prices: Path | None = None) -> Origin:
    """The same of a kitchen, with the prices of its catalogue where no others were given."""
    document = kitchen.document
    return origin_of(command, document.kitchen, document, prices or price_file(kitchen.catalogue))


def program() -> str:
    """The version of this program, nothing where it is not installed."""
    try:
        return version("countersunk")
    except PackageNotFoundError:  # a checkout that is not installed
        return ""
