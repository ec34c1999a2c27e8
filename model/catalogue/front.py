"""Front: the styles of fronts and the handles that a catalogue offers, as rows of its file fronts.yaml."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from countersunk.model.document.schema import Code, Strict

Measure = Annotated[float, Field(gt=0, le=600)]
Small = Annotated[float, Field(ge=0, le=200)]
Name = Annotated[str, Field(min_length=1, max_length=80)]


class Recess(Strict):
    """A frame of stiles and rails round a panel that lies ``depth`` behind its face, mm.

    A front too low for two rails and a panel has ``slim`` rails; one too low even for these is plain.
    """

    frame: Measure
    slim: Measure
    depth: Annotated[float, Field(gt=0, le=15)]


class Grooves(Strict):
    """Upright grooves, mm: about ``every`` so far apart, evenly over the front, none at its edges."""

    every: Measure
    width: Annotated[float, Field(gt=0, le=20)]
    depth: Annotated[float, Field(gt=0, le=15)]


class FaceFrame(Strict):
    """A frame of ``stile`` and ``rail`` before the carcass, in which fronts stand with a ``gap`` all round, mm.

    Two neighbours of a row each have their own.
    """

    stile: Measure
    rail: Measure
    gap: Annotated[float, Field(ge=0, le=10)]


class FrontStyle(Strict):
    """How fronts are made. Left out, what follows is not there: a slab sawn from the front board.

    ``article`` is that by which fronts are bought to measure, by their area, with ``recess`` and ``grooves`` or
    plain; without it they are made of the front board. ``glazed`` has panes in the doors. ``face_frame`` is that
    in which fronts are set; appliances and corner units have none, their fronts lie before the carcass. Doors that
    are set in it hang on the article ``hinge``. ``density`` is that of fronts that are bought, kg/m³.
    """

    code: Code = "slab"
    name: Name = "slab"
    recess: Recess | None = None
    grooves: Grooves | None = None
    glazed: bool = False
    face_frame: FaceFrame | None = None
    article: Code | None = None
    hinge: Code = "hinge"
    density: Annotated[float, Field(gt=0, le=8_000)] = 700.0


class Channel(Strict):
    """A profile let into the sides behind the upper edge of a front that is so much lower, mm.

    Fingers reach in through the ``gap`` over the front; the profile goes down ``lip`` behind it, and ``depth`` in.
    """

    gap: Annotated[float, Field(gt=10, le=60)]
    lip: Annotated[float, Field(gt=5, le=60)]
    depth: Annotated[float, Field(gt=10, le=60)]


class Handle(Strict):
    """A handle with its place on a front, mm.

    ``length`` is along its bar, ``projects`` how far it stands out; ``centres`` is the distance of its two screws,
    0 for one, nothing for a handle that takes no hole. Its middle is ``from_edge`` off the edge of a door that
    opens, ``from_end`` off its upper or lower end, and ``drop`` below the upper edge of a drawer; high doors
    have it no higher than is reached. ``screws`` of 3.5 x 16 are what it takes besides those in its own pack.
    A ``channel`` is the grip of what stands under a worktop; all else has the handle ``elsewhere``, as the fronts
    of corner units have, and tall and wall units; ``caps`` close its free ends. What opens by a push has the
    ``kind`` push.
    """

    code: Code = "bar"
    name: Name = "bar handle 160"
    kind: Literal["bar", "knob", "cup", "edge", "channel", "push", "none"] = "bar"
    article: Code | None = "handle.bar"
    length: Annotated[float, Field(gt=0, le=1_200)] = 160.0
    projects: Annotated[float, Field(gt=0, le=80)] = 28.0
    centres: Annotated[float, Field(ge=0, le=1_200)] | None = 128.0
    from_edge: Small = 40.0
    from_end: Small = 140.0
    drop: Small = 45.0
    screws: Annotated[int, Field(ge=0, le=8)] = 0
    channel: Channel | None = None
    elsewhere: Code | None = None
    caps: Code | None = None

    @model_validator(mode="after")
    def _whole(self) -> Handle:
        if (self.kind == "channel") != (self.channel is not None) or (self.channel and not self.elsewhere):
            raise ValueError(
                "a channel gives its sizes and the handle that is used elsewhere, and nothing else does"
            )
        if self.kind == "bar" and self.from_end < self.length / 2:
            raise ValueError(
                f"a bar {self.length:g} long needs from_end: {self.length / 2:g} or more, to end on its door"
            )
        return self


SLAB, BAR = FrontStyle(), Handle()
"""What fronts are unless something else is chosen."""
