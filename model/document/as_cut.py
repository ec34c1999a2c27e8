"""As cut: what the tape said at the saw, before each cut."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from countersunk.model.files.strict import Strict

Cut = Annotated[
    str,
    Field(
        pattern=r"^[a-z0-9][a-z0-9:+.-]{0,119}$",
        description="as the page for the saw names it: lower-case words, numbers and keys",
    ),
]
Read = Annotated[float, Field(ge=0, le=20_000)]
Time = Annotated[
    str,
    Field(
        pattern=r"^20\d\d-[01]\d-[0-3]\dT[0-2]\d:[0-5]\d:[0-5]\dZ$",
        description="day and time of the phone, in UTC, as 2026-01-31T08:05:00Z",
    ),
]


class AsCut(Strict):
    """One reading before a cut, mm from the datum of the length: what the drawing ``said`` and what was measured.

    ``piece`` is the key of the length, ``step`` the cut and the distance within it. Nothing is built from it.
    """

    piece: Cut
    step: Cut
    said: Read
    measured: Read
    time: Time
