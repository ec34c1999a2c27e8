"""Fields: what single values of a document may be, with the message for those that are not."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.document.keys import PATTERN

Name = Annotated[
    str, Field(pattern=r"^[A-Za-z][A-Za-z0-9]{0,11}$", description="a letter, then up to 11 letters or digits")
]
Key = Annotated[
    str,
    Field(
        pattern=PATTERN,
        description="what lasts: lower-case words or numbers with hyphens between; left out, the program gives one",
    ),
]
Over = Annotated[
    str,
    Field(
        pattern=rf"^[A-Za-z][A-Za-z0-9]{{0,11}}$|{PATTERN}",
        description="the key of a unit; its name or its place, as A4, may be typed and is written as its key",
    ),
]
Code = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9.-]{0,47}$")]
Text = Annotated[str, Field(max_length=400)]
Length = Annotated[float, Field(gt=0, le=20_000)]
Offset = Annotated[float, Field(ge=0, le=20_000)]
Along = Annotated[float, Field(ge=-20_000, le=20_000)]
Leg = Annotated[float, Field(ge=100, le=20_000)]
CornerName = Annotated[
    str,
    Field(
        pattern=r"^[A-Za-z][A-Za-z0-9]*-[A-Za-z][A-Za-z0-9]*$",
        description="the two walls of a corner, left one first, as A-B",
    ),
]
Shift = Annotated[float, Field(ge=-5_000, le=5_000)]
Region = Literal["uk", "us", "au-nz", "eu"]
Format = Annotated[int, Field(ge=1, description="the format of the file; the program writes it")]
LastKey = Annotated[
    int, Field(ge=0, le=999_999_999, description="the number of the key given last; the program writes it")
]
Supply = Literal["made", "bought"]
Shown = Literal["mm", "inch"]
Work = Literal["new", "replacement"]
Supplied = Literal["electric", "gas", "dual"]
Returns = Literal["none", "left", "right", "both"]
Side = Annotated[float, Field(gt=0, le=3_000)]
