"""Card step: one step of the order of work."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Step:
    """What is done, the numbers that it takes, and what can hurt somebody while it is done."""

    title: str
    lines: tuple[str, ...]
    cautions: tuple[str, ...] = ()
