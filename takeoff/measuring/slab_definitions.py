"""Slab definitions: the measures of tops that are made to measure, each with its dimension and what it is not."""

from __future__ import annotations

from countersunk.takeoff.measuring import slabs
from countersunk.takeoff.measuring.definitions import Measure

OF_SLABS = (
    Measure(
        "slab-pieces", "area", "slab piece",
        "Area of the rectangle round every piece of top and upstand that is cut from slabs to measure.",
        "Not the slabs: how many of these it takes comes with their plan. Cut-outs are not taken off.",
        slabs.slab_pieces, of_all_tops=True,
    ),
    Measure(
        "slab-edges", "length", "finished edge",
        "Length of every edge of tops made to measure that stays in view, front edges too, and of the upper edges "
        "of upstands.",
        "Not edges of cut-outs, which are finished with these, and not the short ends of upstands.",
        slabs.slab_edges, of_all_tops=True,
    ),
    Measure(
        "slab-cutouts", "count", "slab cut-out",
        "Every cut-out of tops made to measure, by how what goes in is set: inset, under, flush, or a hole.",
        "Not cut-outs that are cut here; see cutouts.",
        slabs.slab_cutouts, of_all_tops=True,
    ),
    Measure(
        "slab-grooves", "count", "grooved sink",
        "Sets of grooves milled beside sinks.",
        "Not the drainer of a sink itself.",
        slabs.slab_grooves, of_all_tops=True,
    ),
    Measure(
        "slab-seams", "length", "seam",
        "Length of every seam between tops made to measure.",
        "Not joints that are made here; see joins.",
        slabs.slab_seams, of_all_tops=True,
    ),
    Measure(
        "slab-makers", "count", "top maker",
        "Whoever makes tops to measure, once each.",
        "Not their visits: a rule says how many.",
        slabs.slab_makers, of_all_tops=True,
    ),
)  # fmt: skip
