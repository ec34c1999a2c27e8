"""Cutting: pieces from lengths and panels from sheets, with a bound below which no plan can cost.

Terms. A *piece* is what is wanted, a *stock* what can be bought, a *cut* a piece in its place on a stock. The *saw*
takes its kerf between pieces and the trim from every end. A plan is *proven* where its cost is its lower bound.
Nothing here knows what a kitchen is; every size is a whole number of steps.

values      pieces, stocks, cuts, plans           verify     whether a plan can be sawn, independently
bars        lengths: column generation and proof  knapsack   which counts fit, exactly
greedy      a plan at once, and a bound           master     the integer programme over patterns
clock       steps counted, time limited
sheets      panels: search until the bound        area       the bound
scales      how much a sheet can hold at most
packer      on which sheet each panel goes        recipes    which packings are tried and kept
best_value  the most valuable part of a list      promise    what a rectangle could be worth
wasteless   sheets filled to the last corner
sawing      cuts in their order, and offcuts
effort      what ripping costs, and rests are worth
edged       pieces with a finished front             stretches  the least length that a set of them takes
verify_edged  whether such a plan can be sawn, independently
"""

from countersunk.takeoff.cutting.bars import cut_lengths
from countersunk.takeoff.cutting.best_value import Valued, best_value
from countersunk.takeoff.cutting.edged import cut_edged
from countersunk.takeoff.cutting.effort import Effort, rests, ripped
from countersunk.takeoff.cutting.sawing import CutLine, Rest, Sawn, sawn
from countersunk.takeoff.cutting.sheets import cut_sheets
from countersunk.takeoff.cutting.stretches import Blank, can_hold
from countersunk.takeoff.cutting.values import Blade, Cut, CutPiece, CutPlan, CutStock, Used, fits
from countersunk.takeoff.cutting.verify import faults, faults_of_one
from countersunk.takeoff.cutting.verify_edged import faults_of_edged

__all__ = [
    "Blade",
    "Blank",
    "Cut",
    "CutLine",
    "CutPiece",
    "CutPlan",
    "CutStock",
    "Effort",
    "Rest",
    "Sawn",
    "Used",
    "Valued",
    "best_value",
    "can_hold",
    "cut_edged",
    "cut_lengths",
    "cut_sheets",
    "faults",
    "faults_of_edged",
    "faults_of_one",
    "fits",
    "rests",
    "ripped",
    "sawn",
]  # fmt: skip
