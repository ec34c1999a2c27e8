"""Family: a kind of unit as a row of data; what it is made of is the code that its construction names."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from countersunk.model.catalogue.method import Bay, Ready
from countersunk.model.document.schema import Code, Strict, Supply
from countersunk.model.kept import kept
from countersunk.model.kinds.appliances import Appliance, Fuel, appliance_of
from countersunk.model.kinds.constructions import CONSTRUCTIONS, Construction
from countersunk.model.ties import rounded_up

Size = Annotated[float, Field(gt=0, le=10_000)]
Label = Annotated[str, Field(min_length=1, max_length=80)]


def _known(code: str) -> str:
    if code not in CONSTRUCTIONS:
        raise ValueError("no construction")
    return code


def _listed(schema: dict[str, Any]) -> None:
    schema["enum"] = list(CONSTRUCTIONS)


ConstructionCode = Annotated[Code, AfterValidator(_known), Field(json_schema_extra=_listed)]
"""One of the rows of `model.kinds.constructions`."""


class FloatingShelf(Strict):
    """A shelf that hangs on brackets hidden in it: the ``article`` by which it is bought to measure, and its
    ``density`` (kg/m³), hollow or not.

    Brackets of the article ``bracket`` are at most ``every`` mm apart, the outermost ``from_end`` mm from its ends.
    Each carries so many kg, ``solid`` in a wall of masonry or concrete, ``stud`` in one of studs.
    Every default is common practice, no source; the bracket's own sheet comes first.
    """

    article: Code = "shelf.40"
    density: Annotated[float, Field(gt=0, le=8_000)] = 350.0
    bracket: Code = "bracket.shelf"
    every: Size = 400.0
    from_end: Annotated[float, Field(ge=0, le=1_000)] = 100.0
    solid: Annotated[float, Field(gt=0, le=500)] = 15.0
    stud: Annotated[float, Field(gt=0, le=500)] = 6.0

    def places(self, width: float) -> tuple[float, ...]:
        """Where its brackets are in a shelf that is ``width`` mm wide, from its left end; two at least."""
        start, end = min(self.from_end, width / 4), width - min(self.from_end, width / 4)
        gaps = max(1, rounded_up((end - start) / self.every))
        return tuple(start + (end - start) * i / gaps for i in range(gaps + 1))


class LiftingFrame(Strict):
    """A frame that moves a top up and down: its ``article``, from where to where it brings the top's underside (mm
    above the floor), and how many kg it ``carries`` with the top. Common practice, no source: its own sheet comes
    first.
    """

    article: Code = "frame.lift"
    low: Size = 650.0
    high: Size = 950.0
    carries: Annotated[float, Field(gt=0, le=1_000)] = 100.0


class Family(Strict):
    """A family of units. ``construction`` names the code that makes its boards; the rest are its parameters.

    ``height`` is that of the carcass, above ``legs`` (floor) or ``bottom`` (upper); ``depth`` that of the carcass
    without its front. ``bays`` are its openings from the top; ``doors`` and ``shelves``, or ``drawers`` (front
    heights from the top) say the same of a plain carcass. ``niche`` is the height for a built-under oven. One of
    ``any_width`` is as wide as is typed; its ``width_range`` is what is planned. ``wings`` is how far a corner unit
    may go along the other wall; ``chamfer`` is cut off an open end's corner; ``airflow`` is what a hood, or the one
    that it holds, moves at most by its sheet, m³/h. ``posts`` says that a knee space has them in place of a panel;
    ``form`` is what an appliance looks like where its code does not say it; ``method`` names how the unit is made.
    ``supply`` says whether it is made or bought wherever it stands, ``front_supply`` the same of its fronts;
    ``ready`` how it comes where it is bought. ``on_tall`` says that it stands on tall units,
    flush with their fronts, ``on_top`` that it stands on a worktop, and is fixed to the
    wall; ``floats`` how a floating shelf hangs, ``lifts`` how far a frame moves its top, which is drawn at the
    height of the unit.
    """

    code: Code
    name: Label
    construction: ConstructionCode
    level: Literal["floor", "upper"]
    height: Size
    depth: Size
    legs: Annotated[float, Field(ge=0, le=300)] = 0.0
    bottom: Annotated[float, Field(ge=0, le=3_000)] = 0.0
    widths: tuple[Size, ...] = ()
    width_range: tuple[Size, Size] | None = None
    any_width: bool = False
    carries_top: bool = False
    shelves: Annotated[int, Field(ge=0, le=12)] = 0
    rails: Literal["flat", "edge", "none"] = "none"
    doors: bool = False
    door_width: Size | None = None
    drawers: tuple[Size, ...] = ()
    bays: tuple[Bay, ...] = ()
    niche: Size | None = None
    wings: tuple[Size, ...] = ()
    chamfer: Annotated[float, Field(ge=0, le=500)] = 0.0
    posts: bool = False
    appliance: Code | None = None
    front: bool = False
    airflow: Annotated[float, Field(gt=0, le=5_000)] | None = None
    form: Code | None = None
    method: Code = "standard"
    supply: Supply | None = None
    front_supply: Supply | None = None
    ready: Ready = Ready()
    on_top: bool = False
    on_tall: bool = False
    floats: FloatingShelf = FloatingShelf()
    lifts: LiftingFrame = LiftingFrame()

    @property
    def base(self) -> float:
        """Height of the carcass's underside above the floor, mm."""
        return self.legs if self.level == "floor" else self.bottom

    @property
    def top(self) -> float:
        """Height of the carcass's top above the floor, mm."""
        return self.base + self.height

    @property
    def openings(self) -> tuple[Bay, ...]:
        """Its bays from the top, also where they are said in short."""
        if self.drawers:
            return tuple(Bay(holds="drawer", height=height) for height in self.drawers)
        return self.bays or (Bay(holds="doors" if self.doors else "open", shelves=self.shelves),)

    @property
    def kind(self) -> Construction:
        """What its construction answers."""
        return CONSTRUCTIONS[self.construction]

    def comes_ready(self, supply: Supply) -> Ready | None:
        """How its carcass comes where it is bought, in a row of that supply; None where it is made of boards."""
        return self.ready if self.kind.is_unit and (self.supply or supply) == "bought" else None

    @property
    def own(self) -> Appliance | None:
        """The appliance that it is itself, or is made round."""
        return appliance_of(self.appliance) if self.appliance else None

    @property
    def appliances(self) -> tuple[Appliance, ...]:
        """The appliances that it is or holds, those that it names: what is bought with it."""
        return _appliances((self.appliance, *(bay.appliance for bay in self.bays)))

    @property
    def carries_front(self) -> Appliance | None:
        """The appliance that takes the front before it along when it opens; other fronts hang on the carcass."""
        own = self.own
        return own if own and own.comes_straight else None

    def appliance_at(self, bay: int) -> Appliance | None:
        """The appliance seen in a bay, counted from the top; at 0 in the only bay, or where it has none."""
        held = self.bays[max(bay, 1) - 1].appliance if self.bays else None
        code = held or self.appliance
        return appliance_of(code) if code else None

    def holds(self, kind: str) -> bool:
        """Whether it is or holds an appliance of a kind."""
        return any(appliance.is_a(kind) for appliance in self.appliances)

    @property
    def cooks_with(self) -> Fuel | None:
        """The fuel of the hob that it has on top."""
        return next((fuel for appliance in self.appliances if (fuel := appliance.cooks_with)), None)

    @property
    def is_bare(self) -> bool:
        """Whether it is an appliance that stands without a front of the kitchen."""
        return self.kind.is_bought and not self.front


@kept(500)
def _appliances(codes: tuple[str | None, ...]) -> tuple[Appliance, ...]:
    return tuple(appliance_of(code) for code in codes if code)
