"""Appliances: one row for each kind of appliance, which answers whatever depends on it.

A code that goes on after that of a row with a dot is of that kind: ``dishwasher.slim`` is a ``dishwasher``, and of
several rows the longest counts. A cooker's code ends in the fuel that it burns: ``cooker.range.gas``. Hobs
and sinks are cut-outs and not listed, except a sink that stands in its unit. A body with a shape of its own is made
in `model.units.appliance`, marked ``@looks("its-code")``. Sizes are common practice, no source: makers' sheets
decide.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from countersunk.model.document.fields import Supplied
from countersunk.model.kinds import is_of

Fuel = Literal["electric", "gas"]
"""What a hob is heated with."""
Opens = Literal["drops", "swings", "pulls"]

CONNECTIONS: dict[Fuel, str] = {"electric": "cooker-outlet", "gas": "gas"}
"""The kind of service that something needs that is cooked on, by its fuel."""


BURNS: dict[str, tuple[str, ...]] = {"gas": ("gas", "socket"), "dual": ("gas", "cooker-outlet")}
"""How the code of a cooker with a gas hob ends, and the services that it needs."""


class Clear(NamedTuple):
    """What a body leaves free of the place that it stands in, mm: at either side, behind it and above it."""

    beside: float = 2.0
    behind: float = 10.0
    above: float = 5.0


BODY = Clear()
"""Of a plain body."""


@dataclass(frozen=True)
class Appliance:
    """A kind of appliance, or one article of it. ``code`` is also that of the article which is bought.

    ``opens`` is how its door opens: one that ``drops`` is hinged below and comes out by its own height, one that
    ``swings`` is hinged at a side, and one that ``pulls`` comes out by ``reach`` (mm); nothing opens of what has
    none. ``is_hung`` says that its own door is as wide as it is and may be hung on either side, ``is_paired`` that
    it has two doors that meet in the middle. ``cooks_with`` is the fuel of a hob that it has on top. ``draws`` says
    that it draws off what rises from a hob under it. ``clear`` is what its body needs round it, ``services``
    are the kinds of connections it needs.
    """

    code: str
    opens: Opens | None = None
    reach: float = 0.0
    is_hung: bool = False
    is_paired: bool = False
    cooks_with: Fuel | None = None
    draws: bool = False
    clear: Clear = BODY
    services: tuple[str, ...] = ()

    def is_a(self, kind: str) -> bool:
        """Whether it is of a kind: ``fridge.under`` is a ``fridge``."""
        return is_of(self.code, kind)

    @property
    def comes_straight(self) -> bool:
        """Whether its door comes straight out over the floor before it: it drops or pulls."""
        return self.opens in ("drops", "pulls")

    def comes_out(self, height: float) -> float:
        """How far a door of that height (mm) that comes straight out stands before the front when open, mm."""
        return height if self.opens == "drops" else self.reach


COOKER = Appliance("cooker", "drops", cooks_with="electric", clear=Clear(above=0.0), services=("cooker-outlet",))
FRIDGE = Appliance("fridge", "swings", is_hung=True, clear=Clear(4.0, 30.0, 0.0), services=("socket",))
WIDE = Clear(5.0, 30.0, 0.0)
"""Of what stands in a place 10 wider than itself: makers of wide cookers ask 2 to 10 a side (quoted)."""

ROWS = (
    Appliance("oven", "drops", services=("cooker-outlet",)),
    Appliance("warming-drawer", "pulls", reach=400.0, services=("socket",)),
    Appliance("microwave", services=("socket",)),
    Appliance("microwave.combi", "drops", services=("cooker-outlet",)),
    Appliance("microwave.over-range", draws=True, clear=Clear(1.0, 0.0, 0.0), services=("socket", "flue")),
    Appliance("dishwasher", "drops", services=("water", "waste", "socket")),
    Appliance("washer", "swings", clear=Clear(above=10.0), services=("water", "waste", "socket")),
    Appliance("dryer", "swings", clear=Clear(above=10.0), services=("socket",)),
    FRIDGE,
    replace(FRIDGE, code="fridge.side-by-side", is_hung=False, is_paired=True, clear=WIDE),
    replace(FRIDGE, code="fridge.french", is_hung=False, is_paired=True, clear=WIDE),
    replace(FRIDGE, code="freezer"),
    replace(FRIDGE, code="wine-cooler", clear=Clear(above=5.0)),
    COOKER,
    replace(COOKER, code="cooker.range", clear=Clear(5.0, 10.0, 0.0)),
    Appliance("hood", draws=True, clear=Clear(1.0, 0.0, 0.0), services=("socket", "flue")),
    Appliance("sink", services=("water", "waste")),
    Appliance("boiler", clear=Clear(5.0, 0.0, 0.0), services=("water", "waste", "gas", "flue", "socket")),
)

PLAIN = Appliance("")
"""Of which no row says anything."""

APPLIANCES: dict[str, Appliance] = {row.code: row for row in ROWS}
"""By its code."""


def appliance_of(code: str) -> Appliance:
    """The appliance of a code: by its own row, else that of what stands before its last dots, else as `PLAIN`.

    A hob on top burns gas where the code ends in a fuel of `BURNS`.
    """
    parts = code.split(".")
    heads = (".".join(parts[:n]) for n in range(len(parts), 0, -1))
    row = next((APPLIANCES[head] for head in heads if head in APPLIANCES), PLAIN)
    if row.cooks_with and parts[-1] in BURNS:
        return replace(row, code=code, cooks_with="gas", services=BURNS[parts[-1]])
    return replace(row, code=code)


def supplied(code: str, fuel: Supplied) -> str:
    """The code of a cooker for another fuel.

    >>> supplied("cooker.range", "dual"), supplied("cooker.gas", "electric")
    ('cooker.range.dual', 'cooker')
    """
    head, _, last = code.rpartition(".")
    bare = head if last in BURNS else code
    return bare if fuel == "electric" else f"{bare}.{fuel}"
