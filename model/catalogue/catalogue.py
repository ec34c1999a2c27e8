"""Catalogue: what can be bought and what units are made of, read from plain files and validated like a kitchen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from pathlib import Path
from typing import Annotated, Any, Literal, Protocol, TypeVar, get_args, get_origin

from pydantic import BaseModel, Field, model_validator

from countersunk import shared
from countersunk.model.catalogue.family import Family as Family
from countersunk.model.catalogue.family import Label as Label
from countersunk.model.catalogue.family import Size as Size
from countersunk.model.catalogue.front import BAR, SLAB, FrontStyle, Handle
from countersunk.model.catalogue.light import Light
from countersunk.model.catalogue.method import Method, heights
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.schema import Code, Document, Strict
from countersunk.model.errors import InputError, Problem
from countersunk.model.files.strict_yaml import Source, read_file
from countersunk.model.kinds.top_materials import MATERIALS, Maker, TopMaterial

Colour = Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]
Use = Literal["carcass", "back", "drawer", "front"]
Outline = tuple[tuple[Annotated[float, Field(ge=0, le=10_000)], Annotated[float, Field(ge=0, le=10_000)]], ...]
CutoutKind = Literal["sink", "hob", "downdraft", "tap", "switch", "socket"]
Mount = Literal["inset", "under", "flush"]


HANGS_BELOW: dict[CutoutKind, float] = {
    "sink": 180.0, "hob": 50.0, "downdraft": 700.0, "tap": 60.0, "switch": 60.0, "socket": 70.0,
}  # fmt: skip
"""What hangs below a top's face where nobody says, mm (common practice, no source)."""


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
    """A colour, or a figure in two colours (sRGB); planks and tiles are figures of floors."""

    code: Code
    name: Label
    figure: Literal["plain", "wood", "stone", "planks", "tiles"]
    colour: Colour
    vein: Colour
    roughness: Annotated[float, Field(ge=0, le=1)]
    use: Literal["worktop", "front", "paint", "floor"]


Core = Literal[
    "particleboard", "compact", "solid", "granite", "engineered", "low-silica", "porcelain", "steel", "red-oak",
    "white-oak", "beech", "maple", "walnut",
]  # fmt: skip
"""A row of `model.kinds.top_materials`."""


