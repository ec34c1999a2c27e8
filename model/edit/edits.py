"""Edits: a document with some of its fields changed. Fields are named as errors name them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from countersunk.model.document.schema import Document
from countersunk.model.files.strict_yaml import problems_of


def edited(document: Document, changes: Mapping[str, Any]) -> Document:
    """``document`` with each field set, such as ``{"runs[0].units[2].width": 600.0}``.

    A value of None takes the field out, so that its default applies. Raises InputError, KeyError for a field that
    the document does not have.
    """
    data = document.model_dump(exclude_unset=True)
    for field, value in changes.items():
        data = _with(data, _steps(field), value)
    try:
        return Document.model_validate(data)
    except ValidationError as error:
        raise problems_of(error, Document) from None


def _steps(field: str) -> list[int | str]:
    """``runs[0].units`` as its steps."""
    found = re.findall(r"\[(\d+)\]|([^.\[\]]+)", field)
    return [int(index) if index else name for index, name in found]


def _with(data: Any, steps: list[int | str], value: Any) -> Any:
    """A copy of plain data with one place changed."""
    step, rest = steps[0], steps[1:]
    if isinstance(step, int):
        items = list(data)
        items[step] = _with(items[step], rest, value) if rest else value
        return tuple(items)
    changed = dict(data)
    changed[step] = _with(changed.get(step, {}), rest, value) if rest else value
    return {key: item for key, item in changed.items() if item is not None}
