"""Catalogue: what can be bought and what units are made of, read from plain files and validated like a kitchen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Annotated, Literal, Protocol, TypeVar, get_args

from pydantic import Field

from countersunk import shared
from countersunk.model.catalogue.family import Family as Family
from countersunk.model.catalogue.family import Label as Label
from countersunk.model.catalogue.family import Size as Size
from countersunk.model.catalogue.method import Method, heights
from countersunk.model.document.schema import Code, Document, Strict
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_file

Colour = Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]
Use = Literal["carcass", "back", "drawer", "front"]
CutoutKind = Literal["sink", "hob", "tap", "switch", "socket"]


class Board(Strict):
    """Sheet material. ``density`` in kg/m³, ``sheet`` its length and width in mm.

    ``grain`` says that its face has a figure along the sheet's length, which every board cut from it keeps.
    """

    code: Code
    name: Label
    thickness: Size
    density: Annotated[float, Field(gt=0, le=8_000)]
    sheet: tuple[Size, Size]
    use: Use
    grain: bool = False


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

    @property
    def bedded(self) -> bool:
        """Whether tops lie in dabs of silicone: a solid top moves with heat, and takes no screw (from memory)."""
        return self.core == "solid"

    @property
    def bonded(self) -> bool:
        """Whether two lengths of it are glued edge to edge (common practice, no source)."""
        return self.core != "particleboard"


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

    @property
    def diameter(self) -> float | None:
        """Of a line that is a circle, mm; None for every other."""
        width, depth = self.line
        return width if width == depth and 2 * self.radius >= width else None


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

    methods: tuple[Method, ...] = (Method(),)
    families: tuple[Family, ...]


@dataclass(frozen=True)
class UnitBoards:
    """What a unit is made of, and how."""

    carcass: Board
    back: Board
    drawer: Board
    front: Board
    method: Method


@dataclass(frozen=True)
class Catalogue:
    """Everything by its code."""

    boards: Mapping[str, Board]
    decors: Mapping[str, Decor]
    stocks: Mapping[str, Stock]
    upstands: Mapping[str, UpstandStock]
    templates: Mapping[str, Template]
    families: Mapping[str, Family]
    methods: Mapping[str, Method]

    @cached_property
    def unit_boards(self) -> UnitBoards:
        """What units are made of unless their family names a method. Raises InputError where a board is missing."""
        return self.boards_by(next(iter(self.methods)))

    def boards_by(self, method: str) -> UnitBoards:
        """What units of a method are made of. Raises InputError for a method or board that there is not."""
        if method not in self.methods:
            raise InputError.unknown("method", method, self.methods)
        how = self.methods[method]
        wished = {"carcass": how.carcass, "back": how.back_board, "drawer": how.drawer, "front": how.front}
        return UnitBoards(**{use: self._board(use, wished[use]) for use in get_args(Use)}, method=how)

    def _board(self, use: str, wished: str | None) -> Board:
        if wished is not None and wished not in self.boards:
            raise InputError.unknown(f"methods.{use}", wished, self.boards)
        usual = next((board for board in self.boards.values() if board.use == use), None)
        if usual is None:
            raise InputError.at("boards", found=f"no board with use: {use}", allowed="one for each use")
        return self.boards[wished] if wished else usual


class _Coded(Protocol):
    @property
    def code(self) -> str: ...


T = TypeVar("T", bound=_Coded)


def load_catalogue(folder: Path = shared.CATALOGUE) -> Catalogue:
    """Read the catalogue files in ``folder``; one that it has not is the metric catalogue's. Raises InputError."""

    def file(name: str) -> Path:
        return folder / name if (folder / name).exists() else shared.CATALOGUE / name

    units, source = read_file(file("units.yaml"), Families)
    worktops = read_file(file("worktops.yaml"), Stocks)[0]
    catalogue = Catalogue(
        boards=_by_code(read_file(file("boards.yaml"), Boards)[0].boards, "boards"),
        decors=_by_code(read_file(file("decors.yaml"), Decors)[0].decors, "decors"),
        stocks=_by_code(worktops.stocks, "stocks"),
        upstands=_by_code(worktops.upstands, "upstands"),
        templates=_by_code(read_file(file("cutouts.yaml"), Templates)[0].templates, "templates"),
        families=_by_code(units.families, "families"),
        methods=_by_code(units.methods, "methods"),
    )
    with source.locating():
        _check_families(catalogue)
    return catalogue


def _check_families(catalogue: Catalogue) -> None:
    for method in catalogue.methods:
        catalogue.boards_by(method)
    for i, family in enumerate(catalogue.families.values()):
        if family.method not in catalogue.methods:
            raise InputError.unknown(f"families[{i}].method", family.method, catalogue.methods)
        heights(family.openings, family.height, f"families[{i}].bays")


@lru_cache(maxsize=1)
def default_catalogue() -> Catalogue:
    """The metric catalogue that comes with the program, read once."""
    return load_catalogue()


@lru_cache(maxsize=1)
def inch_catalogue() -> Catalogue:
    """The one in inches, read once; its sizes are exact millimetres."""
    return load_catalogue(shared.CATALOGUE_INCH)


def catalogue_of(document: Document) -> Catalogue:
    """The catalogue of the program that a document's codes are of."""
    return inch_catalogue() if document.catalogue == "inch" else default_catalogue()


def _by_code(items: Iterable[T], field: str) -> dict[str, T]:
    table: dict[str, T] = {}
    for i, item in enumerate(items):
        if item.code in table:
            raise InputError.at(f"{field}[{i}].code", found=f"'{item.code}' twice", allowed="each code once")
        table[item.code] = item
    return table
