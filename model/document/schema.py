"""Document: what a person typed or measured, as a strict schema.

Everything is in millimetres and degrees. Names are those that the trade uses; a value that is not given
takes the default that stands here. Reading a file, with lines and advice, is `model.files.strict_yaml`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from countersunk.model.document.accepted import Accepted
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.as_cut import AsCut
from countersunk.model.document.duct import Duct as Duct
from countersunk.model.document.fields import Along, CornerName, Key, Length, Name, Offset, Over, Shift, Side
from countersunk.model.document.fields import Code as Code
from countersunk.model.document.fields import Format as Format
from countersunk.model.document.fields import LastKey as LastKey
from countersunk.model.document.fields import Region as Region
from countersunk.model.document.fields import Returns as Returns
from countersunk.model.document.fields import Shown as Shown
from countersunk.model.document.fields import Supplied as Supplied
from countersunk.model.document.fields import Supply as Supply
from countersunk.model.document.fields import Text as Text
from countersunk.model.document.fields import Work as Work
from countersunk.model.document.fitted import AsFitted as AsFitted
from countersunk.model.document.keys import FORMAT, with_keys
from countersunk.model.document.room import Across as Across
from countersunk.model.document.room import Bow as Bow
from countersunk.model.document.room import BreastOpening as BreastOpening
from countersunk.model.document.room import CeilingHeight as CeilingHeight
from countersunk.model.document.room import Dormer as Dormer
from countersunk.model.document.room import Obstacle as Obstacle
from countersunk.model.document.room import Opening as Opening
from countersunk.model.document.room import RoofWindow as RoofWindow
from countersunk.model.document.room import Room as Room
from countersunk.model.document.room import Slope as Slope
from countersunk.model.document.room import Tolerance as Tolerance
from countersunk.model.document.room import Wall as Wall
from countersunk.model.document.stages import Stage
from countersunk.model.files.strict import Strict as Strict
from countersunk.model.files.strict_yaml import NEWER


class Unit(Strict):
    """One item of a run: a unit, an appliance in its gap, a filler or an end panel.

    ``unit`` is a family of the catalogue. ``width`` may be left out where the family has only one. ``hand`` is the
    side on which a single door is hinged, a fridge's too, on which a corner unit is blind or has its corner, an
    open end is open, or a breakfast bar is carried. ``wing`` is how far a corner unit goes along the other wall,
    where the family leaves a choice. ``bottom`` is how high above the floor a wall unit or a hood hangs, where that
    is not as its family has it. ``to_size`` lets it be as wide and, with ``depth`` and ``height``, as deep and as
    high as is typed, off the grid of its family, where its construction can be made so; the height is that of the
    carcass. ``forward`` is how much farther off the wall it stands than its row, as a shallower unit before a
    boxing of pipes does, its front in line with the others. ``fuel`` is what a cooker is supplied with, ``dual`` a
    gas hob over electric ovens. ``to_ceiling`` lets the chimney of a hood go up to the ceiling, and ``duct`` is the
    way out of what it draws off. ``fronts`` is the decor of its fronts, where that is not its row's; ``style`` and
    ``handle`` are how they are made and gripped.
    """

    unit: Code
    width: Annotated[float, Field(ge=3, le=3_000)] | None = None
    name: Name | None = None
    hand: Literal["left", "right"] = "left"
    wing: Length | None = None
    bottom: Annotated[float, Field(ge=0, le=3_000)] | None = None
    to_size: bool = False
    depth: Annotated[float, Field(ge=150, le=900)] | None = None
    height: Annotated[float, Field(ge=150, le=3_000)] | None = None
    forward: Annotated[float, Field(ge=0, le=400)] = 0.0
    fuel: Supplied | None = None
    to_ceiling: bool = False
    duct: Duct | None = None
    fronts: Code | None = None
    style: Code | None = None
    handle: Code | None = None
    key: Key = ""


class Run(Strict):
    """Units side by side along a wall, from left to right; ``start`` is the left side of the first.

    Left out, ``start`` is 0; but a run with a corner unit goes so that this stands in its corner, and a run beside
    the wing of one starts at the wing's end. ``returns`` are the ends at which plinth, cornice and pelmet turn back
    to the wall; ``cornice`` and ``pelmet`` run along the top and under the front edge of wall units;
    ``to_ceiling`` closes what is left over units that are no lower than a wall unit ends with a filler that is
    scribed to the ceiling. ``supply``
    says whether its carcasses are made of boards or bought, where that is not as for the whole kitchen, and
    ``front_supply`` the same of its fronts. ``out`` is
    how far off its wall a row hangs: before a chimney breast, or from the ceiling as over an island or a peninsula;
    then ``facing`` says where its fronts look, to the ``room`` or the ``wall`` that it hangs parallel to, or to the
    ``left`` or ``right`` end of this, ``start`` being along the wall what ``along`` is of an island or peninsula.
    ``fronts`` is the decor of its fronts and of what runs along them, ``style`` and ``handle`` how they are made
    and gripped, where that is not as in the whole kitchen. ``top`` is the decor of its worktop, where that is not
    as in the whole kitchen. ``lights`` under its wall units are a row of the catalogue.
    """

    wall: Name
    level: Literal["floor", "upper"] = "floor"
    start: Offset | None = None
    out: Offset = 0.0
    facing: Literal["room", "wall", "left", "right"] = "room"
    key: Key = ""
    units: Annotated[tuple[Unit, ...], Field(min_length=1, max_length=40)]
    supply: Supply | None = None
    front_supply: Supply | None = None
    fronts: Code | None = None
    top: Code | None = None
    style: Code | None = None
    handle: Code | None = None
    returns: Returns = "none"
    cornice: bool = False
    pelmet: bool = False
    to_ceiling: bool = False
    lights: Code | None = None


TopDepth = Annotated[float, Field(ge=200, le=2_000)]


class Island(Strict):
    """Units that stand free, parallel to a wall.

    ``along`` is where the island's left end stands, measured along the wall, less than 0 where that is before the
    wall begins; ``out`` is the distance from the wall to the nearer long side of its units; ``facing`` says where
    the fronts look. ``seats`` stand behind it. ``fronts`` is as of a run, and of the panel at its back.
    ``top`` is as of a run, ``stock`` as of the worktop, ``top_depth`` its ``depth``; ``arms`` of the catalogue
    carry its back where that stands far past the units.
    """

    name: Name
    wall: Name
    along: Along
    out: Offset
    facing: Literal["wall", "room"] = "wall"
    seats: Annotated[int, Field(ge=0, le=12)] = 0
    stock: Code | None = None
    arms: Code | None = None
    top_depth: TopDepth | None = None
    key: Key = ""
    units: Annotated[tuple[Unit, ...], Field(min_length=1, max_length=20)]
    supply: Supply | None = None
    front_supply: Supply | None = None
    fronts: Code | None = None
    top: Code | None = None
    style: Code | None = None
    handle: Code | None = None
    returns: Returns = "none"


class Peninsula(Strict):
    """Units that stand out from a wall into the room, their top on the front edge of the wall's top.

    ``along`` is where their backs stand, measured along the wall; ``out`` is the distance from the wall to the unit
    nearest to it; ``facing`` says to which end of the wall the fronts look. Units are listed from left to right as
    one faces them; ``seats`` stand behind it. ``fronts`` is as of an island.
    ``top`` is as of a run, ``stock`` and ``top_depth`` as of an island, ``arms`` too.
    """

    name: Name
    wall: Name
    along: Offset
    out: Offset
    facing: Literal["left", "right"]
    seats: Annotated[int, Field(ge=0, le=12)] = 0
    stock: Code | None = None
    arms: Code | None = None
    top_depth: TopDepth | None = None
    key: Key = ""
    units: Annotated[tuple[Unit, ...], Field(min_length=1, max_length=20)]
    supply: Supply | None = None
    front_supply: Supply | None = None
    fronts: Code | None = None
    top: Code | None = None
    style: Code | None = None
    handle: Code | None = None
    returns: Returns = "none"


class Overhang(Strict):
    """How far the top stands past the fronts, and past an end that is free."""

    front: Annotated[float, Field(ge=0, le=300)] = 20.0
    ends: Annotated[float, Field(ge=0, le=300)] = 10.0


class CornerJoin(Strict):
    """How the tops of two walls meet. ``corner`` names them left to right, such as ``A-B``.

    ``kind`` is a mitre for post-formed stock and a butt for square edges unless it is given, and a full mitre,
    straight from the front edges to the corner, where that is 120° or more. ``female`` is the wall whose top runs
    through; the halves of a full mitre are alike, and it has no notch. ``notch`` is how far behind the front edge
    the mitre's shoulder ends; it must be at least what the nose takes.
    """

    corner: CornerName
    kind: Literal["mitre", "full-mitre", "butt"] | None = None
    female: Name | None = None
    notch: Annotated[float, Field(gt=0, le=100)] | None = None
    key: Key = ""


class InLineJoin(Strict):
    """Where two lengths of one row meet end to end. ``run`` is a wall, island or peninsula, ``at`` along it."""

    run: Name
    at: Offset
    key: Key = ""


class FreeCorner(Strict):
    """A free end of a top, or a corner of one, that is shaped. ``over`` is the last unit under that end.

    ``edge`` is the front or the back corner of the end, or both: with a ``radius`` of half its depth the end is
    half a circle, with a ``clip``, which takes the same off both edges, it has three sides. ``bow`` is how far the
    middle of an end that is one arc stands out before its corners. ``past`` is how far the end stands past the
    unit, where that is not as other ends, and a ``post`` carries it. With a ``waterfall`` the top goes on down to
    the floor there, mitred to it or in a butt under it.
    """

    over: Over
    end: Literal["left", "right"]
    edge: Literal["front", "back", "both"] = "front"
    radius: Annotated[float, Field(ge=3, le=600)] | None = None
    clip: Annotated[float, Field(ge=3, le=600)] | None = None
    bow: Annotated[float, Field(ge=3, le=600)] | None = None
    past: Annotated[float, Field(ge=0, le=900)] | None = None
    post: bool = False
    waterfall: Literal["mitre", "butt"] | None = None


class UpstandHole(Strict):
    """A hole in an upstand, as for a hood's duct; its corners are square unless ``radius`` is given.

    ``at`` is its middle along the wall, ``up`` its middle above the top.
    """

    wall: Name
    at: Offset
    up: Annotated[float, Field(gt=0, le=2_000)]
    width: Annotated[float, Field(gt=0, le=1_000)]
    height: Annotated[float, Field(gt=0, le=1_000)]
    radius: Annotated[float, Field(ge=0, le=500)] = 0.0


class Upstand(Strict):
    """Upstands on the tops along every wall that they meet; ``stock`` is a code of the catalogue.

    ``sockets`` cuts the holes for the boxes of sockets and switches that the survey has behind them.
    """

    stock: Code
    holes: Annotated[tuple[UpstandHole, ...], Field(max_length=20)] = ()
    sockets: bool = False


class Worktop(Strict):
    """The choice of worktop: a stock of the catalogue in a decor, its overhangs, joins and shaped corners.

    A row longer than its stock is joined in line where it does least harm, unless ``in_line`` says where.
    ``joins_by`` is how the program places joins that the file leaves open: in the ``order`` of the walls the left
    wall's top runs through each corner, by ``stock`` the one that needs fewer joins in line, then less stock by
    length. New files say ``stock``. What is made to measure from slabs may be of another ``depth`` than is usual.
    """

    stock: Code
    depth: TopDepth | None = None
    decor: Code
    overhang: Overhang = Overhang()
    joins: Annotated[tuple[CornerJoin, ...], Field(max_length=40)] = ()
    in_line: Annotated[tuple[InLineJoin, ...], Field(max_length=40)] = ()
    joins_by: Literal["order", "stock"] = "order"
    corners: Annotated[tuple[FreeCorner, ...], Field(max_length=40)] = ()
    upstand: Upstand | None = None


class Fronts(Strict):
    """The decor of doors, drawer fronts, panels and plinth, and of open units that are made of front boards.

    ``upper`` is that of what hangs, ``tall`` that of units on the floor that are higher than a worktop, where these
    are in another. Before both go the ``fronts`` of a row, and before these the ``fronts`` of a unit. ``panels``
    at ends and behind islands, ``plinth``, ``cornice`` and ``pelmet`` may be in decors of their own. ``sides`` of
    carcasses that show are of front board, as the fronts of their unit, or ``plain``, and so are the ``bottoms`` of
    wall units. ``style`` is how fronts are
    made and ``handle`` what they are gripped by, rows of the catalogue's fronts.yaml, chosen like the decor.
    ``supply`` says whether fronts are made of boards or bought to measure, apart from the carcasses.
    """

    decor: Code
    upper: Code | None = None
    tall: Code | None = None
    panels: Code | None = None
    plinth: Code | None = None
    cornice: Code | None = None
    pelmet: Code | None = None
    sides: Literal["plain", "fronts"] = "plain"
    bottoms: Literal["plain", "fronts"] = "plain"
    supply: Supply = "made"
    style: Code = "slab"
    upper_style: Code | None = None
    tall_style: Code | None = None
    handle: Code = "bar"
    upper_handle: Code | None = None
    tall_handle: Code | None = None


class Finishes(Strict):
    """Paint on the walls and covering of the floor, decors of the catalogue; shown, and counted if we supply them.

    ``supplied`` says which of the two the job supplies: their areas are then measured and priced. Left out, both
    are by others.
    """

    walls: Code | None = None
    floor: Code | None = None
    supplied: Literal["none", "walls", "floor", "both"] = "none"


class Cutout(Strict):
    """Something let into the worktop over a unit: a ``template`` of the catalogue, or plain numbers.

    Plain numbers are its ``kind`` and the ``line`` to cut (width x depth), which is the inside dimension and not
    what the ``rim`` covers, with the ``radius`` of the line's corners and the ``depth`` of what hangs below. A bowl
    that is no rectangle has the corners of its ``outline`` in place of a line, in order, each so far to the right
    and so far to the back. What is typed so is the customer's own and not ordered, unless ``article`` is the code
    by which it is bought. ``shift`` moves it to the right of the unit's middle; a sink with a drainer, wider than
    the unit inside, hangs its bowl in the middle without it. ``drainer`` is the side of the drainer, right unless
    given. ``from_front`` or ``from_back`` is the distance from that edge of the top to the line. ``duct`` is that
    of a hob that draws off what rises from it, or of a ``downdraft``, which rises out of the top behind the hob.
    ``mount`` says that it lies ``flush`` in the top or, where numbers are typed, ``under`` it, else it is as its
    template has it or set on the top; ``grooves`` are milled into a top from a slab to drain into the sink, on the
    side of a drainer.
    """

    template: Code | None = None
    kind: Literal["sink", "hob", "downdraft", "tap", "switch", "socket"] | None = None
    line: tuple[Side, Side] | None = None
    rim: tuple[Side, Side] | None = None
    article: Code | None = None
    outline: Annotated[tuple[tuple[Offset, Offset], ...], Field(min_length=3, max_length=40)] | None = None
    radius: Annotated[float, Field(ge=0, le=500)] = 10.0
    depth: Side | None = None
    fuel: Literal["electric", "gas"] | None = None
    mount: Literal["under", "flush"] | None = None
    grooves: bool = False
    over: Over
    name: Name | None = None
    shift: Shift = 0.0
    drainer: Literal["left", "right"] = "right"
    from_front: Annotated[float, Field(ge=0, le=1_500)] | None = None
    from_back: Annotated[float, Field(ge=0, le=1_500)] | None = None
    duct: Duct | None = None
    key: Key = ""


class Splashback(Strict):
    """What covers a zone of a wall over its tops, in a ``material`` of the catalogue.

    The ``zone`` goes up from the tops, or from what upstand there is on them: ``below-wall-units`` to these,
    ``behind-hob`` as wide as the hob's unit, ``to-hood`` as wide as the hood, ``full-height`` to the ceiling. It
    goes along all tops on the wall unless ``start`` and ``end`` say from where to where along it. What one that is
    listed before covers is left out. Of tiles ``datum`` is where whole ones begin, in the ``centre`` so that both
    ends have the same cut, and ``bond`` is how their rows lie: ``straight``, or each moved by ``half`` a tile.
    """

    wall: Name
    zone: Literal["below-wall-units", "behind-hob", "to-hood", "full-height"]
    material: Code
    start: Offset | None = None
    end: Offset | None = None
    datum: Literal["centre", "left", "right"] = "centre"
    bond: Literal["straight", "half"] = "straight"


class Document(Strict):
    """One kitchen, as it stands in a file. ``access`` is the way in for the tops, from outside to the kitchen.

    ``catalogue`` is what its codes are of: one of the program, metric or inch, or the name of a folder beside the
    file, a firm's own. ``regions`` choose the rules that it is checked
    by, ``wheelchair`` those for somebody who uses one; some codes ask less where what stands there is replaced like
    for like, which is ``work``. ``supply`` says whether carcasses are made or bought,
    where neither the row nor the family says so. ``lengths`` is how lengths are shown: inches stand beside
    millimetres, or do not. ``fitted`` is what was measured on the units once they stood: tops
    are cut from it. ``countersunk`` is the format of the file, ``last_key`` the number of the key that was given
    last. Whatever lasts has a key: see `model.document.keys`. ``as_cut`` is what was
    read at the saw; nothing is built from it. ``allowances`` are those of this job. ``accepted`` are musts that are
    not met and that somebody answers for.
    """

    countersunk: Format = FORMAT
    kitchen: Annotated[str, Field(min_length=1, max_length=120)]
    note: Text = ""
    catalogue: Code = "metric"
    cooks: Annotated[int, Field(ge=1, le=6)] = 1
    regions: Annotated[tuple[Region, ...], Field(max_length=4)] = ()
    wheelchair: bool = False
    work: Work = "new"
    supply: Supply = "made"
    lengths: Shown = "mm"
    room: Room
    runs: Annotated[tuple[Run, ...], Field(min_length=1, max_length=40)]
    islands: Annotated[tuple[Island, ...], Field(max_length=6)] = ()
    peninsulas: Annotated[tuple[Peninsula, ...], Field(max_length=6)] = ()
    worktop: Worktop
    fronts: Fronts
    finishes: Finishes = Finishes()
    cutouts: Annotated[tuple[Cutout, ...], Field(max_length=20)] = ()
    splashbacks: Annotated[tuple[Splashback, ...], Field(max_length=20)] = ()
    fitted: AsFitted | None = None
    access: Annotated[tuple[Stage, ...], Field(max_length=20)] = ()
    allowances: Allowances = Allowances()
    as_cut: Annotated[tuple[AsCut, ...], Field(max_length=2_000)] = ()
    accepted: Annotated[tuple[Accepted, ...], Field(max_length=40)] = ()
    last_key: LastKey = 0

    @model_validator(mode="before")
    @classmethod
    def _with_keys(cls, data: Any) -> Any:
        refuse_newer(data)
        return with_keys(data)


def refuse_newer(data: Any) -> None:
    """Refuse data of a format that a later version of the program writes, before anything in it is misread."""
    found = data.get("countersunk") if isinstance(data, Mapping) else None
    if isinstance(found, int) and found > FORMAT:
        raise PydanticCustomError(NEWER, "a newer format", {"found": found, "known": FORMAT})
