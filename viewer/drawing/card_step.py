"""Card step: one step of the order of work."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class CutWork(StrEnum):
    """What is cut in a step, for what shows the cuts one by one."""

    NONE = ""
    LENGTHS = "lengths"
    JOINS = "joins"
    NOTCHES = "notches"
    CORNERS = "corners"
    CUT_OUTS = "cut-outs"


@dataclass(frozen=True)
class Step:
    """What is done, the numbers that it takes, and what can hurt somebody while it is done."""

    title: str
    lines: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    work: CutWork = CutWork.NONE
