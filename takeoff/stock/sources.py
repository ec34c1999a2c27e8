"""Sources: where a figure comes from, beside the figure. Nothing that counts or prices loads without one."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from countersunk.model.document.schema import Strict
from countersunk.model.facts.status import Status

STATUS: dict[Status, str] = {
    "seen": "seen in {}",
    "quoted": "quoted by others from {}",
    "memory": "from memory: {}",
    "practice": "common practice, no source: {}",
}


class Citation(Strict):
    """Which figure (``of``), how far it is borne out, and by what."""

    of: Annotated[str, Field(min_length=1, max_length=60)]
    status: Status
    text: Annotated[str, Field(min_length=1, max_length=200)]

    def __str__(self) -> str:
        return f"{self.of}: {STATUS[self.status].format(self.text)}"


Sources = Annotated[tuple[Citation, ...], Field(min_length=1, max_length=12)]


def cited(sources: tuple[Citation, ...]) -> str:
    """All of them in one line."""
    return "; ".join(map(str, sources))
