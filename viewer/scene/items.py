"""Item: one thing to draw, with everything that is said about it; the scene, the stills and the app read these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.surface import Floats, Surface


@dataclass(frozen=True, eq=False)
class Item:
    """A surface in its place. ``placing`` is a (4, 4) turn and move into the room frame, mm.

    ``more`` is what goes into the node's extras besides part, kind, layer and label.
    """

    id: str
    kind: str
    layer: str
    label: str
    surface: Surface
    placing: Floats
    finish: Finish
    more: Mapping[str, object] = field(default_factory=dict)

    @property
    def extras(self) -> dict[str, object]:
        """What a reader of the file learns about the node."""
        return {"part": self.id, "kind": self.kind, "layer": self.layer, "label": self.label, **self.more}

    @property
    def points(self) -> Floats:
        """The surface's vertices in the room, mm."""
        return self.surface.vertices @ self.placing[:3, :3].T + self.placing[:3, 3]

    @property
    def normals(self) -> Floats:
        """The surface's normals in the room."""
        return self.surface.normals @ self.placing[:3, :3].T
