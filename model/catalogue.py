"""Catalogue: what can be bought and what units are made of, read from plain files and validated like a kitchen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Annotated, Literal, Protocol, TypeVar, get_args

from pydantic import Field

import shared
from model.document import Code, Strict
from model.errors import InputError
from model.strict_yaml import read_file

Size = Annotated[float, Field(gt=0, le=10_000)]
Colour = Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]
Label = Annotated[str, Field(min_length=1, max_length=80)]
Use = Literal["carcass", "back", "drawer", "front"]
CutoutKind = Literal["sink", "hob", "tap", "switch", "socket"]


class Board(Strict):
    """Sheet material. ``density`` in kg/m³, ``sheet`` its length and width in mm."""

    code: Code
    name: Label
    thickness: Size
    density: Annotated[float, Field(gt=0, le=8_000)]
    sheet: tuple[Size, Size]
    use: Use


class Decor(Strict):
    """A colour, or a figure in two colours (sRGB)."""

    code: Code
    name: Label
    figure: Literal["plain", "wood", "stone"]
    colour: Colour
    vein: Colour
    roughness: Annotated[float, Field(ge=0, le=1)]
    use: Literal["worktop", "front"]


class Stock(Strict):
    """Worktop as it is bought: section, density in kg/m³, and the lengths sold. ``nose`` 0 is a square edge.

    A particleboard core is sealed wherever it is cut; compact and solid stock stand water at a bare edge.
    """

    code: Code
    name: Label
    thickness: Annotated[float, Field(ge=6, le=60)]
    depth: Annotated[float, Field(ge=200, le=1_500)]
    nose: Annotated[float, Field(ge=0, le=30)]
    both_edges: bool = False
    core: Literal["particleboard", "compact", "solid"] = "particleboard"
    density: Annotated[float, Field(gt=0, le=8_000)]
    lengths: Annotated[tuple[Size, ...], Field(min_length=1)]


class UpstandStock(Strict):
    """An upstand as it is bought, in the top's decor: ``height`` on the top, ``thickness`` out from the wall."""

    code: Code
    name: Label
    height: Annotated[float, Field(ge=20, le=1_200)]
    thickness: Annotated[float, Field(ge=3, le=60)]
    density: Annotated[float, Field(gt=0, le=8_000)]
    lengths: Annotated[tuple[Size, ...], Field(min_length=1)]


class Template(Strict):
    """Something let into a worktop. ``line`` is the line to cut and ``rim`` what covers it, width × depth.

    ``from_front`` or ``from_back`` is the distance from that edge of the top to the line. A sink that is mounted
    ``under`` the top is cut to its bowl, and no rim covers the line.
    """

    code: Code
    name: Label
    kind: CutoutKind
    mount: Literal["inset", "under"] = "inset"
    fuel: Literal["electric", "gas"] | None = None
    line: tuple[Size, Size]
    rim: tuple[Size, Size]
    radius: Annotated[float, Field(ge=0, le=500)]
    from_front: Size | None = None
    from_back: Size | None = None
    depth: Size
    rim_height: Annotated[float, Field(ge=0, le=200)]
    bowl: tuple[Size, Size] | None = None
    tap: bool = False
    zones: tuple[tuple[float, float, Size], ...] = ()


class Family(Strict):
    """A family of units. ``construction`` names the code that makes its boards; the rest are its parameters.

    ``height`` is that of the carcass, above ``legs`` (floor) or ``bottom`` (upper); ``depth`` that of the
    carcass without its front. ``drawers`` are front heights from the top; ``niche`` the height for an oven.
    """

    code: Code
    name: Label
    construction: Literal["box", "drawers", "blind-corner", "oven", "appliance", "filler", "panel"]
    level: Literal["floor", "upper"]
    height: Size
    depth: Size
    legs: Annotated[float, Field(ge=0, le=300)] = 0.0
    bottom: Annotated[float, Field(ge=0, le=3_000)] = 0.0
    widths: tuple[Size, ...] = ()
    width_range: tuple[Size, Size] | None = None
    carries_top: bool = False
    shelves: Annotated[int, Field(ge=0, le=12)] = 0
    rails: Literal["flat", "edge", "none"] = "none"
    doors: bool = False
    door_width: Size | None = None
    drawers: tuple[Size, ...] = ()
    niche: Size | None = None
    appliance: Code | None = None
    front: bool = False

    @property
    def base(self) -> float:
        """Height of the carcass's underside above the floor, mm."""
        return self.legs if self.level == "floor" else self.bottom

    @property
    def top(self) -> float:
        """Height of the carcass's top above the floor, mm."""
        return self.base + self.height


class Boards(Strict):
    """The file boards.yaml."""

    boards: tuple[Board, ...]


class Decors(Strict):
    """The file decors.yaml."""

    decors: tuple[Decor, ...]


class Stocks(Strict):
    """The file worktops.yaml."""

    stocks: tuple[Stock, ...]
    upstands: tuple[UpstandStock, ...] = ()


class Templates(Strict):
    """The file cutouts.yaml."""

    templates: tuple[Template, ...]


class Families(Strict):
    """The file units.yaml."""

    families: tuple[Family, ...]


@dataclass(frozen=True)
class UnitBoards:
    """What a unit is made of."""

    carcass: Board
    back: Board
    drawer: Board
    front: Board


@dataclass(frozen=True)
class Catalogue:
    """Everything by its code."""

    boards: Mapping[str, Board]
    decors: Mapping[str, Decor]
    stocks: Mapping[str, Stock]
    upstands: Mapping[str, UpstandStock]
    templates: Mapping[str, Template]
    families: Mapping[str, Family]

    @cached_property
    def unit_boards(self) -> UnitBoards:
        """The first board that the catalogue names for each use. Raises InputError where it names none."""
        uses = {use: next((b for b in self.boards.values() if b.use == use), None) for use in get_args(Use)}
        for use, found in uses.items():
            if found is None:
                raise InputError.at("boards", found=f"no board with use: {use}", allowed="one for each use")
        return UnitBoards(**{use: found for use, found in uses.items() if found})

    def density(self, material: str) -> float | None:
        """kg/m³ of a board, worktop stock or upstand; None for what is bought whole."""
        board = self.boards.get(material) or self.stocks.get(material) or self.upstands.get(material)
        return board.density if board else None


class _Coded(Protocol):
    @property
    def code(self) -> str: ...


T = TypeVar("T", bound=_Coded)


def load_catalogue(folder: Path = shared.CATALOGUE) -> Catalogue:
    """Read the catalogue files in ``folder``. Raises InputError."""
    worktops = read_file(folder / "worktops.yaml", Stocks)[0]
    return Catalogue(
        boards=_by_code(read_file(folder / "boards.yaml", Boards)[0].boards, "boards"),
        decors=_by_code(read_file(folder / "decors.yaml", Decors)[0].decors, "decors"),
        stocks=_by_code(worktops.stocks, "stocks"),
        upstands=_by_code(worktops.upstands, "upstands"),
        templates=_by_code(read_file(folder / "cutouts.yaml", Templates)[0].templates, "templates"),
        families=_by_code(read_file(folder / "units.yaml", Families)[0].families, "families"),
    )


@lru_cache(maxsize=1)
def default_catalogue() -> Catalogue:
    """The catalogue that comes with the program, read once."""
    return load_catalogue()


def _by_code(items: Iterable[T], field: str) -> dict[str, T]:
    table: dict[str, T] = {}
    for i, item in enumerate(items):
        if item.code in table:
            raise InputError.at(f"{field}[{i}].code", found=f"'{item.code}' twice", allowed="each code once")
        table[item.code] = item
    return table
