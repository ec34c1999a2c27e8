"""Definitions: the measures of worktops, joins and cut-outs, each with its dimension and what it is not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring import fittings, measures, splashes
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.stock.units import Dimension


@dataclass(frozen=True)
class Measure:
    """A measure as rules name it. ``noun`` is one of the things that it gives shares of (plural with s).

    ``of_boards``: it finds nothing of boards that come with a carcass that is bought, since nobody saws or joins
    them. Most find nothing of tops that a mason or fabricator makes to measure, unless they are ``of_all_tops``.
    """

    name: str
    dimension: Dimension
    noun: str
    definition: str
    is_not: str
    take: Callable[[Kitchen], Iterator[Share]]
    of_boards: bool = False
    of_all_tops: bool = False


OF_WORKTOPS = (
    Measure(
        "worktop-lengths", "length", "length of worktop",
        "Extent of each length of worktop along its run, the longer edge where an end is at an angle.",
        "Not what is bought: stock lengths, trim and saw cuts come with the worktop plan.",
        measures.worktop_lengths,
    ),
    Measure(
        "worktop-mass", "mass", "length of worktop",
        "Mass of each length with its cut-outs taken out, from the stock's density.",
        "Not the mass as delivered, and not a safe load: it only says which length needs more people.",
        measures.worktop_mass,
    ),
    Measure(
        "raw-edges", "area", "raw edge",
        "Face of every edge of the worktops that is not formed by the factory: length times thickness.",
        "Not the underside or the decor, and not the edges of carcass boards.",
        measures.raw_edges,
    ),
    Measure(
        "exposed-faces", "area", "exposed edge",
        "Face of every edge of the worktops that stays in view: length times thickness.",
        "Not the strip itself; see exposed-edges.",
        measures.exposed_faces,
    ),
    Measure(
        "exposed-edges", "length", "exposed edge",
        "Length of every edge of the worktops that stays in view.",
        "Not factory edges, and no allowance for trimming.",
        measures.exposed_edges,
    ),
    Measure(
        "polished-edges", "length", "polished edge",
        "Length of every edge of compact or solid worktops that stays in view.",
        "Not edges that get a strip, and not those of cut-outs, which are finished with the cut-out.",
        measures.polished_edges,
    ),
    Measure(
        "oiled-faces", "area", "oiled top",
        "Every face of each worktop of wood: both sides and every edge, as it is cut.",
        "Not tops that are polished or sealed.",
        measures.oiled_faces,
    ),
    Measure(
        "wall-edges", "length", "wall edge",
        "Length of every edge of the worktops against a wall on which no upstand or splashback stands.",
        "Not a joint that one of them hides, not edges against tall units, and not the joint of a wall panel.",
        splashes.wall_edges,
    ),
    Measure(
        "tall-edges", "length", "edge at a tall unit",
        "Length of every edge of the worktops against the side of a tall unit.",
        "Not edges against a wall; see wall-edges.",
        measures.tall_edges,
    ),
    Measure(
        "heat-edges", "length", "edge at heat",
        "Length of the line of every cut-out for a hob.",
        "Not the hob's rim.",
        measures.heat_edges,
    ),
    Measure(
        "sink-rims", "length", "sink rim",
        "Length of the outline of every sink's rim.",
        "Not the line to cut, which is shorter.",
        measures.sink_rims,
    ),
    Measure(
        "sawn-edges", "length", "sawn edge",
        "Length of every edge of the worktops that is sawn for this kitchen: ends, joins, cut-outs.",
        "Not the back or the front as they are bought, and no second cut to clean an edge, nor "
        "the back of a length that a plan rips from a deeper stock.",
        measures.sawn_edges,
    ),
    Measure(
        "upstands", "length", "upstand",
        "Length of every upstand and splashback that stands on a top.",
        "Not the joint of the top to the wall, and no allowance for its ends.",
        measures.upstands,
    ),
    Measure(
        "upstand-mass", "mass", "upstand",
        "Mass of the upstands and splashbacks, from their density.",
        "Not the tops that they stand on; see worktop-mass.",
        fittings.upstand_mass,
    ),
    Measure(
        "bolted-joins", "length", "bolted joint",
        "Length of every joint that bolts draw together, mitred or in line, along the joint.",
        "Not joints that a strip closes or that are glued; see strip-joins, bonded-joins and wood-joins.",
        measures.bolted_joins,
    ),
    Measure(
        "strip-joins", "length", "joint with a strip",
        "Length of every joint that a joint strip closes: butted in a corner, or of a peninsula.",
        "Not joints that are bolted or bonded; see bolted-joins and bonded-joins.",
        measures.strip_joins,
    ),
    Measure(
        "bonded-joins", "area", "bonded joint",
        "Face of every joint of solid or compact tops that is glued edge to edge: length times thickness.",
        "Not joints of particleboard, and not what is bonded below them to support the seam.",
        measures.bonded_joins,
    ),
    Measure(
        "wood-joins", "area", "glued joint of wood",
        "Face of every joint of tops of wood that is glued edge to edge: length times thickness.",
        "Not seams of solid or compact tops; see bonded-joins.",
        measures.wood_joins,
    ),
    Measure(
        "joint-bolts", "count", "bolted joint",
        "Bolts of the bolted joints, by the length of each joint.",
        "Not bolts for joints that a strip closes.",
        measures.joint_bolts,
    ),
    Measure(
        "joint-biscuits", "count", "bolted joint",
        "Biscuits of the bolted joints, by the length of each joint.",
        "Not biscuits for joints that a strip closes.",
        measures.joint_biscuits,
    ),
    Measure(
        "joins", "count", "join",
        "Joins of worktops, of every kind.",
        "Not joints between units.",
        measures.joins,
    ),
    Measure(
        "cutouts", "count", "cut-out",
        "Every cut-out of the worktops: sinks, hobs, tap holes, switches and sockets.",
        "Not a tap's hole in the sink itself.",
        measures.cutouts,
    ),
    Measure(
        "let-in", "count", "article",
        "What is let into the worktops and ordered, by its article.",
        "Not what was typed as plain numbers: the customer has it.",
        measures.let_in, of_all_tops=True,
    ),
    Measure(
        "taps", "count", "tap",
        "Taps of the sinks that take one.",
        "Not supply hoses, traps or valves.",
        measures.taps, of_all_tops=True,
    ),
    Measure(
        "sinks", "count", "sink",
        "Sinks let into the worktops, the customer's own among them.",
        "Not bowls: a second bowl may ask for a trap of its own. Not the waste of a dishwasher.",
        measures.sinks, of_all_tops=True,
    ),
    Measure(
        "infills", "count", "infill",
        "Infills of worktop before diagonal corner units.",
        "Not lengths of top, and not the joints along them.",
        fittings.infills,
    ),
    Measure(
        "waterfalls", "count", "waterfall end",
        "Ends of tops that go down to the floor, where the tops are cut here; the piece is bought to size.",
        "Not those of tops made to measure, which are pieces of their slabs; see slab-pieces.",
        fittings.waterfalls,
    ),
    Measure(
        "infill-mass", "mass", "infill",
        "Mass of the infills, from the density of their worktop.",
        "Not lengths of top; see worktop-mass.",
        fittings.infill_mass,
    ),
)  # fmt: skip
