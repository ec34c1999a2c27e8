"""Clock: counts the steps of a search, and ends it early where somebody set a time."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf
from time import monotonic


@dataclass
class Clock:
    """``seconds`` from now; ``steps`` are counted, never timed, so that a plan is the same on every machine."""

    seconds: float = inf
    steps: int = 0
    started: float = field(default_factory=monotonic)

    def step(self) -> None:
        """One more step."""
        self.steps += 1

    @property
    def left(self) -> float:
        """Seconds left, not below 0."""
        return max(0.0, self.seconds - (monotonic() - self.started))

    @property
    def is_over(self) -> bool:
        """Whether the time is used up."""
        return self.left <= 0.0
