"""Light: lights under wall units, as rows of a catalogue's units.yaml."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from countersunk.model.document.schema import Code, Strict

Watts = Annotated[float, Field(gt=0, le=1_000)]
Small = Annotated[float, Field(gt=0, le=100)]


class Light(Strict):
    """A strip of LEDs in a profile with its diffuser, under the front of wall units.

    ``profile`` and ``strip`` are the articles, by the metre; ``watts`` what a metre takes; ``width`` and ``height``
    those of the profile, mm. ``drivers`` are sold for so many watts each, by the article ``driver.WATTS``, and one
    feeds all lights of a row. It keeps ``spare``, a share of what it is fed to, since one run at its limit is hot
    and soon worn (common practice, no source).
    """

    code: Code
    name: Annotated[str, Field(min_length=1, max_length=80)]
    profile: Code
    strip: Code
    watts: Watts
    width: Small
    height: Small
    drivers: Annotated[tuple[Watts, ...], Field(min_length=1, max_length=12)]
    spare: Annotated[float, Field(ge=0, le=1)] = 0.2

    def driver(self, watts: float) -> float | None:
        """The least driver that feeds ``watts`` with its spare, W; None where none does."""
        return min((size for size in self.drivers if size * (1 - self.spare) >= watts - 1e-9), default=None)
