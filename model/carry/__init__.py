"""Carry: whether a piece of worktop can be brought into the kitchen, and by which way of holding it.

shadows    a piece as it is held: its plan and its height      way        the way in: straights joined by turns
headings   clearances at every heading, and paths of headings  passage    a held piece followed along the way

*Way in*: doors, corridors, lifts, windows, hoists, stairs and turns in the order in which a piece meets them, from
outside to the kitchen. *Straight*: those in line between two turns. *Shadow*: the convex plan of a piece as it is
held. *Heading*: how far the shadow is turned in the world's plan. *Margin*: what is left at the tightest place, in
mm, after the hand room on every side; negative where the piece does not pass.

Exact, for a piece that is convex and held one way throughout: doors and corridors in line, turns between corridors
that are longer than the piece, carrying sideways through a turn without turning.

On the safe side, so that a *no* may be too strict: a piece that is not convex counts as its hull; a corridor whose
given length is less than the piece counts as no wider than the narrowest in line with it; so does a door at a turn,
unless there is floor beyond it to slip through at a slant, without turning; nobody changes the way of holding, nor
how far an end is up, between outside and the kitchen.

A lift car is a *box*, in which the whole piece lies as it came in, without turning in there; so are a hoist's
platform and a corridor with a length that ends the way. A window is passed as a door is. A straight flight of
stairs is a corridor along its slope; of winding stairs a *no* for width or height is sure, and a *yes* is not
proven.

Taken for granted: a corridor without a length is long enough; doors in line stand behind one another; the outer
walls of a turn run on until they meet; outside, and in the kitchen straight behind its door, there is room for the
piece and height to raise it and lay it down. Not looked at: the landings of stairs, slopes, furniture, who lifts
it.
"""

from countersunk.model.carry.passage import Passage, each_way, longest, margins_by_stage, passes, surely_not
from countersunk.model.carry.shadows import Way
from countersunk.model.carry.way import way_in

__all__ = ["Passage", "Way", "each_way", "longest", "margins_by_stage", "passes", "surely_not", "way_in"]
