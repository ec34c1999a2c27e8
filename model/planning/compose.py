"""Compose: a plan as an ordinary kitchen document, unit by unit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from countersunk.model.document.schema import Cutout, Document, Island, Returns, Run, Unit, Worktop
from countersunk.model.planning.arms import CELL, PANEL, TALLS, Arm, Side, tall_widths
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.fitting import fill
from countersunk.model.planning.hung import hung_runs
from countersunk.model.planning.plan import FILL, RoomPlan
from countersunk.model.survey import Survey
from countersunk.model.ties import settled

CORNER_WIDTH = 1_100.0
RETURNS: dict[tuple[bool, bool], Returns] = {
    (False, False): "none", (True, False): "left", (False, True): "right", (True, True): "both",
}  # fmt: skip
PANEL_CODE, TALL_PANEL_CODE = "end-panel", "tall-panel"


class ArmUnits(NamedTuple):
    """The units of an arm, what its sink and hob stand over by index, and where it begins along the wall (mm)."""

    run: Run
    over: dict[str, int]


def composed(brief: Brief, survey: Survey, plan: RoomPlan) -> Document:
    """The document of a plan: everything that the brief says, and runs and cut-outs in the place of its wishes."""
    rows = [_row(brief, plan, i) for i in range(len(plan.shape.arms))]
    over = {kind: name for i in range(len(rows)) for kind, name in _named(rows, i)}
    given = brief.model_dump(exclude_unset=True)
    given.pop("wishes", None)
    return Document(
        **{**given, "room": brief.room, "worktop": _worktop(brief), "fronts": brief.fronts},
        runs=(*(row.run for row in rows), *hung_runs(brief, survey, plan)),
        islands=tuple(_islands(plan)),
        cutouts=(Cutout(template=_sink(brief), over=over["sink"]), Cutout(template=_hob(brief), over=over["hob"])),
    )


def _worktop(brief: Brief) -> Worktop:
    """The brief's, with its joins placed by stock unless it says else: nothing is settled yet."""
    top = brief.worktop
    return top if "joins_by" in top.model_fields_set else top.model_copy(update={"joins_by": "stock"})


def _sink(brief: Brief) -> str:
    return f"sink.{brief.wishes.sink}"


def _hob(brief: Brief) -> str:
    return f"hob.{brief.wishes.hob.fuel}-{brief.wishes.hob.width // 10}"


def _named(rows: list[ArmUnits], i: int) -> Iterator[tuple[str, str]]:
    """The names of a row's sink and hob unit; numbers go on where an earlier row of its wall stopped."""
    row = rows[i]
    before = sum(len(r.run.units) for r in rows[:i] if r.run.wall == row.run.wall)
    yield from ((kind, f"{row.run.wall}{before + n + 1}") for kind, n in row.over.items())


def _islands(plan: RoomPlan) -> Iterator[Island]:
    """The shape's island, its fronts towards the row."""
    isle = plan.shape.island
    if isle:
        panel, drawers = Unit(unit=PANEL_CODE), [Unit(unit="base-drawers", width=w) for w in isle.widths]
        yield Island(
            name="Island", wall=isle.wall, along=isle.along, out=isle.out, stock=isle.stock,
            units=(panel, *drawers, panel), returns="both",
        )  # fmt: skip


def _row(brief: Brief, plan: RoomPlan, i: int) -> ArmUnits:
    """One arm from left to right."""
    arm, (lo, hi) = plan.shape.arms[i], plan.spans[i]
    left, right = list(_closing(arm, "left", lo == 0)), list(_closing(arm, "right", hi == arm.cells))
    units, over = _between(brief, plan, i)
    start = arm.at(lo) - _outside(arm, "left", lo == 0)
    returns = _returns(arm, lo > 0, hi < arm.cells)
    run = Run(
        wall=arm.wall.name, start=round(settled(start), 1), units=(*left, *units, *reversed(right)), returns=returns
    )
    return ArmUnits(run, {kind: n + len(left) for kind, n in over.items()})


