"""Articles: what can be ordered, in which packs. Consumables and hardware are data; boards, stock and what is let
in come from the model's catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.catalogue.catalogue import (
    Board,
    Catalogue,
    CatalogueFile,
    Label,
    SplashbackStock,
    Stock,
    Template,
    UpstandStock,
    by_code,
    catalogue_files,
    default_catalogue,
)
from countersunk.model.catalogue.method import Ready
from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.takeoff.stock.sources import Citation
from countersunk.takeoff.stock.units import UNITS, UnitCode, amount


class Coverage(Strict):
    """How far it goes: ``m2/L`` is for one coat on one face."""

    amount: Annotated[float, Field(gt=0, le=1_000)]
    unit: Literal["m2/L"]


class Article(Strict):
    """Something that is bought. ``pack`` is how much of ``unit`` comes in one ``pack_name``.

    ``pieces`` says how lengths are cut from it: ``whole`` from one pack each, ``joined`` over packs if they must
    be, ``any`` where only the sum matters. ``length`` is that of a screw (mm). ``decor`` says that it comes in the
    decor of the worktop, the fronts, the walls or the floor; a quantity of it then has that decor's name and code.
    What is made ``to_size`` is ordered piece by piece. Of lengths and rolls that are ``kept`` what is left is an
    offcut, which the next job takes first.
    """

    code: Code
    name: Label
    unit: UnitCode
    pack: Annotated[float, Field(gt=0, le=100_000)] = 1.0
    pack_name: Annotated[str, Field(max_length=60)] = ""
    coverage: Coverage | None = None
    pieces: Literal["any", "whole", "joined"] = "any"
    length: Annotated[float, Field(gt=0, le=500)] | None = None
    decor: Literal["worktop", "front", "paint", "floor"] | None = None
    to_size: bool = False
    kept: bool = False
    note: Annotated[str, Field(max_length=200)] = ""
    sources: tuple[Citation, ...] = ()

    @property
    def packing(self) -> str:
        """One pack in words, such as ``tin of 0.5 L``; nothing for what is bought singly."""
        if not self.pack_name:
            return ""
        of = "" if " of " in self.pack_name else f" of {amount(self.pack, self.unit)}"
        return f"{self.pack_name}{of}"


class Consumables(CatalogueFile):
    """The file consumables.yaml of a catalogue."""

    articles: tuple[Article, ...]


Articles = Mapping[str, Article]


def load_articles(folder: Path = shared.CATALOGUE) -> Articles:
    """Read the consumables and hardware of a catalogue's folder. Raises InputError."""
    table: dict[str, Article] = {}
    for consumables, source in catalogue_files(folder, "consumables.yaml", Consumables):
        with source.locating():
            for i, article in enumerate(consumables.articles):
                asked = [field for field in ("pieces", "kept") if getattr(article, field) not in ("any", False)]
                if asked and UNITS[article.unit].dimension != "length":
                    found = f"{asked[0]} of {article.unit}"
                    raise InputError.at(f"articles[{i}].{asked[0]}", found=found, allowed=f"{asked[0]} of m")
            table |= by_code(consumables.articles, "articles")
    return table


@lru_cache(maxsize=8)
def consumables_of(catalogue: Catalogue) -> Articles:
    """The consumables and hardware of a catalogue, read once. Raises InputError."""
    return load_articles(catalogue.folder)


def default_articles() -> Articles:
    """The articles that come with the program."""
    return consumables_of(default_catalogue())


def articles_of(kitchen: Kitchen, consumables: Articles) -> Articles:
    """Consumables together with the boards, upstands and cut-out templates of the kitchen's own catalogue, with
    every cut-out whose sizes and article were typed, and with every unit whose carcass is bought; a firm's article
    of the same code goes before that.
    """
    boards = {b.code: _board(b) for b in kitchen.catalogue.boards.values()}
    templates = {t.code: _template(t) for t in kitchen.catalogue.templates.values()}
    upstands = {u.code: _upstand(u) for u in kitchen.catalogue.upstands.values() if not u.of_top}
    slabs = {s.code: _slab(s) for s in kitchen.catalogue.stocks.values() if s.slab}
    splashbacks = {s.code: _splashback(s) for s in kitchen.catalogue.splashbacks.values()}
    typed = {c.template.code: _template(c.template) for c in kitchen.cutouts if not c.own}
    ready = {unit.article: _ready(unit) for unit in kitchen.units if unit.ready}
    return {**ready, **typed, **consumables, **boards, **templates, **upstands, **slabs, **splashbacks}


def _board(board: Board) -> Article:
    length, width = board.sheet
    return Article(
        code=board.code,
        name=board.name,
        unit="m2",
        pack=round(length * width * 1e-6, 6),
        pack_name=f"sheet of {length:g} × {width:g}",
        decor="front" if board.use == "front" else None,
    )


def _upstand(stock: UpstandStock) -> Article:
    """Bought in its longest length; what is longer is joined."""
    longest = max(stock.lengths)
    return Article(
        code=stock.code, name=stock.name, unit="m", pack=longest / 1000, pack_name=f"length of {longest:g} mm",
        pieces="joined", decor="worktop", kept=True,
    )  # fmt: skip


def _slab(stock: Stock) -> Article:
    """A slab, with the pieces that are made of it to the template request."""
    length, width = stock.slab or (0.0, 0.0)
    return Article(
        code=stock.code, name=stock.name, unit="m2", pack=round(length * width * 1e-6, 6),
        pack_name=f"slab of {length:g} × {width:g}", decor="worktop", to_size=True,
    )  # fmt: skip


def _splashback(stock: SplashbackStock) -> Article:
    """Tiles by the box; a panel by its area, made to the sizes and with the holes on its sheet."""
    if stock.kind == "tile":
        return Article(
            code=stock.code, name=stock.name, unit="each", pack=stock.box, pack_name=f"box of {stock.box}"
        )
    return Article(
        code=stock.code, name=stock.name, unit="m2", pack=0.01, pack_name="hundredth of a square metre",
        decor=None if stock.colour else "worktop", to_size=True, note="holes as on the sheet of splashbacks",
    )  # fmt: skip


def _ready(unit: PlacedUnit) -> Article:
    """Its carcass as one article, with what comes along said in its note."""
    ready = unit.ready or Ready()
    form = "flat-packed" if ready.flat else "rigid"
    along = ", ".join(word.replace("-", " ") for word in ready.comes_with) or "nothing"
    size = f"{unit.width:g} wide"
    if unit.off_grid:
        size += f", {unit.family.depth:g} deep, {unit.family.height:g} high"
    name = f"{unit.family.name} {size}, {form}"
    note = f"with its back and shelves; {along} come along"
    return Article(code=unit.article, name=name[:80], unit="each", note=note)


def _template(template: Template) -> Article:
    return Article(code=template.code, name=template.name, unit="each")
