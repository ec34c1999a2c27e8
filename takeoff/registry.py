"""Registry: every measure with its name, dimension, definition, and what it is not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from model.kitchen import Kitchen
from takeoff import fittings, measures, unit_measures
from takeoff.measures import Share
from takeoff.units import Dimension


@dataclass(frozen=True)
class Measure:
    """A measure as rules name it. ``noun`` is one of the things that it gives shares of (plural with s)."""

    name: str
    dimension: Dimension
    noun: str
    definition: str
    is_not: str
    take: Callable[[Kitchen], Iterator[Share]]


MEASURES: dict[str, Measure] = {
    m.name: m
    for m in (
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
            "wall-edges", "length", "wall edge",
            "Length of every edge of the worktops against a wall.",
            "Not edges against tall units, and not the joint between wall and wall panel.",
            measures.wall_edges,
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
            "Not the back or the front as they are bought, and no second cut to clean an edge.",
            measures.sawn_edges,
        ),
        Measure(
            "upstands", "length", "upstand",
            "Length of every upstand and splashback that stands on a top.",
            "Not the joint of the top to the wall, and no allowance for its ends.",
            measures.upstands,
        ),
        Measure(
            "bolted-joins", "length", "bolted joint",
            "Length of every joint that bolts draw together, mitred or in line, along the joint.",
            "Not joints that a strip closes or that are bonded; see strip-joins and bonded-joins.",
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
            measures.let_in,
        ),
        Measure(
            "taps", "count", "tap",
            "Taps of the sinks that take one.",
            "Not supply hoses, traps or valves.",
            measures.taps,
        ),
        Measure(
            "sinks", "count", "sink",
            "Sinks let into the worktops, the customer's own among them.",
            "Not bowls: a second bowl may ask for a trap of its own. Not the waste of a dishwasher.",
            measures.sinks,
        ),
        Measure(
            "board-mass", "mass", "board",
            "Mass of the boards of units, fronts, plinths and panels, from their density.",
            "Not hardware, packing or offcuts.",
            unit_measures.board_mass,
        ),
        Measure(
            "board-outlines", "length", "board",
            "Outline of every board of units, fronts, fillers and panels.",
            "Not the length sawn: two boards that lie side by side on a sheet share a cut.",
            unit_measures.board_outlines,
        ),
        Measure(
            "board-area", "area", "board",
            "Net area of the boards of units, fronts, fillers and panels.",
            "Not worktops, not plinths, no waste; not how the boards lie on a sheet.",
            unit_measures.board_area,
        ),
        Measure(
            "banded-edges", "length", "banded edge",
            "Length of the edges of boards that get edge band.",
            "Not the strip for worktops, and no overhang for trimming.",
            unit_measures.banded_edges,
        ),
        Measure(
            "plinths", "length", "plinth",
            "Length of the plinths before the units, with the returns that runs ask for.",
            "Not scribes at a wall.",
            unit_measures.plinths,
        ),
        Measure(
            "flat-rails", "length", "flat rail",
            "Length of the rails that lie flat under a worktop.",
            "Not rails on edge, and not panels, fillers or appliances, which carry no screw.",
            unit_measures.flat_rails,
        ),
        Measure(
            "edge-rails", "length", "rail on edge",
            "Length of the rails that stand on edge under a worktop.",
            "Not flat rails; a screw from below cannot pass through these.",
            unit_measures.edge_rails,
        ),
        Measure(
            "carcass-joints", "length", "board between sides",
            "Depth of every board that ends on both sides of a carcass.",
            "Not backs, loose shelves or drawers.",
            unit_measures.carcass_joints,
        ),
        Measure(
            "drawer-joints", "length", "board between sides of a drawer",
            "Height of every front and back of a drawer's box.",
            "Not the drawer's face; see drawers.",
            unit_measures.drawer_joints,
        ),
        Measure(
            "back-panels", "length", "back",
            "Outline of every back of a carcass.",
            "Not the back of an island, which hides the units from outside.",
            unit_measures.back_panels,
        ),
        Measure(
            "unit-joints", "length", "unit joint",
            "Height of every pair of neighbours of which at least one is a carcass.",
            "Not appliances, which stand free between units.",
            unit_measures.unit_joints,
        ),
        Measure(
            "doors", "length", "door",
            "Height of every door that hangs on hinges of a carcass.",
            "Not the front of an integrated appliance, which hangs on the appliance.",
            unit_measures.doors,
        ),
        Measure(
            "drawers", "count", "drawer",
            "Drawers.",
            "Not the fixed fronts under an oven.",
            unit_measures.drawers,
        ),
        Measure(
            "leaves", "length", "folding leaf",
            "Height of every leaf that hangs on another door.",
            "Not the door that it hangs on; see doors.",
            fittings.leaves,
        ),
        Measure(
            "panes", "area", "pane",
            "Area of the panes in glazed doors, as they show.",
            "Not what a groove or bead hides of them.",
            fittings.panes,
        ),
        Measure(
            "pull-outs", "count", "pull-out", "Frames of pull-outs.", "Not their baskets.", fittings.pull_outs
        ),
        Measure("baskets", "count", "basket", "Baskets of pull-outs.", "Not drawers.", fittings.baskets),
        Measure(
            "posts", "count", "post", "Posts that carry a worktop.", "Not the legs of units.", fittings.posts
        ),
        Measure(
            "infills", "count", "infill",
            "Infills of worktop before diagonal corner units.",
            "Not lengths of top, and not the joints along them.",
            fittings.infills,
        ),
        Measure(
            "wall-trims", "length", "cornice or pelmet",
            "Length of the cornices and light pelmets along their longer edge, returns included.",
            "Not plinths; see plinths.",
            fittings.wall_trims,
        ),
        Measure("handles", "count", "handle", "Handles.", "Not the grips of appliances.", unit_measures.handles),
        Measure("legs", "count", "leg", "Legs of floor units.", "Not the feet of appliances.", unit_measures.legs),
        Measure(
            "loose-shelves", "count", "loose shelf",
            "Shelves that lie on pins.",
            "Not the fixed shelf that carries an oven.",
            unit_measures.loose_shelves,
        ),
        Measure(
            "appliances", "count", "appliance",
            "Appliances in or between units, and hoods.",
            "Not hobs, which are cut-outs.",
            fittings.appliances,
        ),
        Measure(
            "units-placed", "count", "floor unit",
            "Units, fillers and panels that stand on the floor.",
            "Not appliances.",
            unit_measures.units_placed,
        ),
        Measure(
            "units-at-wall", "count", "unit at a wall",
            "Carcasses that stand on the floor before a wall.",
            "Not islands, fillers, panels or appliances.",
            unit_measures.units_at_wall,
        ),
        Measure(
            "hung-widths", "length", "wall unit",
            "Width of every unit that hangs on a wall.",
            "Not hoods.",
            unit_measures.hung_widths,
        ),
        Measure(
            "units-hung", "count", "wall unit",
            "Units that hang on a wall.",
            "Not hoods, and not fillers or panels between wall units.",
            unit_measures.units_hung,
        ),
        Measure(
            "lengths-laid", "count", "length of worktop",
            "Lengths of worktop.",
            "Not their extent; see worktop-lengths.",
            unit_measures.lengths_laid,
        ),
        Measure("walls", "count", "wall", "Walls surveyed.", "Not partitions of an island.", unit_measures.walls),
        Measure(
            "runs", "count", "run",
            "Runs of units on floor or wall, and islands.",
            "Not lengths of worktop.",
            unit_measures.runs,
        ),
    )
}  # fmt: skip


def measured(kitchen: Kitchen) -> dict[str, tuple[Share, ...]]:
    """Every measure of ``kitchen``, each taken once."""
    return {name: tuple(measure.take(kitchen)) for name, measure in MEASURES.items()}
