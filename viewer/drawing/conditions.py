"""Conditions: the letter of every edge, and what must be done to it."""

from __future__ import annotations

from collections.abc import Iterable

from countersunk.model.geometry.part import Edge, EdgeCondition
from countersunk.model.kinds.top_materials import Edges
from countersunk.model.tops.joins import Join

LETTERS: dict[EdgeCondition, str] = {
    EdgeCondition.FACTORY: "F",
    EdgeCondition.WALL: "W",
    EdgeCondition.EXPOSED: "E",
    EdgeCondition.MITRED: "D",
    EdgeCondition.JOINT_FEMALE: "J",
    EdgeCondition.JOINT_MALE: "M",
    EdgeCondition.TALL: "T",
    EdgeCondition.CUTOUT: "C",
    EdgeCondition.CUTOUT_HEAT: "H",
}

WORK: dict[EdgeCondition, str] = {
    EdgeCondition.FACTORY: "nothing: it is sealed in the factory; leave its film on, keep it from knocks",
    EdgeCondition.WALL: "seal twice; scribe to the wall within 3; silicone on the top side only, after fitting",
    EdgeCondition.EXPOSED: "seal twice; edging strip, contact adhesive on both faces; trim and file flush",
    EdgeCondition.MITRED: "mitred to the end below by its maker; not cut in laminate here",
    EdgeCondition.JOINT_FEMALE: "seal twice; jointing compound, biscuits, bolts from below",
    EdgeCondition.JOINT_MALE: "seal twice; jointing compound, biscuits, bolts from below",
    EdgeCondition.TALL: "seal twice; silicone on the top side only, after fitting",
    EdgeCondition.CUTOUT: "seal twice, dabbed into the fibres; sealant under the rim when the sink is set",
    EdgeCondition.CUTOUT_HEAT: "seal twice, dabbed into the fibres; once dry, aluminium tape over it all round",
}
"""Common practice of the trade, no source; the 3 mm quoted. The maker's sheet of top and appliance goes first."""

BUTT: dict[EdgeCondition, str] = {
    EdgeCondition.JOINT_FEMALE: "a factory edge, not cut; the other length and its joint strip meet it, in sealant",
    EdgeCondition.JOINT_MALE: "seal twice; joint strip cut to length, screwed on, set in sealant",
}
"""What a butt join with a strip asks for instead (common practice, no source)."""


DENSE: dict[EdgeCondition, str] = {
    EdgeCondition.FACTORY: "nothing: finished by the maker; leave its film on, keep it from knocks",
    EdgeCondition.WALL: "no sealer; scribe to the wall within 3; silicone on the top side only, after fitting",
    EdgeCondition.EXPOSED: "no strip: eased, sanded and polished as the maker's sheet says",
    EdgeCondition.MITRED: "45° along a straight guide, arris whole; seam adhesive to the end below, clamped square",
    EdgeCondition.JOINT_FEMALE: "no sealer; dead straight and clean; seam adhesive, clamped, sanded flush",
    EdgeCondition.JOINT_MALE: "no sealer; dead straight and clean; seam adhesive, clamped, sanded flush",
    EdgeCondition.TALL: "no sealer; silicone on the top side only, after fitting",
    EdgeCondition.CUTOUT: "no sealer; eased and smoothed as the maker's sheet says; sealant when the sink is set",
    EdgeCondition.CUTOUT_HEAT: "eased and smoothed; heat tape and gap as the makers of top and hob say",
}
"""What solid and compact stock ask for instead (common practice, no source)."""

OILED: dict[EdgeCondition, str] = {
    EdgeCondition.FACTORY: "arris eased with fine paper; oiled with the face, coat by coat",
    EdgeCondition.WALL: "oil before fitting; leave the gap for movement open below, an upstand covers it",
    EdgeCondition.EXPOSED: "sand along the grain; end grain is oiled once more than the rest",
    EdgeCondition.MITRED: "45° along a straight guide; water-resistant glue and biscuits to the end below",
    EdgeCondition.JOINT_FEMALE: "dead straight and clean; no oil; water-resistant glue, as its sheet says",
    EdgeCondition.JOINT_MALE: "dead straight and clean; no oil; water-resistant glue, as its sheet says",
    EdgeCondition.TALL: "oil before fitting; silicone on the top side only, after fitting",
    EdgeCondition.CUTOUT: "sand and oil every coat, end grain once more; sealant when the sink is set",
    EdgeCondition.CUTOUT_HEAT: "sand and oil every coat; once dry, aluminium tape over it all round",
}
"""What wood asks for instead (common practice, no source)."""


TO_MEASURE: dict[EdgeCondition, str] = {
    EdgeCondition.FACTORY: "front: finished as the face is, arris eased",
    EdgeCondition.WALL: "to the wall as templated; no more gap than the upstand or a bead of silicone covers",
    EdgeCondition.EXPOSED: "in view: finished as the face is, arris eased",
    EdgeCondition.MITRED: "45° to the end that goes down to the floor; arris bonded, eased, veins run on",
    EdgeCondition.JOINT_FEMALE: "seam: straight, bonded on site in the colour of the top, flatted",
    EdgeCondition.JOINT_MALE: "seam: straight, bonded on site in the colour of the top, flatted",
    EdgeCondition.TALL: "square and clean; 2 to 3 to the tall unit, filled with silicone",
    EdgeCondition.CUTOUT: "by the sheet of what goes in; under a sink the edge is in view and finished",
    EdgeCondition.CUTOUT_HEAT: "by the hob's sheet, with its gap all round; no sharp inside corner",
}
"""What is asked of whoever makes a top to measure (common practice, no source)."""


def work(condition: EdgeCondition, joins: Iterable[Join], finish: Edges = "sealed") -> str:
    """What must be done to an edge of this condition on a length whose edges are finished so, with these joins."""
    if finish != "sealed":
        return (OILED if finish == "oiled" else DENSE)[condition]
    strips = {join.has_strip for join in joins}
    if condition in BUTT and strips == {True}:
        return BUTT[condition]
    if condition in BUTT and True in strips:
        return f"with bolts: {WORK[condition]}. With a strip: {BUTT[condition]}"
    return WORK[condition]


def by_condition(edges: Iterable[Edge]) -> dict[EdgeCondition, list[Edge]]:
    """The edges of each condition, in the order of the conditions; only those that there are."""
    found = list(edges)
    grouped = {c: [e for e in found if e.condition is c] for c in EdgeCondition}
    return {c: some for c, some in grouped.items() if some}
