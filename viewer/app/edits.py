"""Edits: a document back to a kitchen file."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML

from countersunk.model.document.schema import Document


def as_yaml(document: Document) -> bytes:
    """The document as a kitchen file, only what was given and not every default."""
    yaml = YAML()
    yaml.width = 110
    stream = io.BytesIO()
    yaml.dump(_lists(document.model_dump(exclude_unset=True)), stream)
    return stream.getvalue()


def _lists(data: Any) -> Any:
    """YAML has lists and no tuples."""
    if isinstance(data, dict):
        return {key: _lists(item) for key, item in data.items()}
    return [_lists(item) for item in data] if isinstance(data, tuple) else data
