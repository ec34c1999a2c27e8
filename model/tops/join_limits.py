"""Join limits: why a plan of joins cannot be had, because of what lies under a join, near it, or the way in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from countersunk.model.carry import passes
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.stages import Stage
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import settled
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS, CLEAR_OF_SIDES, SHORTEST
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length

BARELY = 1.0
"""A join this far beside a unit still lies on its side, mm."""


def objections(
    lengths: Sequence[Length],
    joins: Sequence[Join],
    cutouts: Sequence[PlacedCutout],
    access: Sequence[Stage],
    allowances: Allowances,
) -> Iterator[str]:
    """Everything that speaks against the joins: what no fitter would do, then pieces that cannot be brought in."""
    by_id = {length.id: length for length in lengths}
    for join in joins:
        yield from _against(join, (by_id[join.female], by_id[join.male]), cutouts)
    for length in lengths if access else ():
        part = length.part
        passage = passes(part.outline, part.thickness, access, allowances)
        if not passage.ok:
            size = settled(part.length)
            yield f"{length.id}, {size:.0f} long, cannot be carried in: {passage.sentence}"


def short(halves: Sequence[Length]) -> Iterator[str]:
    """The pieces at a join that are hard to hold, to cut and to bear."""
    lengths = {half.id: settled(half.part.length) for half in halves}
    yield from (f"{id_} is {length:.0f} long" for id_, length in lengths.items() if length < SHORTEST)


def near_cutouts(join: Join, cutouts: Sequence[PlacedCutout]) -> Iterator[tuple[str, float]]:
    """Every cut-out of either half with the distance of its line from the joint, mm."""
    for cutout in cutouts:
        if cutout.length in (join.female, join.male):
            yield cutout.name, settled(cutout.line_in_room.distance(join.line))


def _against(join: Join, halves: Sequence[Length], cutouts: Sequence[PlacedCutout]) -> Iterator[str]:
    """What no fitter would do: a join over an appliance, over nothing, hard by a cut-out, or for a short piece."""
    if join.kind == "in line":
        borne = [u for half in halves for u in half.stretch.units if u.x - BARELY < join.at < u.right + BARELY]
        for unit in borne:
            if not unit.family.kind.bears_join:
                yield f"{join.id} lies over {unit.name}, {unit.family.name}, which does not bear it"
            elif (side := _from_side(join, unit)) < CLEAR_OF_SIDES:
                yield f"{join.id} lies {side:.0f} from the side of {unit.name}; at least {CLEAR_OF_SIDES:g}"
        if not borne:
            yield f"{join.id} lies over no unit that bears it"
        yield from (f"{piece}, in line with another; at least {SHORTEST:g}" for piece in short(halves))
    for name, distance in near_cutouts(join, cutouts):
        if distance < CLEAR_OF_CUTOUTS[1]:
            yield f"{join.id} lies {distance:.0f} from the line of {name}; at least {CLEAR_OF_CUTOUTS[1]:g}"


def _from_side(join: Join, unit: PlacedUnit) -> float:
    """From the nearer side of a unit to a join over it, mm; to one in line."""
    return settled(min(abs(join.at - unit.x), abs(unit.right - join.at)))