def _returns(arm: Arm, left: bool, right: bool) -> Returns:
    """The ends at which the plinth turns back: those that stand free, also where a row stops before its end."""
    ends = (left or arm.left.kind == "open", right or arm.right.kind == "open")
    return RETURNS[ends]


def _closing(arm: Arm, side: Side, flush: bool) -> Iterator[Unit]:
    """What stands at an end of an arm, from the outside in."""
    end = arm.end(side)
    if end.talls:
        yield Unit(unit=TALL_PANEL_CODE)
        for tall in end.talls:
            yield Unit(unit=TALLS[tall][0], width=float(TALLS[tall][1]), hand=side)
        if end.talls[-1] == "fridge":
            yield Unit(unit=PANEL_CODE)
    if end.filler and flush:
        yield Unit(unit="filler", width=end.filler)
    elif end.kind == "corner-unit":
        yield Unit(unit="base-corner", width=CORNER_WIDTH, hand=side)
    elif not end.talls:
        yield Unit(unit=PANEL_CODE)


def _outside(arm: Arm, side: Side, flush: bool) -> float:
    """How much of what closes an end lies outside of the row's first or last cell, mm."""
    end = arm.end(side)
    filler = end.filler if flush else 0.0
    if end.talls:
        return filler + tall_widths(end.talls)
    return 0.0 if end.kind == "corner-unit" else filler or PANEL


def _between(brief: Brief, plan: RoomPlan, i: int) -> tuple[list[Unit], dict[str, int]]:
    """Sink, dishwasher and hob with plain units between, and where among them sink and hob are."""
    arm, (lo, hi) = plan.shape.arms[i], plan.spans[i]
    edge, end = lo + arm.corner_cells[0], hi - arm.corner_cells[1]
    blocks = [(*plan.sink_block, "sink")] * (plan.sink.arm == i) + [(*plan.hob_unit, "hob")] * (plan.hob.arm == i)
    units: list[Unit] = []
    over: dict[str, int] = {}
    last = ""
    for first, after, kind in sorted(blocks):
        units += _plain(first - edge, last, kind)
        wet = kind == "sink"
        over[kind] = len(units) + (wet and plan.sizes.dishwasher > 0 and plan.sink.side == "left")
        units += _sink_units(plan) if wet else [_hob_unit(brief, plan)]
        edge, last = after, kind
    return [*units, *_plain(end - edge, last, "")], over


def _plain(cells: int, left: str, right: str) -> list[Unit]:
    """Drawers, and doors where a unit is narrow or beside the sink; the widest next to the hob."""
    widths = fill(float(CELL * cells), FILL) or ()
    widths = tuple(sorted(widths, reverse=left == "hob" or right != "hob"))
    return [
        _plain_unit(w, n == 0 and left == "sink", n == len(widths) - 1 and right == "sink")
        for n, w in enumerate(widths)
    ]


def _plain_unit(width: float, after_sink: bool, before_sink: bool) -> Unit:
    if width <= 400 and (after_sink or before_sink):
        return Unit(unit="base-doors", width=width, hand="right" if after_sink else "left")
    return Unit(unit="base-drawers", width=width)


def _sink_units(plan: RoomPlan) -> list[Unit]:
    sink = [Unit(unit="base-sink", width=float(CELL * plan.sizes.sink))]
    if not plan.sizes.dishwasher:
        return sink
    washer = [Unit(unit="dishwasher", width=float(CELL * plan.sizes.dishwasher))]
    return washer + sink if plan.sink.side == "left" else sink + washer


def _hob_unit(brief: Brief, plan: RoomPlan) -> Unit:
    if brief.wishes.oven == "under-hob":
        return Unit(unit="base-oven")
    return Unit(unit="base-hob", width=float(CELL * plan.sizes.hob))