class Stock(Strict):
    """Worktop as it is bought: section, density in kg/m³, and the lengths sold. ``nose`` 0 is a square edge.

    ``core`` says what follows from it. Tops that a mason, fabricator or metalworker makes to measure come from a
    ``slab``, length and width in mm with its raw edges taken off; they may be of any depth, ``depth`` is the usual
    one, and no piece is longer than the slab. Pieces of one that is ``veined`` all lie along it. ``silica`` is what
    the maker's sheet says of crystalline silica, % by mass, where that is not as is usual for the material.
    """

    code: Code
    name: Label
    thickness: Annotated[float, Field(ge=6, le=60)]
    depth: Annotated[float, Field(ge=200, le=1_500)]
    nose: Annotated[float, Field(ge=0, le=30)]
    both_edges: bool = False
    core: Core = "particleboard"
    density: Annotated[float, Field(gt=0, le=8_000)]
    slab: tuple[Size, Size] | None = None
    veined: bool = False
    silica: Annotated[float, Field(ge=0, le=100)] | None = None
    lengths: Annotated[tuple[Size, ...], Field(min_length=1)]

    @model_validator(mode="before")
    @classmethod
    def _as_long_as_its_slab(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and data.get("slab") and "lengths" not in data:
            return {**data, "lengths": (data["slab"][0],)}
        return data

    @property
    def material(self) -> TopMaterial:
        """What it is made of."""
        return MATERIALS[self.core]

    @property
    def crystalline(self) -> float:
        """Crystalline silica, % by mass."""
        return self.material.silica if self.silica is None else self.silica

    @property
    def made_by(self) -> Maker:
        """Who makes tops of it to measure; nothing where they are sawn from lengths here."""
        return self.material.maker if self.slab else ""


class UpstandStock(Strict):
    """An upstand as it is bought, in the top's decor: ``height`` on the top, ``thickness`` out from the wall.

    One ``of_top`` is cut from the slabs of the top by whoever makes that, and is as thick.
    """

    code: Code
    name: Label
    height: Annotated[float, Field(ge=20, le=1_200)]
    thickness: Annotated[float, Field(ge=3, le=60)]
    density: Annotated[float, Field(gt=0, le=8_000)]
    lengths: Annotated[tuple[Size, ...], Field(min_length=1)]
    of_top: bool = False


class TopArm(Strict):
    """An arm of steel under the back of an island's or a peninsula's top, screwed to the panel behind its units.

    It goes ``reach`` mm under the top, is ``width`` wide and ``thickness`` thick, and its ``leg`` goes down the
    panel. Arms are at most ``every`` mm apart, the outermost ``from_end`` mm from the units' ends; each carries so
    many kg. What stands past them is the top's own to bear: see the rules on overhangs.
    """

    code: Code
    name: Label
    reach: Annotated[float, Field(ge=50, le=600)]
    width: Annotated[float, Field(ge=10, le=200)] = 40.0
    thickness: Annotated[float, Field(ge=3, le=20)] = 6.0
    leg: Annotated[float, Field(ge=30, le=400)] = 90.0
    every: Annotated[float, Field(ge=100, le=1_500)] = 600.0
    from_end: Annotated[float, Field(ge=0, le=600)] = 150.0
    carries: Annotated[float, Field(gt=0, le=500)]


class SplashbackStock(Strict):
    """What covers a wall over the tops: tiles, or panels made to measure. ``size`` is a tile's or the largest.

    ``glass`` is toughened and has holes by its thickness. Without a ``colour`` it is in the top's decor. ``heat``
    says that it may stand behind a gas hob. Of tiles, ``joint`` is what lies between two, ``box`` how many come in
    one, ``notch`` that of the trowel.
    """

    code: Code
    name: Label
    kind: Literal["tile", "glass", "board"]
    size: tuple[Size, Size]
    thickness: Annotated[float, Field(ge=2, le=40)]
    density: Annotated[float, Field(gt=0, le=8_000)]
    colour: Colour | None = None
    heat: bool = False
    joint: Annotated[float, Field(ge=1, le=10)] = 2.0
    box: Annotated[int, Field(ge=1, le=1_000)] = 1
    notch: Literal[6, 8, 10, 12] = 6


class Template(Strict):
    """Something let into a worktop. ``line`` is the line to cut and ``rim`` what covers it, width × depth; a bowl
    that is no rectangle has its corners in ``outline``, each so far to the right and to the back, within its line.

    ``from_front`` or ``from_back`` is the distance from that edge of the top to the line. A sink that is mounted
    ``under`` the top is cut to its bowl, and no rim covers the line; what lies ``flush`` has its rim let in as
    deep as that is high. A hob that ``draws`` off what rises from it needs no hood. ``airflow`` is what it or a
    downdraft moves at most, m³/h, and ``mass`` is in kg, as its maker's sheet has them.
    """

    code: Code
    name: Label
    kind: CutoutKind
    mount: Mount = "inset"
    fuel: Literal["electric", "gas"] | None = None
    line: tuple[Size, Size]
    rim: tuple[Size, Size]
    radius: Annotated[float, Field(ge=0, le=500)]
    outline: Outline = ()
    from_front: Size | None = None
    from_back: Size | None = None
    depth: Size
    rim_height: Annotated[float, Field(ge=0, le=200)]
    bowl: tuple[Size, Size] | None = None
    tap: bool = False
    zones: tuple[tuple[float, float, Size], ...] = ()
    draws: bool = False
    airflow: Annotated[float, Field(gt=0, le=5_000)] | None = None
    mass: Annotated[float, Field(gt=0, le=200)] | None = None

    @property
    def rim_over_top(self) -> float:
        """How high its rim stands over the top's face, mm."""
        return 0.0 if self.mount == "flush" else self.rim_height

    @property
    def diameter(self) -> float | None:
        """Of a line that is a circle, mm; None for every other."""
        width, depth = self.line
        return width if width == depth and 2 * self.radius >= width and not self.outline else None


class CatalogueFile(Strict):
    """A file of a catalogue. One that ``adds_to`` a catalogue of the program holds what is not in that, or takes
    the place of what has the same code there; any other stands for itself.
    """

    adds_to: Literal["metric", "inch"] | None = None


class Boards(CatalogueFile):
    """The file boards.yaml."""

    boards: tuple[Board, ...]


class Decors(CatalogueFile):
    """The file decors.yaml."""

    decors: tuple[Decor, ...]


class Stocks(CatalogueFile):
    """The file worktops.yaml. ``allowances`` are the firm's."""

    stocks: tuple[Stock, ...] = ()
    upstands: tuple[UpstandStock, ...] = ()
    splashbacks: tuple[SplashbackStock, ...] = ()
    arms: tuple[TopArm, ...] = ()
    allowances: Allowances = Allowances()


class Templates(CatalogueFile):
    """The file cutouts.yaml."""

    templates: tuple[Template, ...]


class FrontChoices(CatalogueFile):
    """The file fronts.yaml."""

    styles: tuple[FrontStyle, ...] = ()
    handles: tuple[Handle, ...] = ()


class Families(CatalogueFile):
    """The file units.yaml."""

    methods: tuple[Method, ...] = ()
    lights: tuple[Light, ...] = ()
    families: tuple[Family, ...] = ()


@dataclass(frozen=True)
class UnitBoards:
    """What a unit is made of, and how."""

    carcass: Board
    back: Board
    drawer: Board
    front: Board
    method: Method


@dataclass(frozen=True, eq=False)
class Catalogue:
    """Everything by its code, as read from the files of a ``folder``."""

    folder: Path
    boards: Mapping[str, Board]
    decors: Mapping[str, Decor]
    stocks: Mapping[str, Stock]
    upstands: Mapping[str, UpstandStock]
    splashbacks: Mapping[str, SplashbackStock]
    arms: Mapping[str, TopArm]
    templates: Mapping[str, Template]
    families: Mapping[str, Family]
    methods: Mapping[str, Method]
    styles: Mapping[str, FrontStyle]
    handles: Mapping[str, Handle]
    lights: Mapping[str, Light]
    allowances: Allowances

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
File = TypeVar("File", bound=CatalogueFile)


def load_catalogue(folder: Path = shared.CATALOGUE) -> Catalogue:
    """Return the catalogue of a folder; a file that it does not have is the metric catalogue's, or the inch one's
    where its other files add to that.

    Raises InputError, with file and line, for a folder that has no file of a catalogue and for whatever is wrong
    in one.
    """
    if not any((folder / name).is_file() for name in FILES):
        found = "no file of a catalogue" if folder.is_dir() else "no such folder"
        advice = "countersunk catalogue new DIR writes a start"
        raise InputError([Problem("folder", found, f"one of {', '.join(FILES)}", advice, str(folder))])
    worktops = _coded(folder, "worktops.yaml", Stocks)
    units = _coded(folder, "units.yaml", Families)
    fronts = _coded(folder, "fronts.yaml", FrontChoices)
    catalogue = Catalogue(
        folder=folder,
        boards=_coded(folder, "boards.yaml", Boards)["boards"],
        decors=_coded(folder, "decors.yaml", Decors)["decors"],
        stocks=worktops["stocks"],
        upstands=worktops["upstands"],
        splashbacks=worktops["splashbacks"],
        arms=worktops["arms"],
        templates=_coded(folder, "cutouts.yaml", Templates)["templates"],
        families=units["families"],
        methods=units["methods"] or {"standard": Method()},
        styles={SLAB.code: SLAB, **fronts["styles"]},
        handles={BAR.code: BAR, **fronts["handles"]},
        lights=units["lights"],
        allowances=_allowances(folder),
    )
    _check_families(catalogue, *read_file(catalogue_path(folder, "units.yaml"), Families))
    return catalogue


FILES = (
    "units.yaml", "boards.yaml", "worktops.yaml", "decors.yaml", "fronts.yaml", "cutouts.yaml", "consumables.yaml",
)  # fmt: skip
"""The files of a catalogue; consumables.yaml is read by `takeoff.stock.articles`."""

PROGRAMS = {"metric": shared.CATALOGUE, "inch": shared.CATALOGUE_INCH}
"""The catalogues that come with the program, by name."""


class AddedTo(BaseModel):
    """Of any file of a catalogue what it adds to, and nothing else."""

    adds_to: Literal["metric", "inch"] | None = None


def catalogue_path(folder: Path, name: str) -> Path:
    """The file of a catalogue; where its folder does not have it, that of the catalogue to which its others add.

    That is the metric catalogue where none adds to another, or where the other does not have the file either.
    """
    if (folder / name).exists():
        return folder / name
    files = (folder / other for other in FILES if (folder / other).exists())
    named = (read_file(file, AddedTo)[0].adds_to for file in files) if folder not in PROGRAMS.values() else ()
    base = PROGRAMS[next(filter(None, named), "metric")] / name
    return base if base.exists() else shared.CATALOGUE / name


def catalogue_files(folder: Path, name: str, schema: type[File]) -> Iterator[tuple[File, Source]]:
    """The files to read for ``name``: the one that it adds to, if any, then its own. Raises InputError."""
    path = catalogue_path(folder, name)
    file, source = read_file(path, schema)
    if file.adds_to is not None:
        base = catalogue_path(PROGRAMS[file.adds_to], name)
        if base == path:
            raise source.located(InputError.at("adds_to", found="the file itself", allowed="another catalogue"))
        yield from catalogue_files(PROGRAMS[file.adds_to], name, schema)
    yield file, source


def _coded(folder: Path, name: str, schema: type[File]) -> dict[str, dict[str, Any]]:
    """What every list of a file holds by its code, with what is in the file that it adds to."""
    lists = [name for name, field in schema.model_fields.items() if get_origin(field.annotation) is tuple]
    tables: dict[str, dict[str, Any]] = {field: {} for field in lists}
    for file, source in catalogue_files(folder, name, schema):
        with source.locating():
            for field in lists:
                tables[field] |= by_code(getattr(file, field), field)
    return tables


def _allowances(folder: Path) -> Allowances:
    """Those of a folder over those of the catalogue that it adds to."""
    files = (file for file, _ in catalogue_files(folder, "worktops.yaml", Stocks))
    return reduce(Allowances.with_own, (file.allowances for file in files))


def _check_families(catalogue: Catalogue, own: Families, source: Source) -> None:
    """Whatever the folder's own units are made of must be in the catalogue."""
    with source.locating():
        for method in catalogue.methods:
            catalogue.boards_by(method)
        for i, family in enumerate(own.families):
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


def catalogue_of(document: Document, beside: Path | None = None) -> Catalogue:
    """The catalogue that a document's codes are of: of the program, or a folder of that name ``beside`` its file.

    Raises InputError where there is no such folder, or where it cannot be read.
    """
    return catalogue_named(document.catalogue, beside)


def catalogue_named(name: str, beside: Path | None = None) -> Catalogue:
    """The catalogue of a name, as `catalogue_of` finds it. Raises InputError."""
    if name in PROGRAMS:
        return inch_catalogue() if name == "inch" else default_catalogue()
    if beside is None or not (beside / name).is_dir():
        allowed = "metric, inch, or the name of a folder beside the kitchen file"
        raise InputError.at("catalogue", found=f"'{name}', which is not there", allowed=allowed, advice=GIVE_IT)
    return load_catalogue(beside / name)


GIVE_IT = "put the folder beside the file, or name it with --catalogue DIR"


def by_code(items: Iterable[T], field: str) -> dict[str, T]:
    """Items by their code. Raises InputError where two have the same."""
    table: dict[str, T] = {}
    for i, item in enumerate(items):
        if item.code in table:
            raise InputError.at(f"{field}[{i}].code", found=f"'{item.code}' twice", allowed="each code once")
        table[item.code] = item
    return table
