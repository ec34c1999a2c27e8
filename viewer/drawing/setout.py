"""Set-out: the frame in which a length is measured, and the one corner that all its numbers start from.

The *datum* is a corner of the blank: on its factory front edge, at the end of the length that is cut square (an end
in a join or on a wall only where there is no other). x runs from it along the front edge, y from the front edge to
the back. Seen from above that end lies where it lies in the kitchen; the *underside* shows the top turned over end
for end, front edge still nearest to the reader, left and right swapped. Both have the same numbers.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal, TypeVar

from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from countersunk.model.tops.joins import Join
from countersunk.model.tops.rows import End
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.shapes import Point

Shape = TypeVar("Shape", bound=BaseGeometry)
Hand = Literal["left", "right"]

SQUARENESS = {"free": 0, "tall": 0, "wall": 1, "join": 2}
"""Which end the datum is at: the smaller number first, the left one where both are the same."""


class Face(StrEnum):
    """The face that one looks at."""

    TOP = "top"
    UNDERSIDE = "underside"


@dataclass(frozen=True)
class Setout:
    """From the part frame of a length to what is seen of a face: x to the right, y up, from the datum, mm."""

    length: Length
    face: Face

    @property
    def datum_side(self) -> Hand:
        """The end of the length, seen from above, at which the datum lies."""
        left, right = (SQUARENESS[end.kind] for end in (self.length.left, self.length.right))
        return "left" if left <= right else "right"

    @property
    def on_paper(self) -> Hand:
        """The side of the sheet on which the datum lies."""
        other: Hand = "right" if self.datum_side == "left" else "left"
        return self.datum_side if self.face is Face.TOP else other

    @property
    def datum(self) -> Point:
        """The datum in the part frame."""
        x0, _, x1, _ = self.length.part.outline.bounds
        return (x0 if self.datum_side == "left" else x1, self.length.run.stock.depth)

    @property
    def _across(self) -> float:
        return 1.0 if self.face is Face.TOP else -1.0

    def see(self, point: Point) -> Point:
        """A point of the part frame as it is seen."""
        x, y = self.datum
        return (self._across * (point[0] - x), y - point[1])

    def see_shape(self, shape: Shape) -> Shape:
        """A shape of the part frame as it is seen."""
        x, y = self.datum
        return affine_transform(shape, [self._across, 0.0, 0.0, -1.0, -self._across * x, y])


def hand_of(length: Length, join: Join) -> Hand | Literal["front"]:
    """At which end of the length the join lies, or on its front, seen from above with the front nearest to one."""
    at_end: dict[Hand, End] = {"left": length.left, "right": length.right}
    places: dict[str, Hand] = {end.joint.place: hand for hand, end in at_end.items() if end.joint is not None}
    return places.get(join.place, "front")


def place_of(length: Length, join: Join) -> str:
    """The same in words: ``left hand``, ``right hand``, ``on its front``."""
    hand = hand_of(length, join)
    return "on its front" if hand == "front" else f"{hand} hand"


def sex_of(length: Length, join: Join) -> Literal["female", "male"]:
    """Which half of the join the length has."""
    return "female" if join.female == length.id else "male"
